#include "solver/results/surface_humidity.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "solver/results/dew_point.hpp"

namespace coldbay {
namespace {

/// Where the map is known along an axis: the ends, and the middles of the cells between.
struct Line {
  double at;
  Index cell;
};
std::vector<Line> lines_of(const Axis& axis) {
  std::vector<Line> lines{{axis.edges().front(), 0}};
  lines.reserve(static_cast<std::size_t>(axis.cells() + 2));
  for (Index i = 0; i < axis.cells(); ++i) lines.push_back({axis.centre(i), i});
  lines.push_back({axis.edges().back(), axis.cells() - 1});
  return lines;
}

/// Integral over y from 0 to 1 of cold / (cold + warm), both linear in y from their first value to the second
/// and nowhere negative.
double share_between(std::pair<double, double> cold, std::pair<double, double> warm) {
  const double p = cold.first, q = cold.second - cold.first, r = cold.first + warm.first,
               s = cold.second + warm.second - r;
  if (r + s <= 0.0 && r <= 0.0) return 0.0;  // all of it at the threshold
  if (std::abs(s) > 1e-3 * r) {
    if (r <= 0.0) return q / s;
    if (r + s <= 0.0) return q / s;
    return q / s + (p - q * r / s) / s * std::log1p(s / r);
  }
  // Nearly a polynomial: Gauss's rule of three points is good to (s/r)^6, where the logarithm would cancel.
  const double out = std::sqrt(0.15);
  const auto at = [&](double y) { return (p + q * y) / (r + s * y); };
  return (5.0 * at(0.5 - out) + 8.0 * at(0.5) + 5.0 * at(0.5 + out)) / 18.0;
}

/// Share of the unit square below 0 of what is bilinear between its corners: left and right, at y = 0 and 1.
/// At every y it is linear across; where neither side passes 0 the length below is a ratio of linear
/// functions.
double share_below(double left0, double right0, double left1, double right1) {
  std::array<double, 4> cuts{0.0, 1.0, 1.0, 1.0};
  std::size_t n = 1;
  if ((left0 < 0.0) != (left1 < 0.0)) cuts[n++] = left0 / (left0 - left1);
  if ((right0 < 0.0) != (right1 < 0.0)) cuts[n++] = right0 / (right0 - right1);
  if (cuts[1] > cuts[2] && n == 3) std::swap(cuts[1], cuts[2]);
  double sum = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const double from = cuts[i], to = i + 1 < n ? cuts[i + 1] : 1.0, middle = 0.5 * (from + to);
    const auto left = [&](double y) { return left0 + y * (left1 - left0); };
    const auto right = [&](double y) { return right0 + y * (right1 - right0); };
    const bool left_cold = left(middle) < 0.0, right_cold = right(middle) < 0.0;
    if (left_cold && right_cold) sum += to - from;
    if (left_cold == right_cold) continue;
    // Past 0 by rounding alone, where a side is cut.
    const auto size = [](double t) { return std::abs(t); };
    const std::pair<double, double> l{size(left(from)), size(left(to))},
        r{size(right(from)), size(right(to))};
    sum += (to - from) * (left_cold ? share_between(l, r) : share_between(r, l));
  }
  return sum;
}

}  // namespace

double humidity_at_surface(double surface, double air, double humidity) {
  return humidity * saturation_pressure(air) / saturation_pressure(surface);
}

double critical_surface_temperature(double air, double humidity, double critical) {
  return dew_point(air, humidity / critical);  // its formula holds for more than saturated air as well
}

double temperature_factor(double surface, double inside, double outside) {
  return (surface - outside) / (inside - outside);
}

double required_temperature_factor(double inside, double humidity, double outside, double critical) {
  return temperature_factor(critical_surface_temperature(inside, humidity, critical), inside, outside);
}

AreaBelow area_below(const FaceMap& face, double threshold) {
  const std::vector<Line> across = lines_of(face.across), up = lines_of(face.up);
  AreaBelow below;
  for (std::size_t j = 0; j + 1 < up.size(); ++j)
    for (std::size_t i = 0; i + 1 < across.size(); ++i) {
      const auto over = [&](std::size_t a, std::size_t u) {
        return face.at(across[a].cell, up[u].cell) - threshold;
      };
      below.area += (across[i + 1].at - across[i].at) * (up[j + 1].at - up[j].at) *
                    share_below(over(i, j), over(i + 1, j), over(i, j + 1), over(i + 1, j + 1));
    }
  below.share = below.area / (face.across.length() * face.up.length());
  return below;
}

ColdestPoint coldest_point(const FaceMap& face) {
  const auto coldest = std::min_element(face.celsius.begin(), face.celsius.end()) - face.celsius.begin();
  const Index n = face.across.cells();
  return {face.celsius[static_cast<std::size_t>(coldest)], face.across.centre(coldest % n),
          face.up.centre(coldest / n)};
}

}  // namespace coldbay
