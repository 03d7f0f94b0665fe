#include "solver/solve.hpp"

#include <fmt/format.h>

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "solver/assemble.hpp"
#include "solver/discretisation.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

using Vector = Eigen::VectorXd;

/// A factorisation says "success" on nonsense (a NaN, a wall nothing heats), so look first.
void require_solvable(const ConductivityGrid& grid, const Surroundings& air, const SolverOptions& options) {
  if (grid.cells() > options.max_cells)
    throw SolverError(fmt::format("the grid has {} cells, more than the {} that are allowed", grid.cells(),
                                  options.max_cells));
  for (const Direction d : directions)
    for (const double k : grid.k(d))
      if (!(std::isfinite(k) && k > 0.0))
        throw SolverError(fmt::format("a cell has the conductivity {} W/mK", k));
  bool finite = true;
  double exchanging = 0.0;
  for_each_outer_face(grid, air, [&](Index, Direction, End, const Exchange& e, double G) {
    finite = finite && std::isfinite(e.temperature) && std::isfinite(G);
    exchanging += G;
  });
  if (!finite) throw SolverError("a temperature or a film beside the section is not a finite number");
  if (!(exchanging > 0.0))
    throw SolverError("no face of the section exchanges heat, so nothing fixes its temperature");
  const TemperatureRange range = range_of(air);
  if (!(range.warmest > range.coldest))
    throw SolverError("everything around the section is at one temperature, so no heat flows");
}

struct Solved {
  Vector u;
  int sweeps = 0;
  double residual = 0.0;
};

/// The relative residual that the best double-precision u may still have: four roundings of every term of
/// b - A u. A metal sheet on a face, whose conductances are 1e5 times the film's, sits above 1e-10.
double rounding_floor(const LinearSystem& system, const Vector& u) {
  const Vector terms = system.A.cwiseAbs() * u.cwiseAbs() + system.b.cwiseAbs();
  return 4.0 * std::numeric_limits<double>::epsilon() * terms.norm() / system.b.norm();
}

Solved factorise_and_refine(const ConductivityGrid& grid, const Surroundings& air,
                            const SolverOptions& options) {
  const TemperatureRange range = range_of(air);
  const LinearSystem system = assemble(grid, air, range);
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(system.A);
  if (factor.info() != Eigen::Success) throw SolverError("the matrix of the section could not be factorised");
  Solved s{Vector::Zero(system.b.size()), 0, 1.0};
  Vector r = system.b;
  // Sweep until the residual stops falling: rounding is the only error left then, and small flows
  // beside large conductances (a steel sheet) come out of the last digits.
  while (s.sweeps < options.max_iterations) {
    const Vector u = s.u + factor.solve(r);
    r = net_heat(grid, air, range, u);
    const double residual = r.norm() / system.b.norm();
    if (!(residual < 0.5 * s.residual)) break;
    s = {u, s.sweeps + 1, residual};
  }
  const double wanted = std::max(options.relative_residual, rounding_floor(system, s.u));
  if (!(s.residual <= wanted))  // NaN lands here too
    throw SolverError(fmt::format("no convergence after {} sweeps: residual {:.1e}, wanted {:.1e}", s.sweeps,
                                  s.residual, wanted));
  return s;
}

}  // namespace

TemperatureField solve(const ConductivityGrid& grid, const Surroundings& air, const SolverOptions& options) {
  require_solvable(grid, air, options);
  const TemperatureRange range = range_of(air);
  const Solved solved = factorise_and_refine(grid, air, options);

  // No cell is colder than the coldest air or warmer than the warmest (the maximum principle); 1e-9 of
  // the range is rounding times the condition numbers met here.
  if (!(solved.u.minCoeff() >= -1e-9 && solved.u.maxCoeff() <= 1.0 + 1e-9))
    throw SolverError("a temperature lies outside those of the surroundings");

  TemperatureField field;
  field.celsius.resize(static_cast<std::size_t>(grid.cells()));
  for (Index c = 0; c < grid.cells(); ++c)
    field.celsius[static_cast<std::size_t>(c)] =
        range.coldest + (range.warmest - range.coldest) * solved.u[c];
  field.report = {solved.sweeps, solved.residual, 0.0};
  field.report.heat_imbalance = heat_flows(grid, air, field).imbalance();
  // [ISO10211] asks for 1e-4; a solve that misses 1e-6 has something wrong with it.
  if (!(field.report.heat_imbalance <= 1e-6))
    throw SolverError(
        fmt::format("heat in and heat out differ by {:.1e} of their size", field.report.heat_imbalance));
  return field;
}

}  // namespace coldbay
