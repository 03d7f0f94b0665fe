#include "solver/solve.hpp"

#include <fmt/core.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "solver/assemble.hpp"
#include "solver/conjugate_gradients.hpp"
#include "solver/heat_balance.hpp"
#include "solver/multigrid/hierarchy.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

using Vector = Eigen::VectorXd;

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
