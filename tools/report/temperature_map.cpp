#include "tools/report/temperature_map.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/results/surface.hpp"

namespace coldbay {
namespace {

/// Places along an axis where temperatures are taken: both ends, edges first, then middles.
std::vector<double> lattice(const Axis& axis, double pixel) {
  std::vector<double> places{axis.edge(0)};
  const double last = axis.edge(axis.cells());
  for (Index i = 0; i < axis.cells(); ++i)
    for (const double x : {axis.centre(i), axis.edge(i + 1)})
      if (x - places.back() >= pixel && last - x >= 0.5 * pixel) places.push_back(x);
  places.push_back(last);
  return places;
}

/// Where a pixel falls between two places of the lattice.
struct BetweenPlaces {
  std::size_t low = 0;
  double share = 0.0;  ///< of the higher one
};

std::vector<BetweenPlaces> pixel_places(const std::vector<double>& lattice, int n) {
  std::vector<BetweenPlaces> all;
  std::size_t low = 0;
  for (int i = 0; i < n; ++i) {
    const double x = lattice.front() + (i + 0.5) / n * (lattice.back() - lattice.front());
    while (low + 2 < lattice.size() && lattice[low + 1] <= x) ++low;
    all.push_back({low, (x - lattice[low]) / (lattice[low + 1] - lattice[low])});
  }
  return all;
}

}  // namespace

TemperatureMap temperature_map(const ConductivityGrid& grid, const Surroundings& air,
                               const TemperatureField& field, int width, int height) {
  const Axis& across = grid[Direction::across];
  const Axis& depth = grid[Direction::depth];
  const std::vector<double> xs = lattice(across, across.length() / width);
  const std::vector<double> ys = lattice(depth, depth.length() / height);
  std::vector<double> known;
  known.reserve(xs.size() * ys.size());
  for (const double y : ys)
    for (const double x : xs) known.push_back(temperature_at(grid, air, field, {x, y}));

  const std::vector<BetweenPlaces> columns = pixel_places(xs, width);
  const std::vector<BetweenPlaces> rows = pixel_places(ys, height);
  TemperatureMap map{width, height, {}};
  map.celsius.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  for (auto row = rows.rbegin(); row != rows.rend(); ++row)
    for (const BetweenPlaces& column : columns) {
      const double* inner = &known[row->low * xs.size() + column.low];
      const double* outer = inner + xs.size();
      const double T_inner = inner[0] + column.share * (inner[1] - inner[0]);
      const double T_outer = outer[0] + column.share * (outer[1] - outer[0]);
      map.celsius.push_back(T_inner + row->share * (T_outer - T_inner));
    }
  return map;
}

std::vector<float> isotherm_coverage(const TemperatureMap& map, const std::vector<double>& levels,
                                     double span, double thickness) {
  std::vector<float> coverage(map.celsius.size(), 0.0F);
  // Where less than this changes per pixel the place of a line is rounding: a level region that
  // happens to lie on a level would come out solid.
  const double level_region = 1e-5 * span;
  std::size_t at = 0;
  for (int y = 0; y < map.height; ++y)
    for (int x = 0; x < map.width; ++x, ++at) {
      const double T = map.celsius[at];
      double off = std::numeric_limits<double>::infinity();
      for (const double level : levels) off = std::min(off, std::abs(T - level));
      const int left = std::max(x - 1, 0), right = std::min(x + 1, map.width - 1);
      const int up = std::max(y - 1, 0), down = std::min(y + 1, map.height - 1);
      const double dx = (map.at(right, y) - map.at(left, y)) / (right - left);
      const double dy = (map.at(x, down) - map.at(x, up)) / (down - up);
      const double slope = std::hypot(dx, dy);
      if (!(slope > level_region)) continue;
      coverage[at] = static_cast<float>(std::clamp(0.5 * thickness + 0.5 - off / slope, 0.0, 1.0));
    }
  return coverage;
}

}  // namespace coldbay
