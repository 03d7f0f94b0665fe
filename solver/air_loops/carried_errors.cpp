#include "solver/air_loops/carried_errors.hpp"

#include <cmath>

#include "solver/discretisation.hpp"

namespace coldbay {

StripErrors carried_errors(const ConductivityGrid& grid, const TemperatureField& field,
                           const MovingAir& moving, double passing, double span) {
  StripErrors errors{std::vector<double>(static_cast<std::size_t>(grid[Direction::across].cells()), 0.0),
                     std::vector<double>(static_cast<std::size_t>(grid[Direction::depth].cells()), 0.0)};
  for (const CellFlow& f : cell_flows(moving.paths, moving.flows)) {
    const double dT =
        field.celsius[static_cast<std::size_t>(f.to)] - field.celsius[static_cast<std::size_t>(f.from)];
    const double error = 0.5 * moving.heat_capacity() * f.flow * dT * dT / (passing * span);
    const bool in_depth = std::abs(f.to - f.from) == stride(grid, Direction::depth);
    for (const Index cell : {f.from, f.to}) {
      const auto at = place_of(grid, cell);
      (in_depth ? errors.depth : errors.across)[static_cast<std::size_t>(at[in_depth ? 2 : 0])] +=
          0.5 * error;
    }
  }
  return errors;
}

}  // namespace coldbay
