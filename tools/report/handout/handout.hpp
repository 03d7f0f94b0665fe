#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/wall/bay_section.hpp"
#include "solver/results/visibility.hpp"
#include "tools/input/case.hpp"
#include "tools/report/palette.hpp"
#include "tools/report/result_json.hpp"
#include "tools/wall_faces.hpp"

namespace coldbay {

/// One page: what is wrong with one bay, or with several that are alike.
struct FaultPage {
  std::string id;                 ///< "wall-1-bay-2", unique in the handout
  std::vector<std::size_t> bays;  ///< the bays it is about, left to right; the first is shown
  std::vector<Fault> faults;
  std::optional<BaySection> section;  ///< empty where the bay cannot be cut
  std::optional<BayCost> cost;        ///< of the first; empty where a pipe gives or takes heat
  std::optional<Visibility> seen;     ///< in the camera; empty where inside and outside are equally warm
  double furthest = 0.0;              ///< of the face, as built less built right, where that is most [K]
};

/// By heat where it is known, else by how far the face is off.
bool costlier(const FaultPage& a, const FaultPage& b);

/// One case of a handout, solved.
struct HandoutWall {
  std::string id;  ///< "wall-1"
  Case c;
  Provenance provenance;
  WallFaces faces;
  Sight sight;
  std::optional<NormalPattern> normal;
  std::vector<FaultPage> pages;  ///< the costliest first
};

enum class Paper { a4, letter };

/// How a handout is to look.
struct HandoutStyle {
  Palette palette = Palette::hearth;
  std::optional<Paper> paper;  ///< empty: Letter for a wall in inches, A4 for any other
  double within = 0.3;         ///< how sure the faces are asked to be [K]
};

}  // namespace coldbay
