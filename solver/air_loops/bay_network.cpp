#include "solver/air_loops/bay_network.hpp"

#include <Eigen/Sparse>
#include <algorithm>
#include <cmath>

#include "solver/air_loops/bay_heat.hpp"
#include "solver/air_loops/bay_mesh.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

using Index = Eigen::Index;
using Vector = Eigen::VectorXd;
using Sparse = Eigen::SparseMatrix<double>;
using Triplets = std::vector<Eigen::Triplet<double>>;

double largest(const Vector& v) { return v.lpNorm<Eigen::Infinity>(); }

/// The first node of each part of the network that hangs together.
std::vector<Index> one_of_each_part(const BayMesh& mesh) {
  std::vector<Index> head(static_cast<std::size_t>(mesh.nodes));
  const auto at = [&head](Index n) -> Index& { return head[static_cast<std::size_t>(n)]; };
  for (Index n = 0; n < mesh.nodes; ++n) at(n) = n;
  const auto find = [&at](Index n) {
    while (at(n) != n) n = at(n) = at(at(n));
    return n;
  };
  for (const AirLink& link : mesh.links) {
    const Index a = find(link.from), b = find(link.to);
    at(std::max(a, b)) = std::min(a, b);
  }
  std::vector<Index> firsts;
  for (Index n = 0; n < mesh.nodes; ++n)
    if (find(n) == n) firsts.push_back(n);
  return firsts;
}

/// What the flows obey: flow = conductance (S' p + lift m + losses), S flow = 0, with m the means of the
/// nodes.
class Flow {
 public:
  Flow(const BayMesh& mesh, const AirProperties& air, double difference)
      : mesh_(mesh), air_(air), parts_(one_of_each_part(mesh)) {
    buoyancy_ = air.density * rounded_gravity * air.expansion * difference;
    Triplets ends, lifts;
    ends.reserve(2 * mesh.links.size());
    lifts.reserve(2 * mesh.links.size());
    for (std::size_t l = 0; l < mesh.links.size(); ++l) {
      const AirLink& link = mesh.links[l];
      ends.emplace_back(link.from, static_cast<Index>(l), 1.0);
      ends.emplace_back(link.to, static_cast<Index>(l), -1.0);
      lifts.emplace_back(static_cast<Index>(l), link.from, buoyancy_ * link.lift_from);
      lifts.emplace_back(static_cast<Index>(l), link.to, buoyancy_ * link.lift_to);
      unhindered_ = std::max(unhindered_, std::abs(buoyancy_) * (link.lift_from + link.lift_to) *
                                              link.conductance / air.viscosity);
    }
    S_ = sparse(mesh.nodes, std::ssize(mesh.links), ends);
    lift_ = sparse(std::ssize(mesh.links), mesh.nodes, lifts);
  }

  /// About these flows: losses go with the square of a flow, so twice as much is lost on what flows more; and
  /// where it is warmer above, what flows up there comes colder, and is driven less. `slopes_of_means` and
  /// `downstream` are those of the heat.
  void linearise(const Vector& flows, const Vector& slopes_of_means, const std::vector<Index>& downstream) {
    conductance_.resize(flows.size());
    kept_ = Vector::Zero(flows.size());
    for (Index l = 0; l < flows.size(); ++l) {
      const AirLink& link = mesh_.links[static_cast<std::size_t>(l)];
      const double lift = downstream[static_cast<std::size_t>(l)] == link.to ? link.lift_to : link.lift_from;
      double resistance = air_.viscosity / link.conductance,
             slope = std::max(0.0, -buoyancy_ * lift * slopes_of_means[l]);
      if (link.heads > 0.0) {
        const double loss = link.heads * 0.5 * air_.density * std::abs(flows[l]) / (link.area * link.area);
        resistance += loss;
        slope += loss;
      }
      conductance_[l] = 1.0 / (resistance + slope);
      kept_[l] = slope * flows[l];
    }
    from_pressure_ = conductance_.asDiagonal() * Sparse(S_.transpose());
    held_ = S_ * from_pressure_;
    // Sources of a part add up to nothing, so this holds its pressure and lets nothing through.
    const double like_the_others = held_.diagonal().mean();
    for (const Index node : parts_) held_.coeffRef(node, node) += like_the_others;
  }

  /// The flows that go with these means, at the losses linearised.
  Vector driven(const Vector& means) const {
    const Vector source = conductance_.cwiseProduct(lift_ * means + kept_);
    const Eigen::SimplicialLDLT<Sparse> pressure(held_);
    if (pressure.info() != Eigen::Success) throw SolverError("the pressures in a bay could not be found");
    return from_pressure_ * pressure.solve(-(S_ * source)) + source;
  }

  const Sparse& S() const { return S_; }
  const Sparse& pressures() const { return held_; }               ///< S C S', one pressure of each part held
  const Sparse& from_pressure() const { return from_pressure_; }  ///< C S'
  Sparse from_means() const { return conductance_.asDiagonal() * lift_; }
  Vector from_slopes() const { return conductance_.cwiseProduct(kept_); }
  double unhindered() const { return unhindered_; }  ///< what all the buoyancy would drive in the widest gap

 private:
  const BayMesh& mesh_;
  AirProperties air_;
  std::vector<Index> parts_;
  Sparse S_, lift_, from_pressure_, held_;
  Vector conductance_, kept_;
  double buoyancy_ = 0.0;  ///< [Pa/m]
  double unhindered_ = 0.0;
};

constexpr int usual_steps = 6, most_steps = 60;

struct State {
  Vector flows, leaving;
};

/// The flows and temperatures that obey both at once, linearised about a state.
State newton_step(Flow& flow, const BayHeat& heat, const State& at) {
  std::vector<Index> downstream;
  downstream.reserve(static_cast<std::size_t>(at.flows.size()));
  for (Index l = 0; l < at.flows.size(); ++l)
    downstream.push_back(heat.downstream(static_cast<std::size_t>(l)));
  flow.linearise(at.flows, heat.slopes_of_means(at.leaving), downstream);
  const Index n = at.leaving.size();
  const Sparse to_heat = heat.slopes(at.leaving), from_leaving = flow.from_means() * heat.averages();
  // Interleaved, so that what belongs to a node stands together; the flows in the unit of their heat.
  const double unit = heat.capacity();
  Triplets entries;
  const auto put = [&entries](const Sparse& block, Index row, Index column, double factor) {
    for (Index k = 0; k < block.outerSize(); ++k)
      for (Sparse::InnerIterator it(block, k); it; ++it)
        entries.emplace_back(2 * it.row() + row, 2 * it.col() + column, factor * it.value());
  };
  put(flow.pressures(), 0, 0, unit);
  put(flow.S() * from_leaving, 0, 1, unit);
  put(to_heat * flow.from_pressure(), 1, 0, 1.0);
  put(heat.matrix() + Sparse(to_heat * from_leaving), 1, 1, 1.0);
  const Vector slopes = flow.from_slopes(), to_nodes = -unit * (flow.S() * slopes),
               to_air = heat.given() + to_heat * (at.flows - slopes);
  Vector known(2 * n);
  for (Index i = 0; i < n; ++i) known.segment<2>(2 * i) << to_nodes[i], to_air[i];
  Eigen::SparseLU<Sparse> lu;
  lu.compute(sparse(2 * n, 2 * n, entries));
  if (lu.info() != Eigen::Success) throw SolverError("the air in a bay could not be solved for");
  const Vector found = lu.solve(known);
  Vector pressure(n), leaving(n);
  for (Index i = 0; i < n; ++i) {
    pressure[i] = found[2 * i];
    leaving[i] = found[2 * i + 1];
  }
  return {flow.from_pressure() * pressure + from_leaving * leaving + slopes, leaving};
}

void describe(const BayMesh& mesh, const AirProperties& air, const LoopModel& model, const Vector& flows,
              SteadyLoop& loop) {
  std::vector<double> up(static_cast<std::size_t>(mesh.rows) + 1, 0.0);
  for (std::size_t l = 0; l < mesh.links.size(); ++l) {
    const AirLink& link = mesh.links[l];
    const double flow = flows[static_cast<Index>(l)];
    if (link.area > 0.0) loop.velocity = std::max(loop.velocity, std::abs(flow) / link.area);
    if (link.room_row) up[static_cast<std::size_t>(*link.room_row)] += flow;
  }
  loop.flow = *std::max_element(up.begin(), up.end(), [](double a, double b) {
    return std::abs(a) < std::abs(b);
  }) / mesh.width;
  loop.reynolds = 2.0 * std::abs(loop.flow) * air.density / air.viscosity;
  double area = 0.0, exchanges = 0.0;
  for (const BayColumn& c : mesh.columns) {
    if (!(c.air_1 && c.air_2)) continue;
    area += c.area;
    exchanges += c.area * exchange_conductance(loop_column(c.layers, model.nusselt));
  }
  if (area > 0.0)
    loop.exchange_length = air.density * air.specific_heat * std::abs(loop.flow) * area / exchanges;
}

}  // namespace

SteadyLoop network_loop(const BayLoop& bay, const LoopModel& model, LoopStart start) {
  const BayMesh mesh = bay_mesh(bay, model);
  const AirProperties air = dry_air(0.5 * (bay.inside + bay.outside));
  BayHeat heat(mesh, air, model);
  Vector means = heat.still();
  SteadyLoop loop;
  loop.u_still = loop.u_loop = heat.flux(means).from_room;
  const bool has_air = std::any_of(mesh.columns.begin(), mesh.columns.end(),
                                   [](const BayColumn& c) { return c.air_1 || c.air_2; });
  if (bay.inside == bay.outside || !has_air) return loop;
  if (start == LoopStart::fastest)
    for (const BayColumn& c : mesh.columns) {
      if (c.air_1) means[*c.air_1] = 1.0;
      if (c.air_2) means[*c.air_2] = 0.0;
    }

  Flow flow(mesh, air, bay.inside - bay.outside);
  const Vector none = Vector::Zero(std::ssize(mesh.links));
  flow.linearise(none, none, std::vector<Index>(mesh.links.size()));
  // What is left of rounding where nothing can flow is nothing.
  const double nothing = 1e-9 * flow.unhindered();
  const auto without_rounding = [nothing](const Vector& flows) -> Vector {
    return (flows.array().abs() > nothing).select(flows, 0.0);
  };
  const auto finish = [&](const Vector& flows) {
    heat.set_flows(flows);
    const BayHeat::Flux flux = heat.flux(heat.averages() * heat.leaving());
    loop.u_loop = flux.from_room;
    loop.imbalance = std::abs(flux.from_room - flux.to_outside) / flux.from_room;
    describe(mesh, air, model, flows, loop);
    return loop;
  };

  State at{without_rounding(flow.driven(means)), means};
  // What the flows still change by carries less than a millionth of the heat of the bay.
  const double settled = 1e-6 * loop.u_still * mesh.width * mesh.height / heat.capacity();
  double damping = 1.0, change_before = 0.0, lowest = 0.0, highest = 0.0;
  for (int i = 0; i < most_steps; ++i) {
    heat.set_flows(at.flows);
    const State next = newton_step(flow, heat, at);
    const double change = largest(next.flows - at.flows);
    if (change <= settled) return finish(without_rounding(next.flows));
    // Where a flow turns back and forth from one step to the next, steps are made smaller until it does not.
    if (i > usual_steps)
      damping = change > 0.8 * change_before ? std::max(0.1, 0.7 * damping) : std::min(1.0, 1.4 * damping);
    change_before = change;
    // No temperature may change by more than half of all there is in one step.
    const double step = std::min(damping, 0.5 / largest(next.leaving - at.leaving));
    at.flows = without_rounding(at.flows + step * (next.flows - at.flows));
    at.leaving += step * (next.leaving - at.leaving);
    const double u = heat.flux(heat.averages() * next.leaving).from_room;
    lowest = i <= most_steps / 2 ? u : std::min(u, lowest);
    highest = i <= most_steps / 2 ? u : std::max(u, highest);
  }
  // Eddies in a corner that go on turning, and carry next to nothing.
  if (highest - lowest <= 1e-3 * highest) return finish(at.flows);
  throw SolverError("the air in a bay does not settle");
}

}  // namespace coldbay
