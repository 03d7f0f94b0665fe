#include "solver/discretisation.hpp"

#include <algorithm>

#include "solver/parallel.hpp"

namespace coldbay {
namespace {

const MixedCell* mixed_cell(const ConductivityGrid& grid, Index cell) {
  const auto at = grid.mixed.find(cell);
  return at == grid.mixed.end() || at->second.held.empty() ? nullptr : &at->second;
}

/// How many samples of half a line, `first`, first + step and so on, come before one that is held.
int free_run(const MixedCell& cell, Direction d, int line, int first, int step) {
  const int n = cell.samples;
  int run = 0;
  for (int i = first; run < n / 2; ++run, i += step)
    if (cell.held[static_cast<std::size_t>(d == Direction::across ? line * n + i : i * n + line)]) break;
  return run;
}

/// What lies between the middle of a free cell and the edge of what is held, as shares of the widths of the
/// free cell and of the held one beside it.
struct Stretch {
  double here = 0.0, beyond = 0.0;
};
Stretch stretch(const MixedCell* here, const MixedCell* beyond, Direction d, End end) {
  if (!here && !beyond) return {0.5, 0.0};
  const int n = (here ? here : beyond)->samples, step = end == End::high ? 1 : -1;
  int before = 0, after = 0;
  for (int line = 0; line < n; ++line) {
    const int run = here ? free_run(*here, d, line, end == End::high ? n / 2 : n / 2 - 1, step) : n / 2;
    before += run;
    if (beyond && run == n / 2) after += free_run(*beyond, d, line, end == End::high ? 0 : n - 1, step);
  }
  before = std::max(before, n / 2);  // half a sample: they know the edge no better
  return {static_cast<double>(before) / (n * n), static_cast<double>(after) / (n * n)};
}

}  // namespace

double resistance_to_held(const ConductivityGrid& grid, Index free_cell, Direction d, End end) {
  const std::array<Index, 3> at = place_of(grid, free_cell);
  const Index held = beside(grid, free_cell, at, d, end), here = at[static_cast<std::size_t>(d)],
              next = end == End::low ? here - 1 : here + 1;
  const Stretch s = stretch(mixed_cell(grid, free_cell), mixed_cell(grid, held), d, end);
  const auto& k = grid.k(d);
  return s.here * grid[d].width(here) / k[static_cast<std::size_t>(free_cell)] +
         s.beyond * grid[d].width(next) / k[static_cast<std::size_t>(held)];
}

std::vector<double> inner_conductances(const ConductivityGrid& grid, Direction d) {
  const Index across = grid.axis[0].cells(), up = grid.axis[1].cells(), step = stride(grid, d);
  std::vector<double> width;
  for (Index i = 0; i < across; ++i) width.push_back(grid.axis[0].width(i));
  const std::vector<double>& k = grid.k(d);
  std::vector<double> G(static_cast<std::size_t>(grid.cells()), 0.0);
  in_parallel(up * grid.axis[2].cells(), grid.cells(), [&](Index row) {
    const std::array<Index, 3> at{0, row % up, row / up};
    const double* k1 = k.data() + across * row;
    const double* k2 = k1 + step;
    double* to = G.data() + across * row;
    if (d == Direction::across) {
      const double area = face_area(grid, at, d);
      for (Index i = 0; i + 1 < across; ++i)
        to[i] = face_conductance(area, width[static_cast<std::size_t>(i)], k1[i],
                                 width[static_cast<std::size_t>(i + 1)], k2[i]);
      return;
    }
    const Index here = at[static_cast<std::size_t>(d)];
    if (here + 1 == grid[d].cells()) return;
    const double area = face_area(grid, at, d) / width[0], d1 = grid[d].width(here),
                 d2 = grid[d].width(here + 1);
    for (Index i = 0; i < across; ++i)
      to[i] = face_conductance(area * width[static_cast<std::size_t>(i)], d1, k1[i], d2, k2[i]);
  });
  for (const HeldCell& held : grid.held) {
    G[static_cast<std::size_t>(held.cell)] = 0.0;
    if (const Index before = beside(grid, held.cell, place_of(grid, held.cell), d, End::low); before >= 0)
      G[static_cast<std::size_t>(before)] = 0.0;
  }
  return G;
}

Radiated radiated(const ConductivityGrid& grid, const FacingPair& facing) {
  const double area = face_area(grid, place_of(grid, facing.low_air), facing.d);
  const auto half = [&](Index cell) {
    const auto along = static_cast<std::size_t>(facing.d);
    return 2.0 * area * grid.k(facing.d)[static_cast<std::size_t>(cell)] /
           grid.axis[along].width(place_of(grid, cell)[along]);
  };
  const double g1 = half(facing.low_solid), h1 = half(facing.low_air), h2 = half(facing.high_air),
               g2 = half(facing.high_solid);
  return {{facing.low_solid, facing.low_air, facing.high_air, facing.high_solid},
          {g1 / (g1 + h1), h1 / (g1 + h1), -h2 / (g2 + h2), -g2 / (g2 + h2)},
          1.0 / (1.0 / (facing.radiative * area) + 1.0 / (g1 + h1) + 1.0 / (g2 + h2)),
          g1 + h1,
          g2 + h2};
}

}  // namespace coldbay
