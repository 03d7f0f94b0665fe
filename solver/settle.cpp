#include "solver/settle.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "solver/air_loops/carried_heat.hpp"
#include "solver/air_loops/flow_search.hpp"
#include "solver/discretisation.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/results/surface.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

/// What the field says of one cavity: mean temperatures of its faces at either end of both directions,
/// weighted by their length.
struct Faces {
  std::array<std::array<double, 2>, 3> sum{}, length{};
  double mean(Direction d, End end) const {
    const auto i = static_cast<std::size_t>(d), e = static_cast<std::size_t>(end);
    return length[i][e] > 0.0 ? sum[i][e] / length[i][e] : NAN;
  }
};

std::vector<Faces> faces_of(const AirSpaces& air, const ConductivityGrid& grid,
                            const Surroundings& surroundings, const TemperatureField& field) {
  std::vector<Faces> faces(air.cavities.size());
  for_each_cell(grid, [&](const std::array<Index, 3>& ijk, Index cell) {
    const int cavity = air.of_cell[static_cast<std::size_t>(cell)];
    if (cavity < 0) return;
    for (const Direction d : {Direction::across, Direction::depth}) {
      const auto i = static_cast<std::size_t>(d);
      for (const End end : {End::low, End::high}) {
        const bool edge = ijk[i] == (end == End::low ? 0 : grid.axis[i].cells() - 1);
        const Index next = cell + (end == End::low ? -stride(grid, d) : stride(grid, d));
        if (!edge && air.of_cell[static_cast<std::size_t>(next)] == cavity) continue;
        const double length = face_area(grid, ijk, d);
        const auto e = static_cast<std::size_t>(end);
        faces[static_cast<std::size_t>(cavity)].sum[i][e] +=
            length * face_temperature(grid, surroundings, field, ijk, d, end);
        faces[static_cast<std::size_t>(cavity)].length[i][e] += length;
      }
    }
  });
  return faces;
}

/// How many times the heat of the one way makes the other the lesser; what turns a cavity is below 1.2 in the
/// cases seen to flip.
constexpr double clearly = 1.5;

/// Sets the state of every cavity from the field, and its conductivity from its state.
void follow(AirSpaces& air, AirRule rule, const std::vector<Faces>& faces, bool may_turn) {
  for (std::size_t i = 0; i < air.cavities.size(); ++i) {
    AirCavity& c = air.cavities[i];
    const auto difference = [&](Direction d) {
      return std::abs(faces[i].mean(d, End::low) - faces[i].mean(d, End::high));
    };
    if (may_turn) {
      // Heat per metre of wall through the cavity: flux times the width it crosses.
      const double outward = difference(Direction::depth) / c.depth.length() * c.across.length();
      const double sideways = difference(Direction::across) / c.across.length() * c.depth.length();
      // As before, unless the other way clearly takes more: where both take about as much, which of them is
      // more depends on which is taken for more, and every finer grid would turn it round again.
      const bool turned = c.heat_goes == Direction::across;
      const bool across = turned ? outward <= clearly * sideways : sideways > clearly * outward;
      c.heat_goes = across ? Direction::across : Direction::depth;
    }
    for (const Direction d : {Direction::depth, Direction::across}) {
      AirState& state = d == Direction::depth ? c.outward : c.sideways;
      state.difference = difference(d);
      state.mean_temperature = 0.5 * (faces[i].mean(d, End::low) + faces[i].mean(d, End::high));
    }
    apply_rule(c, rule);
  }
}

}  // namespace

Settled settle(const Section& section, const Painting& painting, const Surroundings& surroundings,
               AirSpaces& air, const SolverOptions& options, std::vector<double> start) {
  const auto follows = [](const Material& m) { return m.law.has_value(); };
  const bool once =
      air.cavities.empty() && std::none_of(section.materials.begin(), section.materials.end(), follows);
  double before = NAN;
  std::vector<double> celsius = std::move(start);
  KeptHierarchy kept;  // conductivities change little from round to round
  for (int round = 1; round <= most_rounds; ++round) {
    ConductivityGrid grid = conductivity_grid(section, painting, air, celsius);
    TemperatureField field = solve(grid, surroundings, options, celsius, &kept);
    const HeatFlows flows = heat_flows(grid, surroundings, field);
    const double heat = std::abs(flows.inside) + std::abs(flows.outside) + std::abs(flows.held);
    const double change = std::abs(heat - before) / heat;
    if (once || change < settled) return {std::move(grid), std::move(field), round, once ? 0.0 : change};
    before = heat;
    celsius = field.celsius;
    follow(air, section.air_rule, faces_of(air, grid, surroundings, field), round == 1);
  }
  throw SolverError(
      fmt::format("the air spaces and conductivities did not settle in {} rounds", most_rounds));
}

Settled settle(const Section& section, const Painting& painting, const Surroundings& surroundings,
               AirSpaces& air, MovingAir& moving, const SolverOptions& options, std::vector<double> start) {
  double before = NAN;
  std::vector<double> celsius = std::move(start);
  FlowSearch search(moving.paths);
  begin_flow(moving, surroundings.gaps == AirInGaps::still ? std::vector<double>{} : celsius);
  // On the way flows need not be better known than they are right.
  SolverOptions rough = options;
  const auto solve_to = [&](double flow_error) {
    rough.relative_residual = std::clamp(1e-3 * flow_error, options.relative_residual, 1e-6);
    rough.heat_balance = std::max(options.heat_balance, 0.1 * rough.relative_residual);
  };
  solve_to(1.0);
  for (int round = 1; round <= most_rounds_with_flow; ++round) {
    ConductivityGrid grid = conductivity_grid(section, painting, air, celsius);
    part_radiation(grid, moving, air, section.air_rule);
    TemperatureField field = solve_with_flow(grid, surroundings, moving, rough, celsius);
    const HeatFlows flows = heat_flows(grid, surroundings, field);
    const double heat = std::abs(flows.inside) + std::abs(flows.outside) + std::abs(flows.held);
    const double change = std::abs(heat - before) / heat;
    const LinkFlows driven = surroundings.gaps == AirInGaps::still
                                 ? moving.flows
                                 : driven_flows(moving.paths, field.celsius, moving.air, moving.flows);
    const double flow_error = flow_change(moving.flows, driven);
    const bool last = change < 0.5 * flows_settled && flow_error < flows_settled;
    if (last && rough.relative_residual <= options.relative_residual)
      return {std::move(grid), std::move(field), round, change};
    before = heat;
    celsius = field.celsius;
    follow(air, section.air_rule, faces_of(air, grid, surroundings, field), round == 1);
    moving.flows = search.next(moving.flows, driven);
    solve_to(last ? 0.0 : flow_error);
  }
  throw SolverError(fmt::format("the air that loops did not settle in {} rounds", most_rounds_with_flow));
}

}  // namespace coldbay
