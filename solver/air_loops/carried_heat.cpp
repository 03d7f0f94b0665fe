#include "solver/air_loops/carried_heat.hpp"

#include <fmt/core.h>

#include <Eigen/Core>
#include <array>
#include <cmath>

#include "solver/air_loops/gmres.hpp"
#include "solver/air_loops/march.hpp"
#include "solver/discretisation.hpp"
#include "solver/heat_balance.hpp"
#include "solver/multigrid/hierarchy.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

using Vector = Eigen::VectorXd;

struct Balance {
  HeatBalance conducted;
  std::vector<Radiated> across_gaps;
  std::vector<CellFlow> carried;  ///< `flow` in [W/K]

  void given(const Vector& u, Vector& out) const {
    heat_given(conducted.net, u, out);
    for (const Radiated& r : across_gaps) {
      const double difference = r.difference(u.data());
      for (std::size_t i = 0; i < 4; ++i) out[r.cell[i]] += r.weight[i] * r.conductance * difference;
    }
    for (const CellFlow& c : carried) out[c.to] += c.flow * (u[c.to] - u[c.from]);
  }
};

/// The diagonal of the balance.
Vector diagonal_of(const Balance& balance) {
  const Network<double>& net = balance.conducted.net;
  const Index M = net.columns();
  Vector d = Vector::Zero(M * net.depth);
  for (Index k = 0; k < net.depth; ++k)
    for (Index c = 0; c < std::ssize(net.to_air[at(k)]); ++c) d[c + M * k] += net.to_air[at(k)][at(c)];
  const auto add = [&](Index step, const std::vector<double>& G) {
    for (Index c = 0; c + step < d.size() && !G.empty(); ++c) {
      d[c] += G[at(c)];
      d[c + step] += G[at(c)];
    }
  };
  add(1, net.sideways[0]);
  add(net.across, net.sideways[1]);
  add(M, net.outward);
  for (const CellFlow& c : balance.carried) d[c.to] += c.flow;
  return d;
}

/// The march for the air of a balance. Of what is radiated it takes what is between cells of air.
March march(const AirPaths& paths, const Balance& balance) {
  const Network<double>& net = balance.conducted.net;
  Vector d = diagonal_of(balance);
  std::vector<Entry> entries;
  entries.reserve(4 * balance.carried.size());
  const auto is_air = [&](Index cell) { return paths.row_of[at(cell)] >= 0; };
  const auto add = [&](Index step, const std::vector<double>& G) {
    for (Index c = 0; c + step < d.size() && !G.empty(); ++c)
      if (G[at(c)] != 0.0 && is_air(c) && is_air(c + step)) {
        entries.push_back({c, c + step, -G[at(c)]});
        entries.push_back({c + step, c, -G[at(c)]});
      }
  };
  add(1, net.sideways[0]);
  add(net.across, net.sideways[1]);
  add(net.columns(), net.outward);
  for (const CellFlow& c : balance.carried)
    if (is_air(c.from) && is_air(c.to)) entries.push_back({c.to, c.from, -c.flow});
  for (const Radiated& r : balance.across_gaps)
    for (const std::size_t i : {std::size_t{1}, std::size_t{2}}) {
      d[r.cell[i]] += r.conductance * r.weight[i] * r.weight[i];
      entries.push_back({r.cell[i], r.cell[3 - i], r.conductance * r.weight[1] * r.weight[2]});
    }
  return March(paths, balance.carried, d, entries);
}

std::vector<Radiated> all_radiated(const ConductivityGrid& grid) {
  std::vector<Radiated> all;
  all.reserve(grid.facing.size());
  for (const FacingPair& pair : grid.facing) all.push_back(radiated(grid, pair));
  return all;
}

/// A network that is symmetric and near the balance, for multigrid.
Network<double> nearby(ConductivityGrid grid, const Surroundings& air, const std::vector<CellFlow>& carried) {
  for (const FacingPair& f : grid.facing) {
    const auto along = static_cast<std::size_t>(f.d);
    const Index step = stride(grid, f.d);
    double t = 0.0;
    for (Index c = f.low_air; c <= f.high_air; c += step)
      t += grid.axis[along].width(place_of(grid, c)[along]);
    for (Index c = f.low_air; c <= f.high_air; c += step) grid.conductivity[along][at(c)] += f.radiative * t;
  }
  Network<double> net = network(grid, air);
  for (const CellFlow& c : carried) {
    const Index low = std::min(c.from, c.to), step = std::abs(c.to - c.from);
    if (net.across > 1 && step == 1)
      net.sideways[0][at(low)] += 0.5 * c.flow;
    else if (step == net.columns())
      net.outward[at(low)] += 0.5 * c.flow;
    else
      net.sideways[1][at(low)] += 0.5 * c.flow;
  }
  return net;
}

Vector right_side(const HeatBalance& balance) {
  const Index M = balance.net.columns();
  Vector b = Vector::Zero(M * balance.net.depth);
  for (Index k = 0; k < balance.net.depth; ++k)
    for (Index c = 0; c < std::ssize(balance.from_air[at(k)]); ++c)
      b[c + M * k] = balance.from_air[at(k)][at(c)];
  return b;
}

}  // namespace

TemperatureField solve_with_flow(const ConductivityGrid& grid, const Surroundings& air,
                                 const MovingAir& moving, const SolverOptions& options,
                                 const std::vector<double>& start) {
  require_solvable(grid, air, options);
  const TemperatureRange range = range_of(grid, air);
  const double span = range.warmest - range.coldest;

  // 1. The heat balance of every cell, in dimensionless temperature.
  Balance balance{heat_balance(grid, air, range), all_radiated(grid), cell_flows(moving.paths, moving.flows)};
  for (CellFlow& c : balance.carried) c.flow *= moving.heat_capacity();
  const Vector b = right_side(balance.conducted);

  // 2. Minimal residuals with multigrid.
  Hierarchy<float> grids = hierarchy<float>(nearby(grid, air, balance.carried));
  const Index M = balance.conducted.net.columns();
  const March air_alone = march(moving.paths, balance);
  Vector left(grid.cells()), more(grid.cells());
  const auto multigrid = [&](const Vector& r, Vector& z) {
    const double scale = 1.0 / std::max(r.norm(), 1e-300);
    for (Index k = 0; k < balance.conducted.net.depth; ++k) give(grids, M * k, M, r.data() + M * k, scale);
    cycle(grids);
    for (Index k = 0; k < balance.conducted.net.depth; ++k) take(grids, M * k, M, z.data() + M * k, scale);
  };
  const auto precondition = [&](const Vector& r, Vector& z) {
    multigrid(r, z);
    balance.given(z, left);
    left = r - left;
    air_alone.solve(left, more);
    z += more;
  };
  Vector u = Vector::Zero(grid.cells());
  if (std::ssize(start) == grid.cells())
    u = (Eigen::Map<const Vector>(start.data(), grid.cells()).array() - range.coldest) / span;
  for (const HeldCell& held : grid.held) u[held.cell] = 0.0;
  constexpr int most = 400;
  constexpr double least = 1e-15, never_more = 1e-6;
  Converged reached;
  for (double wanted = options.relative_residual;; wanted *= 0.01) {
    const Converged next = gmres(
        b, [&](const Vector& v, Vector& out) { balance.given(v, out); }, precondition, wanted,
        most - reached.iterations, u);
    reached = {reached.iterations + next.iterations, next.residual};
    if (!(next.residual <= wanted) || wanted < least ||
        imbalance_of(balance.conducted, u) <= options.heat_balance)
      break;
  }
  const double allowed =
      std::max(options.relative_residual, std::min(never_more, rounding_floor(balance.conducted, u)));
  if (!(reached.residual <= allowed))
    throw SolverError(
        fmt::format("with air that loops no convergence after {} iterations: residual {:.1e}, "
                    "wanted {:.1e}",
                    reached.iterations, reached.residual, allowed));

  // 3. The maximum principle, and the balance.
  if (!(u.minCoeff() >= -1e-9 && u.maxCoeff() <= 1.0 + 1e-9))
    throw SolverError("a temperature lies outside those of the surroundings");
  TemperatureField field;
  field.celsius.resize(at(grid.cells()));
  Eigen::Map<Vector>(field.celsius.data(), grid.cells()) = (range.coldest + span * u.array()).matrix();
  for (const HeldCell& held : grid.held) field.celsius[at(held.cell)] = held.celsius;
  field.report = {reached.iterations, reached.residual, heat_flows(grid, air, field).imbalance()};
  if (!(field.report.heat_imbalance <= 1e-6))
    throw SolverError(
        fmt::format("heat in and heat out differ by {:.1e} of their size", field.report.heat_imbalance));
  return field;
}

}  // namespace coldbay
