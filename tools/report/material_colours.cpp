#include "tools/report/material_colours.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string_view>
#include <vector>

namespace coldbay {
namespace {

constexpr std::size_t n_hues = 14;

/// A number from a name, the same on every machine (FNV-1a): a material keeps its hue from picture to
/// picture.
std::size_t number_of(std::string_view name) {
  std::uint64_t hash = 14695981039346656037u;
  for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211u;
  return static_cast<std::size_t>((hash >> 32) % n_hues);
}

/// The first of the hues from a material's own on that no other has here; darker ones once all are taken.
std::size_t free_hue(std::string_view name, std::vector<std::size_t>& taken) {
  const std::size_t own = number_of(name);
  for (std::size_t round = 0;; ++round)
    for (std::size_t step = 0; step < n_hues; ++step) {
      const std::size_t n = round * n_hues + (own + 3 * step) % n_hues;
      if (std::find(taken.begin(), taken.end(), n) != taken.end()) continue;
      taken.push_back(n);
      return n;
    }
}

}  // namespace

Rgb material_colour(std::size_t n, double conductivity) {
  // From L 0.90 at 0.02 W/mK down by 0.115 a decade: aluminium (about 200) ends at L 0.44, still
  // lighter than the outlines.
  const double decades = std::log10(std::clamp(conductivity, 0.02, 400.0) / 0.02);
  // Fourteen hues from ochre to violet, without the pinks. Neighbours in hue, of which one is odd and one
  // even, differ in lightness too.
  const auto place = static_cast<int>(n % n_hues);
  const double hue = 40.0 + 295.0 / (n_hues - 1) * place;
  const double parity = place % 2 == 0 ? 0.03 : -0.03;
  // Once all are taken, darker and more vivid ones: so many that twenty-eight of one conductivity differ.
  const auto round = static_cast<double>((n / n_hues) % 3);
  return rgb_from_lch(0.90 - 0.115 * decades + parity - 0.08 * round, 0.058 + 0.03 * round, hue);
}

MaterialGroups material_groups(const Section& section) {
  MaterialGroups all;
  for (const Material& material : section.materials) {
    const double k = material.conductivity;
    auto found = std::find_if(all.group.begin(), all.group.end(), [&](const MaterialGroup& g) {
      return g.name == material.name && g.is_air_space == material.is_air_space;
    });
    if (found == all.group.end())
      found = all.group.insert(found, {material.name, k, k, false, material.is_air_space, {}});
    found->lowest = std::min(found->lowest, k);
    found->highest = std::max(found->highest, k);
    found->by_temperature = found->by_temperature || material.law.has_value();
    all.group_of.push_back(static_cast<int>(found - all.group.begin()));
  }
  std::vector<std::size_t> taken;
  constexpr double air_lightness = 0.975;
  for (MaterialGroup& group : all.group)
    group.colour = group.is_air_space ? rgb_from_lch(air_lightness, 0.008, 240.0)
                                      : material_colour(free_hue(group.name, taken),
                                                        std::sqrt(group.lowest * group.highest));
  return all;
}

}  // namespace coldbay
