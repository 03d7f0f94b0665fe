#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "solver/results/surface.hpp"
#include "tools/input/case.hpp"
#include "tools/outcome.hpp"

namespace coldbay {

/// A number and how far off it may be, either way: what the grids leave unsure, no more.
struct Sure {
  double value = 0.0, within = 0.0;
};

/// The first less the second; their uncertainties add up, for nothing says that they cancel.
struct SureDifference {
  double value = 0.0, within = 0.0;
  bool equal = false;  ///< no further apart than that
};
SureDifference difference_of(const Sure& a, const Sure& b);

/// A section of one case.
struct SideSection {
  std::string name;  ///< "plan at 48 in"; empty for a drawn one
  CutKind cut = CutKind::plan;
  double width = 0.0;     ///< of its face [m]
  std::optional<Sure> u;  ///< [W/(m2 K)]
  Sure heat;              ///< through the room face [W/m]
  Sure coldest;           ///< of the room face [degC]
  std::optional<Sure> factor;
  SurfaceProfile face;
};

/// One of the cases that stand side by side.
struct SideCase {
  std::string name;  ///< of its file
  std::string title, sha256;
  double inside = 0.0, outside = 0.0;  ///< airs [degC]
  std::vector<SideSection> sections;
  std::size_t leading = 0;      ///< the first section with a U, or the first
  std::optional<Sure> wall_u;   ///< whole wall as built; as sure as the least sure of its sections [W/(m2 K)]
  std::optional<double> extra;  ///< of the whole wall, as built less built right [W/K]
  bool reached = true;          ///< the accuracy, in every section
};

/// The case solved, as one to stand beside others. At least one section.
SideCase side_case(const Case& c, const Outcomes& outcomes, std::string name, std::string sha256);

/// What the cases are ranked by: the U of the whole wall where all have one, else that of the leading
/// sections, else their heat flow.
enum class RankedBy { wall_u, section_u, heat_flow };

/// Cases in rising order of what they are ranked by.
struct SideBySide {
  UnitSystem units = UnitSystem::metric;  ///< of the first case
  RankedBy by = RankedBy::wall_u;
  bool same_airs = true;
  std::vector<SideCase> cases;
  std::vector<std::size_t> ranks;  ///< 1 and as many more as are surely less: those that are equal share one
};
SideBySide side_by_side(std::vector<SideCase> cases, UnitSystem units);

/// What one of them is ranked by.
Sure ranked_value(const SideBySide& all, std::size_t i);

}  // namespace coldbay
