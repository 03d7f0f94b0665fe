#include "solver/heat_balance.hpp"

#include <fmt/core.h>

#include <cmath>

#include "solver/discretisation.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

using Vector = Eigen::VectorXd;

/// Two temperatures that touch: between them flows the more heat, the finer the grid, without limit.
void require_held_apart(const ConductivityGrid& grid, const Surroundings& air) {
  if (std::ssize(grid.held) == grid.cells()) throw SolverError("the whole section is held at a temperature");
  bool apart = true;
  for (const HeldCell& held : grid.held)
    for (const Direction d : directions) {
      const Index next = beside(grid, held.cell, place_of(grid, held.cell), d, End::high);
      const HeldCell* other = next < 0 ? nullptr : held_cell(grid, next);
      apart = apart && (!other || other->celsius == held.celsius);
    }
  if (!grid.held.empty())
    for_each_exchanging_face(grid, air, [&](Index cell, Direction, End, const Exchange& e, double) {
      const HeldCell* held = held_cell(grid, cell);
      apart = apart && (!held || e.film > 0.0 || held->celsius == e.temperature);
    });
  if (!apart)
    throw SolverError(
        "two held temperatures touch, so the heat flow between them has no limit: part them by a wall");
}

double& from_air(HeatBalance& balance, Index cell) {
  return balance.from_air[static_cast<std::size_t>(cell / balance.net.columns())]
                         [static_cast<std::size_t>(cell % balance.net.columns())];
}

}  // namespace

void require_solvable(const ConductivityGrid& grid, const Surroundings& air, const SolverOptions& options) {
  if (grid.cells() > options.max_cells)
    throw SolverError(fmt::format("the grid has {} cells, more than the {} that are allowed", grid.cells(),
                                  options.max_cells));
  for (const Direction d : directions) {
    if (grid[d].cells() > 1 && std::ssize(grid.k(d)) != grid.cells())
      throw SolverError("the grid lacks conductivities");
    for (const double k : grid.k(d))
      if (!(std::isfinite(k) && k > 0.0))
        throw SolverError(fmt::format("a cell has the conductivity {} W/mK", k));
  }
  require_held_apart(grid, air);
  bool finite = true;
  double exchanging = 0.0;
  for_each_outer_face(grid, air, [&](Index, Direction, End, const Exchange& e, double G) {
    finite = finite && std::isfinite(e.temperature) && std::isfinite(G);
    exchanging += G;
  });
  for_each_held_face(grid, [&](Index, Direction, End, const HeldCell& held, double G) {
    finite = finite && std::isfinite(held.celsius);
    exchanging += G;
  });
  if (!finite)
    throw SolverError("a temperature or a film beside the section, or held in it, is not a finite number");
  if (!(exchanging > 0.0))
    throw SolverError("no face of the section exchanges heat, so nothing fixes its temperature");
  const TemperatureRange range = range_of(grid, air);
  if (!(range.warmest > range.coldest))
    throw SolverError("everything around the section is at one temperature, so no heat flows");
}

HeatBalance heat_balance(const ConductivityGrid& grid, const Surroundings& air, TemperatureRange range) {
  HeatBalance balance{network(grid, air), {}};
  for (const auto& row : balance.net.to_air) balance.from_air.emplace_back(row.size(), 0.0);
  for_each_outer_face(grid, air, [&](Index cell, Direction, End, const Exchange& e, double G) {
    from_air(balance, cell) += G * (e.temperature - range.coldest) / (range.warmest - range.coldest);
  });
  for_each_held_face(grid, [&](Index cell, Direction, End, const HeldCell& held, double G) {
    from_air(balance, cell) += G * (held.celsius - range.coldest) / (range.warmest - range.coldest);
  });
  return balance;
}

double imbalance_of(const HeatBalance& balance, const Vector& u) {
  double given = 0.0, taken = 0.0;
  for (Index k = 0; k < balance.net.depth; ++k) {
    const auto& G = balance.net.to_air[static_cast<std::size_t>(k)];
    const auto& b = balance.from_air[static_cast<std::size_t>(k)];
    for (std::size_t c = 0; c < G.size(); ++c) {
      const double heat = b[c] - G[c] * u[static_cast<Index>(c) + balance.net.columns() * k];
      (heat > 0.0 ? given : taken) += heat;
    }
  }
  return std::abs(given + taken) / (0.5 * (given - taken));
}

}  // namespace coldbay
