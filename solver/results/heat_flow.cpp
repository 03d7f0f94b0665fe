#include "solver/results/heat_flow.hpp"

#include <algorithm>
#include <cmath>

#include "solver/discretisation.hpp"

namespace coldbay {

double HeatFlows::passing() const {
  return 0.5 * (std::abs(inside) + std::abs(outside) + std::abs(left) + std::abs(right) +
                (held - 2.0 * held_takes));
}

double HeatFlows::imbalance() const {
  return passing() > 0.0 ? std::abs(inside + outside + left + right + held) / passing() : 0.0;
}

HeatFlows heat_flows(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field) {
  HeatFlows flows;
  const auto through = [&](Direction d, End end) -> double& {
    const bool low = end == End::low;
    return d == Direction::depth ? (low ? flows.inside : flows.outside) : (low ? flows.left : flows.right);
  };
  const auto from_held = [&](double Q) {
    flows.held += Q;
    flows.held_takes += std::min(Q, 0.0);
  };
  for_each_outer_face(grid, air, [&](Index cell, Direction d, End end, const Exchange& e, double G) {
    through(d, end) += G * (e.temperature - field.celsius[static_cast<std::size_t>(cell)]);
  });
  for_each_held_face(grid, [&](Index cell, Direction, End, const HeldCell& held, double G) {
    from_held(G * (held.celsius - field.celsius[static_cast<std::size_t>(cell)]));
  });
  for_each_held_outer_face(grid, air,
                           [&](Direction d, End end, const HeldCell& held, const Exchange& e, double G) {
                             const double Q = G * (e.temperature - held.celsius);
                             through(d, end) += Q;
                             from_held(-Q);
                           });
  return flows;
}

}  // namespace coldbay
