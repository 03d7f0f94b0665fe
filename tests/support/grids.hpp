#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "geometry/conductivity_grid.hpp"

namespace coldbay::test {

using Conductivity = std::function<double(double x, double y, double z)>;

/// A grid of two axes (up is one cell of 1 m) or three, its cells of the conductivity at their middles.
inline ConductivityGrid sampled(const Axis& x, const Axis& y, const Axis& z, const Conductivity& k) {
  ConductivityGrid grid{{x, y, z}, {}, {}, {}};
  for (Index c = 0; c < z.cells(); ++c)
    for (Index b = 0; b < y.cells(); ++b)
      for (Index a = 0; a < x.cells(); ++a)
        grid.conductivity[0].push_back(k(x.centre(a), y.centre(b), z.centre(c)));
  grid.conductivity[2] = grid.conductivity[0];
  if (y.cells() > 1) grid.conductivity[1] = grid.conductivity[0];
  return grid;
}

inline Axis even(double length, Index n) {
  std::vector<double> edges;
  for (Index i = 0; i <= n; ++i) edges.push_back(length * static_cast<double>(i) / static_cast<double>(n));
  return Axis(std::move(edges));
}

/// Lines at the given places (the ends among them) and cells of `at_line` beside them, growing by `growth`
/// from cell to cell towards the middle of every stretch.
inline Axis graded(const std::vector<double>& lines, double at_line, double growth) {
  std::vector<double> edges{lines.front()};
  for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
    const double half = 0.5 * (lines[i + 1] - lines[i]);
    std::vector<double> from_line{0.0};
    for (double size = at_line; from_line.back() < half; size *= growth)
      from_line.push_back(from_line.back() + size);
    const double fit = half / from_line.back();
    for (std::size_t n = 1; n < from_line.size(); ++n) edges.push_back(lines[i] + fit * from_line[n]);
    for (std::size_t n = from_line.size() - 1; n-- > 0;) edges.push_back(lines[i + 1] - fit * from_line[n]);
  }
  return Axis(std::move(edges));
}

/// 600 x 127 mm: lining, fibre, sheathing, a steel stud of 1.2 mm with two flanges, a steel box of 1.5 mm;
/// graded from cells of `at_line`.
inline ConductivityGrid steel_wall(double at_line, double steel = 50.0) {
  const Axis x = graded({0.0, 0.2, 0.2012, 0.24, 0.4, 0.4015, 0.4555, 0.457, 0.6}, at_line, 1.3);
  const Axis z = graded({0.0, 0.0125, 0.0137, 0.068, 0.0695, 0.1148, 0.116, 0.127}, at_line, 1.3);
  return sampled(x, Axis({0.0, 1.0}), z, [steel](double a, double, double c) {
    if (c < 0.0125) return 0.16;
    if (c > 0.116) return 0.13;
    if (a > 0.2 && a < 0.24 && (a < 0.2012 || c < 0.0137 || c > 0.1148)) return steel;
    if (a > 0.4 && a < 0.457 && c < 0.0695) return a < 0.4015 || a > 0.4555 || c > 0.068 ? steel : 0.25;
    return 0.039;
  });
}

/// 400 x 600 x 142 mm of fibre behind a lining, with a steel rod of 8 x 8 mm through it; graded in all three
/// directions.
inline ConductivityGrid rod_block(double at_line, double growth = 1.3) {
  return sampled(graded({0.0, 0.196, 0.204, 0.4}, at_line, growth),
                 graded({0.0, 0.296, 0.304, 0.6}, at_line, growth),
                 graded({0.0, 0.0125, 0.13, 0.142}, at_line, growth), [](double a, double b, double c) {
                   if (c < 0.0125) return 0.16;
                   return a > 0.196 && a < 0.204 && b > 0.296 && b < 0.304 ? 50.0 : 0.035;
                 });
}

}  // namespace coldbay::test
