#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/oklab.hpp"

namespace coldbay {

/// The materials of a section as a legend lists them: those of one name are one.
struct MaterialGroup {
  std::string name;
  double lowest = 0.0, highest = 0.0;  ///< conductivity [W/(m K)]: a batt squeezed in steps has several
  bool by_temperature = false;         ///< those are conductivities at 10 degC, of a law
  bool is_air_space = false;
  Rgb colour{};
};

struct MaterialGroups {
  std::vector<MaterialGroup> group;  ///< in the order in which the section names them
  std::vector<int> group_of;         ///< per material of the section
};

/// Colours say how well a material conducts: insulation is pale, metal dark, so that a grey print
/// still shows where the heat goes. Hues only tell materials of like conductivity apart; they follow
/// the order in the section, so that cuts of one case agree. Air spaces are nearly white, and are
/// hatched by whoever draws them.
MaterialGroups material_groups(const Section& section);

/// The colour of the n-th solid material.
Rgb material_colour(std::size_t n, double conductivity);

}  // namespace coldbay
