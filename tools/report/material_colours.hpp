#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/oklab.hpp"

namespace coldbay {

/// The materials of a section as a legend lists them: those that read the same are one.
struct MaterialGroup {
  std::string name;
  double conductivity = 0.0;    ///< [W/(m K)]
  bool by_temperature = false;  ///< that is the conductivity at 10 degC, one of a law
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
