#include "solver/results/heat_flow.hpp"

#include <cmath>

#include "solver/discretisation.hpp"

namespace coldbay {

double HeatFlows::passing() const {
  return 0.5 * (std::abs(inside) + std::abs(outside) + std::abs(left) + std::abs(right));
}

double HeatFlows::imbalance() const {
  return passing() > 0.0 ? std::abs(inside + outside + left + right) / passing() : 0.0;
}

HeatFlows heat_flows(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field) {
  HeatFlows flows;
  for_each_outer_face(grid, air, [&](Index cell, Direction d, End end, const Exchange& e, double G) {
    const double Q = G * (e.temperature - field.celsius[static_cast<std::size_t>(cell)]);
    const bool low = end == End::low;
    (d == Direction::depth ? (low ? flows.inside : flows.outside) : (low ? flows.left : flows.right)) += Q;
  });
  return flows;
}

}  // namespace coldbay
