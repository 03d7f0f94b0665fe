#pragma once

// What the benchmarks solve: one framed wall with everything in it that is hard on a solver, cut evenly or
// graded, and a block with a steel rod for the third axis.

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "geometry/section.hpp"
#include "tests/support/sections.hpp"

namespace coldbay::bench {

enum class Stud { softwood, steel };

///     depth  ======================================  sheathing, 11 mm
///            |S|   batt      box  |gap|S|   batt  |S|
///            |S|            [   ] |gap|S|~~~~~~~~~|S|  ~ air strip, 15 mm
///            ======================================  lining, 12.5 mm; the room is below
///
/// 1625.6 mm by 127 mm. The box is a sheet-steel tray whose open side lies against the lining. The steel
/// stud in the middle is a C: a web of 1.2 mm and two flanges, open to the second bay.
inline Section bench_wall(Stud middle = Stud::softwood) {
  const double width = 1.6256, lining = 0.0125, sheathing = 0.011, stud = 0.045, steel = 50.0;
  Section s = test::layered(width, {{lining, 0.16}, {0.127 - lining - sheathing, 0.039}, {sheathing, 0.13}});
  const Span cavity{lining, 0.127 - sheathing};
  const Span centre{0.5 * (width - stud), 0.5 * (width + stud)};

  test::add(s, 0.12, {0.0, stud}, cavity);
  test::add(s, 0.12, {width - stud, width}, cavity);
  test::add(s, 0.1, {centre.to, width - stud}, {lining, lining + 0.015});
  test::add(s, 0.13, {centre.from - 0.020, centre.from}, cavity);
  if (middle == Stud::softwood) {
    test::add(s, 0.12, centre, cavity);
  } else {
    const double sheet = 0.0012;
    test::add(s, steel, {centre.from, centre.from + sheet}, cavity);
    test::add(s, steel, centre, {cavity.from, cavity.from + sheet});
    test::add(s, steel, centre, {cavity.to - sheet, cavity.to});
  }
  const double sheet = 0.0015;
  const Span box{0.400, 0.457}, box_depth{lining, lining + 0.070};
  test::add(s, steel, box, box_depth);
  test::add(s, 0.25, {box.from + sheet, box.to - sheet}, {box_depth.from, box_depth.to - sheet});
  return s;
}

/// n equal cells.
inline Axis even_axis(double length, Index n) {
  std::vector<double> edges;
  for (Index i = 0; i <= n; ++i) edges.push_back(length * static_cast<double>(i) / static_cast<double>(n));
  return Axis(std::move(edges));
}

/// The cells whose centres lie in a span: [first, last).
inline std::pair<Index, Index> cells_within(const Axis& axis, Span span) {
  Index first = 0, last = axis.cells();
  while (first < last && axis.centre(first) < span.from) ++first;
  while (last > first && axis.centre(last - 1) > span.to) --last;
  return {first, last};
}

/// Conductivities of a section of rectangles, each cell by what lies at its centre. The lines need not
/// stand on the edges of the shapes, so the drawing is only as true as a picture of that many pixels: the
/// solver does not mind, and a picture is what an even grid is.
inline ConductivityGrid sampled(const Section& s, const Axis& across, const Axis& depth) {
  ConductivityGrid grid{{across, Axis({0.0, 1.0}), depth}, {}, {}, {}};
  std::vector<double> k(static_cast<std::size_t>(grid.cells()), 0.0);
  for (const Shape& shape : s.shapes) {
    const Rectangle& r = std::get<Rectangle>(shape.outline);
    const auto [left, right] = cells_within(across, r.across);
    const auto [low, high] = cells_within(depth, r.depth);
    for (Index row = low; row < high; ++row) {
      const auto begin = k.begin() + grid.cell(0, 0, row);
      std::fill(begin + left, begin + right, s.materials[shape.material].conductivity);
    }
  }
  grid.conductivity[0] = k;
  grid.conductivity[2] = std::move(k);
  return grid;
}

/// The wall with softwood studs in square cells, all of one size. 206,502, 825,754 and 3,303,016 cells
/// are 1, 1/2 and 1/4 mm.
inline ConductivityGrid uniform_grid(Index cells) {
  const Section s = bench_wall();
  const double h = std::sqrt(s.width * s.depth / static_cast<double>(cells));
  return sampled(s, even_axis(s.width, std::lround(s.width / h)),
                 even_axis(s.depth, std::lround(s.depth / h)));
}

/// The wall with the steel stud on the program's own graded lines, about this many cells: lines of 10,000 to
/// 40,000 cells, then every cell halved each way as often as it takes. So the program refines too, and so the
/// cells beside thin sheets stay as long and thin as they were: lines made anew for small cells would be
/// kinder to a solver. The one place here that asks for those lines.
inline ConductivityGrid graded_grid(Index cells) {
  const Section s = bench_wall(Stud::steel);
  int halvings = 0;
  auto wanted = static_cast<double>(cells);
  for (; wanted > 40'000.0; wanted /= 4.0) ++halvings;

  // Half the factor gives twice the cells each way, but for stretches that have their least number already.
  const auto lines_for = [&s](double factor) { return grid_lines(s, factor, 1'000'000); };
  double factor = 1.0;
  GridLines lines = lines_for(factor);
  for (int round = 0; round < 5; ++round) {
    factor *= std::sqrt(static_cast<double>(lines.across.cells() * lines.depth.cells()) / wanted);
    factor = std::min(2.0, factor);
    lines = lines_for(factor);
  }
  for (int i = 0; i < halvings; ++i) lines = {bisected(lines.across), bisected(lines.depth)};
  return rasterise(s, lines.across, lines.depth);
}

/// n cells on [a, b], small at both ends and `ratio` times as large in the middle, growing geometrically.
inline void append_graded(double a, double b, Index n, double ratio, std::vector<double>& edges) {
  // Position of the share t of the cells, counted from the end with the small ones.
  const auto from_end = [ratio](double t) {
    return 0.5 * std::expm1(2.0 * t * std::log(ratio)) / (ratio - 1.0);
  };
  for (Index i = 0; i < n; ++i) {
    const double t = static_cast<double>(i) / static_cast<double>(n);
    edges.push_back(a + (b - a) * (t <= 0.5 ? from_end(t) : 1.0 - from_end(1.0 - t)));
  }
}

/// About n cells each way: insulation, 300 mm square and 140 mm deep, behind a lining of 12.5 mm, with a
/// steel rod of 8 mm square through the insulation from the lining to the outer face. Cells are small at
/// the rod's sides and at both its ends.
inline ConductivityGrid steel_rod_block(Index n) {
  if (n < 16) throw std::invalid_argument("a rod cannot be drawn with fewer than 16 cells each way");
  const double width = 0.3, lining = 0.0125, depth = 0.1525;
  const Span rod{0.5 * width - 0.004, 0.5 * width + 0.004};
  const Index in_rod = n / 8, beside = (n - in_rod) / 2, in_lining = n / 6;
  std::vector<double> face, in_depth;
  append_graded(0.0, rod.from, beside, 12.0, face);
  append_graded(rod.from, rod.to, in_rod, 1.5, face);
  append_graded(rod.to, width, beside, 12.0, face);
  face.push_back(width);
  append_graded(0.0, lining, in_lining, 1.5, in_depth);
  append_graded(lining, depth, n - in_lining, 6.0, in_depth);
  in_depth.push_back(depth);

  ConductivityGrid grid{{Axis(face), Axis(face), Axis(in_depth)}, {}, {}, {}};
  std::vector<double> k;
  k.reserve(static_cast<std::size_t>(grid.cells()));
  const auto in = [](Span span, double x) { return x > span.from && x < span.to; };
  for (Index d = 0; d < grid.axis[2].cells(); ++d)
    for (Index up = 0; up < grid.axis[1].cells(); ++up)
      for (Index across = 0; across < grid.axis[0].cells(); ++across)
        k.push_back(grid.axis[2].centre(d) < lining                                            ? 0.16
                    : in(rod, grid.axis[0].centre(across)) && in(rod, grid.axis[1].centre(up)) ? 50.0
                                                                                               : 0.035);
  grid.conductivity = {k, k, k};
  return grid;
}

/// The block with about this many cells in all.
inline ConductivityGrid block_grid(Index cells) {
  return steel_rod_block(std::lround(std::cbrt(static_cast<double>(cells))));
}

}  // namespace coldbay::bench
