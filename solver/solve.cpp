#include "solver/solve.hpp"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "solver/assemble.hpp"
#include "solver/conjugate_gradients.hpp"
#include "solver/discretisation.hpp"
#include "solver/multigrid/hierarchy.hpp"
#include "solver/results/heat_flow.hpp"
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

/// Iterations say nothing sensible of nonsense (a NaN, a wall nothing heats), so look first.
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

double& from_air(HeatBalance& balance, Index cell) {
  return balance.from_air[static_cast<std::size_t>(cell / balance.net.columns())]
                         [static_cast<std::size_t>(cell % balance.net.columns())];
}

/// Held cells are air to those beside them. They themselves get nothing, and stay at 0 in the solve.
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

/// What the air gives the section and takes from it, of what passes [-]: the sum of all residuals.
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

/// Conjugate gradients until both the residual and the heat balance are met, or nothing is to be gained.
/// Between held faces ||b|| counts conductances to the face that are 1e5 times those through the section, and
/// a residual that is small beside it may still be a good part of the heat that passes.
template <class Real>
Converged converge(const HeatBalance& balance, Hierarchy<Real>& grids, const SolverOptions& options,
                   Vector& u) {
  constexpr double least = 1e-15;
  Converged reached;
  for (double wanted = options.relative_residual;; wanted *= 0.01) {
    const Converged next =
        conjugate_gradients(balance, grids, wanted, options.max_iterations - reached.iterations, u);
    reached = {reached.iterations + next.iterations, next.residual};
    if (!(next.residual <= wanted) || wanted < least || imbalance_of(balance, u) <= options.heat_balance)
      return reached;
  }
}

/// Single precision is enough for what only points the way. Should it not be (conductivities that differ by
/// more than single precision can tell apart), the hierarchy is made once more in double.
Converged converge_in_either_precision(const HeatBalance& balance, KeptHierarchy& kept,
                                       const SolverOptions& options, Vector& u) {
  const Level<float>* finest = kept ? &kept->levels.front() : nullptr;
  if (!finest || finest->columns() != balance.net.columns() || finest->depth != balance.net.depth)
    kept = hierarchy<float>(balance.net);
  Converged reached = converge(balance, *kept, options, u);
  // What rounding leaves may be more than was asked for; but an answer with a large residual is none,
  // whatever left it.
  constexpr double never_more = 1e-6;
  const auto wanted = [&] {
    return std::max(options.relative_residual, std::min(never_more, rounding_floor(balance, u)));
  };
  if (reached.residual <= options.relative_residual || reached.residual <= wanted()) return reached;
  kept.reset();
  Hierarchy<double> grids = hierarchy<double>(balance.net);
  const int before = reached.iterations;
  reached = converge(balance, grids, options, u);
  reached.iterations += before;
  if (!(reached.residual <= wanted()))  // NaN lands here too
    throw SolverError(fmt::format("no convergence after {} iterations: residual {:.1e}, wanted {:.1e}",
                                  reached.iterations, reached.residual, wanted()));
  return reached;
}

}  // namespace

TemperatureField solve(const ConductivityGrid& grid, const Surroundings& air, const SolverOptions& options,
                       const std::vector<double>& start, KeptHierarchy* kept) {
  require_solvable(grid, air, options);
  const TemperatureRange range = range_of(grid, air);
  const double span = range.warmest - range.coldest;

  // 1. The heat balance of every cell, in dimensionless temperature.
  const HeatBalance balance = heat_balance(grid, air, range);

  // 2. Conjugate gradients with multigrid. Expect 8 to 15 iterations whatever the size; more means that the
  //    relaxation does not suit the grid.
  Vector u = Vector::Zero(grid.cells());
  if (std::ssize(start) == grid.cells())
    u = (Eigen::Map<const Vector>(start.data(), grid.cells()).array() - range.coldest) / span;
  for (const HeldCell& held : grid.held) u[held.cell] = 0.0;
  KeptHierarchy own;
  const Converged reached = converge_in_either_precision(balance, kept ? *kept : own, options, u);

  // 3. No cell is colder than the coldest air or warmer than the warmest (the maximum principle); 1e-9 of
  //    the range is rounding times the condition numbers met here.
  if (!(u.minCoeff() >= -1e-9 && u.maxCoeff() <= 1.0 + 1e-9))
    throw SolverError("a temperature lies outside those of the surroundings");

  TemperatureField field;
  field.celsius.resize(static_cast<std::size_t>(grid.cells()));
  Eigen::Map<Vector>(field.celsius.data(), grid.cells()) = (range.coldest + span * u.array()).matrix();
  for (const HeldCell& held : grid.held) field.celsius[static_cast<std::size_t>(held.cell)] = held.celsius;
  field.report = {reached.iterations, reached.residual, 0.0};
  field.report.heat_imbalance = heat_flows(grid, air, field).imbalance();
  // [ISO10211] asks for 1e-4; a solve that misses 1e-6 has something wrong with it.
  if (!(field.report.heat_imbalance <= 1e-6))
    throw SolverError(
        fmt::format("heat in and heat out differ by {:.1e} of their size", field.report.heat_imbalance));
  return field;
}

}  // namespace coldbay
