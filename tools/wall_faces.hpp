#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "geometry/wall/faults.hpp"
#include "geometry/wall/pieces.hpp"
#include "solver/air_loops/loop_estimate.hpp"
#include "solver/block/wall_face.hpp"
#include "solver/results/normal_pattern.hpp"
#include "tools/input/case.hpp"

namespace coldbay {

/// What one bay loses for its faults, from the floor to the top, with what they draw through sound bays
/// beside it.
struct BayCost {
  std::size_t index = 0;  ///< of the bay
  std::string bay;        ///< "bay 2"
  std::vector<Fault> faults;
  bool in_some_section = false;  ///< of the case: where it is in none, sections do not tell its cost
  double extra = 0.0;            ///< through the room face, as built less built right [W/K]
  double uncertainty = 0.0;      ///< of that, from the grids of both faces, at most [W/K]
  double share = 0.0;            ///< of what the bay with half of either post loses built right
  double furthest = 0.0;         ///< of its face, as built less built right, where that is most [K]
  double furthest_across = 0.0, furthest_up = 0.0;  ///< where [m]
};

/// The face of a case's wall, as built and, where anything is wrong with it, built right.
struct WallFaces {
  BuiltWall wall;
  /// Of each bay; none where what would be right is not known, for nothing is compared with it.
  std::vector<std::vector<Fault>> faults;
  std::vector<std::string> not_compared;  ///< those bays: "bay 3"
  WallFace built;
  std::optional<WallFace> right;
  /// Of the bays that have faults; empty where something held gives or takes heat, for then the heat through
  /// the room face is not all there is.
  std::vector<BayCost> costs;
  std::optional<WallFace> still = {};                   ///< as built with still air, where air loops in it
  std::vector<std::optional<LoopEstimate>> loops = {};  ///< by bay, where its fill has air on a face
};

/// Where two faces differ most within a stretch, looked at in the middle of every cell of the first.
struct Furthest {
  double kelvin = 0.0;  ///< the first less the second
  double across = 0.0, up = 0.0;
};
Furthest furthest_apart(const FaceMap& built, const FaceMap& right, Span across);

/// Reads a case that must have a wall, and tells of its warnings. Throws InputErrors where it has none.
Case read_wall_case(const SourceText& source, const Library& library);

/// Solves both, and says which it is at. The case must have a wall.
WallFaces solve_faces(const Case& c, const FaceAccuracy& accuracy,
                      const std::function<void(const std::string&)>& progress);

/// A face without what it has from a room that is warmer above than below: as if the air were as warm
/// everywhere as the case says of the room, to first order.
FaceMap before_even_air(FaceMap face, const Surroundings& air);

/// Both faces between the case's airs, as if those were even; a wall built right is its own pair.
FacePair face_pair(const Case& c, const WallFaces& faces);

}  // namespace coldbay
