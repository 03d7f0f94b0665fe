#include "solver/results/warnings.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "geometry/grid_lines.hpp"

namespace coldbay {
namespace {

constexpr double metal = 10.0;         ///< a conductor that no insulation comes near [W/(m K)]
constexpr double deepest_space = 0.3;  ///< of the airspace rules [m]

/// Longest stretch of metal through the section, room to outside, as a share of its depth.
double metal_share(const ConductivityGrid& grid) {
  const Axis& across = grid[Direction::across];
  const Axis& depth = grid[Direction::depth];
  double longest = 0.0;
  for (Index i = 0; i < across.cells(); ++i) {
    double run = 0.0;
    for (Index k = 0; k < depth.cells(); ++k) {
      const bool is_metal = grid.k(Direction::depth)[static_cast<std::size_t>(grid.cell(i, 0, k))] >= metal;
      run = is_metal ? run + depth.width(k) : 0.0;
      longest = std::max(longest, run);
    }
  }
  return longest / depth.length();
}

struct Range {
  double low = 1e9, high = -1e9;
};

/// Temperatures of the cells that show a material and nothing else.
Range temperatures_of(std::size_t material, const Section& section, const Painting& painting,
                      const TemperatureField& field) {
  Range range;
  for (std::size_t c = 0; c < painting.shape.size(); ++c) {
    if (painting.shape[c] >= section.shapes.size() || section.shapes[painting.shape[c]].material != material)
      continue;
    range.low = std::min(range.low, field.celsius[c]);
    range.high = std::max(range.high, field.celsius[c]);
  }
  return range;
}

}  // namespace

std::vector<std::string> warnings(const Section& section, const Painting& painting,
                                  const ConductivityGrid& grid, const TemperatureField& field) {
  std::vector<std::string> all;
  for (const AirCavity& c : grid.cavities) {
    const double depth = (c.heat_goes == Direction::depth ? c.depth : c.across).length();
    if (depth > deepest_space)
      all.push_back(fmt::format("an air space {:.0f} mm deep is beyond the rule's {:.0f} mm", 1e3 * depth,
                                1e3 * deepest_space));
  }
  if (metal_share(grid) >= 0.5)
    all.emplace_back("metal bridges the wall: the mean of the two simple limits is not meant for it");
  for (std::size_t m = 0; m < section.materials.size(); ++m) {
    const Range range = temperatures_of(m, section, painting, field);
    const Material& material = section.materials[m];
    if (range.low <= range.high &&
        (beyond_source(material, range.low) || beyond_source(material, range.high)))
      all.push_back(
          fmt::format("{} is at {:.0f} to {:.0f} °C here, and its source measured {:.0f} to {:.0f} °C",
                      material.name, range.low, range.high, material.law->from, material.law->to));
  }
  const Merged merged = merged_edges(section);
  for (const auto& [edges, direction] :
       {std::pair(merged.across, section.cut == CutKind::vertical ? "above the floor" : "across"),
        std::pair(merged.depth, "in depth")})
    for (const double at : edges)
      all.push_back(fmt::format("edges less than {:.3f} mm apart are drawn as one, at {:.1f} mm {}",
                                1e3 * merge_distance, 1e3 * at, direction));
  return all;
}

}  // namespace coldbay
