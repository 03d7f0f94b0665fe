#pragma once

#include <algorithm>
#include <vector>

#include "geometry/wall/build.hpp"
#include "tests/support/walls.hpp"

namespace coldbay::test {

/// Lines of a net on every edge of the pieces, and `between` more of even spacing along every slant or curve.
inline std::vector<double> net(const std::vector<const Piece*>& pieces, Direction direction, Span within,
                               int between = 40) {
  std::vector<double> at{within.from, within.to};
  for (const Piece* p : pieces) {
    const Span s = extent(*p, direction);
    const int n = p->along == direction || std::holds_alternative<Rectangle>(p->outline) ? 1 : between;
    for (int i = 0; i <= n; ++i) {
      const double x = s.from + s.length() * i / n;
      if (x > within.from && x < within.to) at.push_back(x);
    }
  }
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end()), at.end());
  return at;
}

/// Sum over a block of the elevation of what rays from the room meet: size(met) for every stretch of every
/// ray, times the area that the ray stands for. Exact where every edge is straight.
template <class Size>
double sum_over(const BuiltWall& wall, Span across, Span up, Size size) {
  const auto all = pieces_within(wall, across, up);
  const std::vector<double> x = net(all, Direction::across, across);
  double sum = 0.0;
  for (std::size_t i = 0; i + 1 < x.size(); ++i) {
    const auto column = pieces_within(all, {x[i], x[i + 1]});
    const std::vector<double> z = net(column, Direction::up, up);
    for (std::size_t k = 0; k + 1 < z.size(); ++k)
      for (const Met& m : met_at(column, 0.5 * (x[i] + x[i + 1]), 0.5 * (z[k] + z[k + 1])))
        sum += size(m) * (x[i + 1] - x[i]) * (z[k + 1] - z[k]);
  }
  return sum;
}

/// Mass of the fill in a block of the elevation [kg]: volume times density.
inline double fibre_mass(const BuiltWall& wall, Span across, Span up) {
  return sum_over(wall, across, up, [](const Met& m) {
    return m.piece->role == Piece::Role::fill ? m.depth.length() * m.piece->material.density.value_or(0.0)
                                              : 0.0;
  });
}

/// Mass of the fill in one bay [kg].
inline double fibre_of_bay(const Wall& wall, std::size_t bay) {
  const BuiltWall built = build(wall);
  return fibre_mass(built, built.bays[bay].clear, built.up);
}

/// Volume of air spaces in one bay, those in boxes and conduits left out [m3].
inline double air_of_bay(const Wall& wall, std::size_t bay) {
  const BuiltWall built = build(wall);
  return sum_over(built, built.bays[bay].clear, built.up,
                  [](const Met& m) { return m.piece->role == Piece::Role::air ? m.depth.length() : 0.0; });
}

}  // namespace coldbay::test
