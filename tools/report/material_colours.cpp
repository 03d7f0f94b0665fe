#include "tools/report/material_colours.hpp"

#include <algorithm>
#include <cmath>

namespace coldbay {
namespace {

bool read_the_same(const MaterialGroup& group, const Material& material) {
  return group.name == material.name && group.is_air_space == material.is_air_space &&
         (group.is_air_space || group.conductivity == material.conductivity);
}

}  // namespace

Rgb material_colour(std::size_t n, double conductivity) {
  // From L 0.90 at 0.02 W/mK down by 0.115 a decade: aluminium (about 200) ends at L 0.44, still
  // lighter than the outlines.
  const double decades = std::log10(std::clamp(conductivity, 0.02, 400.0) / 0.02);
  // Steps of 3 fourteenths round the circle visit all fourteen hues and set the first few far apart.
  // Neighbours in hue, of which one is odd and one even, differ in lightness too.
  constexpr int n_hues = 14;
  const auto place = static_cast<int>((3 * n) % n_hues);
  const double hue = 80.0 + 360.0 / n_hues * place;
  const double parity = place % 2 == 0 ? 0.03 : -0.03;
  const double round = 0.06 * static_cast<double>((n / n_hues) % 3);
  return rgb_from_lch(0.90 - 0.115 * decades + parity - round, 0.05, hue);
}

MaterialGroups material_groups(const Section& section) {
  MaterialGroups all;
  std::size_t n_solid = 0;
  for (const Material& material : section.materials) {
    auto found = std::find_if(all.group.begin(), all.group.end(),
                              [&](const MaterialGroup& g) { return read_the_same(g, material); });
    if (found == all.group.end()) {
      MaterialGroup group{material.name, material.conductivity, material.is_air_space, {}};
      constexpr double air_lightness = 0.975;
      group.colour = material.is_air_space ? rgb_from_lch(air_lightness, 0.008, 240.0)
                                           : material_colour(n_solid++, material.conductivity);
      all.group.push_back(std::move(group));
      found = all.group.end() - 1;
    }
    all.group_of.push_back(static_cast<int>(found - all.group.begin()));
  }
  return all;
}

}  // namespace coldbay
