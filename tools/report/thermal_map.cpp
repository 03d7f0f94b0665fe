#include "tools/report/thermal_map.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace coldbay {
namespace {

constexpr double most_map_pixels = 1e8;
constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

/// The two pixels whose middles lie on either side of a place, counted in pixels from the first one's edge.
struct BetweenPixels {
  int low, high;
  double share;  ///< of the higher one
};
BetweenPixels between_pixels(double place, int n) {
  const double from_middle = std::clamp(place - 0.5, 0.0, n - 1.0);
  const int low = std::min(static_cast<int>(from_middle), std::max(0, n - 2));
  const int high = std::min(low + 1, n - 1);
  return {low, high, high == low ? 0.0 : from_middle - low};
}

}  // namespace

ThermalMap sampled(const FaceMap& face, double pixel) {
  const double width = face.across.length(), height = face.up.length();
  const double columns = std::max(1.0, std::round(width / pixel)),
               rows = std::max(1.0, std::round(height / pixel));
  if (!(columns * rows <= most_map_pixels))
    throw std::length_error(
        fmt::format("a face of {:.3f} x {:.3f} m in pixels of {:.3f} mm", width, height, 1000.0 * pixel));
  ThermalMap map{{face.across.edge(0), face.across.edge(0) + width},
                 {face.up.edge(0), face.up.edge(0) + height},
                 static_cast<int>(columns),
                 static_cast<int>(rows),
                 {}};
  map.celsius.reserve(static_cast<std::size_t>(columns * rows));
  for (int row = 0; row < map.rows; ++row)
    for (int column = 0; column < map.columns; ++column)
      map.celsius.push_back(temperature_on(face, map.across.from + (column + 0.5) * map.pixel_across(),
                                           map.up.to - (row + 0.5) * map.pixel_up()));
  return map;
}

ThermalMap difference(const ThermalMap& map, const ThermalMap& from) {
  const auto same = [](const Span& a, const Span& b) { return a.from == b.from && a.to == b.to; };
  if (map.columns != from.columns || map.rows != from.rows || !same(map.across, from.across) ||
      !same(map.up, from.up))
    throw std::invalid_argument("the difference of two maps that are not of one place and size");
  ThermalMap all = map;
  for (std::size_t i = 0; i < all.celsius.size(); ++i) all.celsius[i] -= from.celsius[i];
  return all;
}

double value_at(const ThermalMap& map, double across, double up) {
  const double x = (across - map.across.from) / map.pixel_across(), y = (map.up.to - up) / map.pixel_up();
  if (!(x >= 0.0 && x <= map.columns && y >= 0.0 && y <= map.rows)) return nothing;
  if (!map.smooth)
    return map.at(std::min(static_cast<int>(x), map.columns - 1),
                  std::min(static_cast<int>(y), map.rows - 1));
  const BetweenPixels i = between_pixels(x, map.columns), j = between_pixels(y, map.rows);
  const double upper = map.at(i.low, j.low) + i.share * (map.at(i.high, j.low) - map.at(i.low, j.low));
  const double lower = map.at(i.low, j.high) + i.share * (map.at(i.high, j.high) - map.at(i.low, j.high));
  return upper + j.share * (lower - upper);
}

std::optional<Extent> extent(const ThermalMap& map) {
  std::optional<Extent> all;
  for (const double value : map.celsius) {
    if (std::isnan(value)) continue;
    if (!all) all = Extent{value, value};
    all->least = std::min(all->least, value);
    all->greatest = std::max(all->greatest, value);
  }
  return all;
}

double share_below(const ThermalMap& map, double celsius) {
  std::size_t known = 0, below = 0;
  for (const double value : map.celsius) {
    if (std::isnan(value)) continue;
    ++known;
    if (value < celsius) ++below;
  }
  return known == 0 ? 0.0 : static_cast<double>(below) / static_cast<double>(known);
}

}  // namespace coldbay
