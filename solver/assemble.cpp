#include "solver/assemble.hpp"

#include <algorithm>
#include <vector>

#include "solver/discretisation.hpp"

namespace coldbay {

TemperatureRange range_of(const ConductivityGrid& grid, const Surroundings& air) {
  TemperatureRange range{air.inside.temperature, air.inside.temperature};
  for (const Direction d : directions)
    for (const End end : {End::low, End::high})
      if (const Exchange* e = exchange_at(air, d, end)) {
        range.coldest = std::min(range.coldest, e->temperature);
        range.warmest = std::max(range.warmest, e->temperature);
      }
  for (const AirLevel& level : air.by_height) {
    range.coldest = std::min(range.coldest, level.celsius);
    range.warmest = std::max(range.warmest, level.celsius);
  }
  for (const HeldCell& held : grid.held) {
    range.coldest = std::min(range.coldest, held.celsius);
    range.warmest = std::max(range.warmest, held.celsius);
  }
  return range;
}

LinearSystem assemble(const ConductivityGrid& grid, const Surroundings& air, TemperatureRange range) {
  const Index n = grid.cells();
  const double span = range.warmest - range.coldest;
  Eigen::VectorXd diagonal = Eigen::VectorXd::Zero(n), b = Eigen::VectorXd::Zero(n);
  std::vector<Eigen::Triplet<double>> entries;
  entries.reserve(static_cast<std::size_t>(4 * n));

  for_each_inner_face(grid, [&](Direction, Index one, Index two, double G) {
    diagonal[one] += G;
    diagonal[two] += G;
    entries.emplace_back(one, two, -G);
    entries.emplace_back(two, one, -G);
  });
  for_each_outer_face(grid, air, [&](Index cell, Direction, End, const Exchange& e, double G) {
    diagonal[cell] += G;
    b[cell] += G * (e.temperature - range.coldest) / span;
  });
  for_each_held_face(grid, [&](Index cell, Direction, End, const HeldCell& held, double G) {
    diagonal[cell] += G;
    b[cell] += G * (held.celsius - range.coldest) / span;
  });
  for (const HeldCell& held : grid.held) {
    diagonal[held.cell] = 1.0;
    b[held.cell] = (held.celsius - range.coldest) / span;
  }
  for (Index c = 0; c < n; ++c) entries.emplace_back(c, c, diagonal[c]);

  LinearSystem system{Eigen::SparseMatrix<double>(n, n), std::move(b)};
  system.A.setFromTriplets(entries.begin(), entries.end());
  return system;
}

}  // namespace coldbay
