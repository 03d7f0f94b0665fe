#include "solver/results/loop_flow.hpp"

#include <algorithm>
#include <cmath>

namespace coldbay {

std::optional<LoopFlow> loop_flow(const MovingAir& moving) {
  if (moving.paths.empty()) return std::nullopt;
  LoopFlow found;
  for (std::size_t l = 0; l < moving.flows.size(); ++l) {
    const AirPaths::Link& link = moving.paths.links[l];
    const AirPaths::Row &a = moving.paths.rows[static_cast<std::size_t>(link.a)],
                        &b = moving.paths.rows[static_cast<std::size_t>(link.b)];
    if (a.across != b.across || a.height == b.height || std::abs(moving.flows[l]) <= found.flow) continue;
    found.flow = std::abs(moving.flows[l]);
    found.speed = found.flow / std::min(a.thickness, b.thickness);
    found.reynolds = 2.0 * found.flow * moving.air.density / moving.air.viscosity;
  }
  for (const AirPaths::Row& row : moving.paths.rows)
    if (row.across == Direction::depth) found.widest = std::max(found.widest, row.thickness);
  constexpr double nothing = 2e-6;  // [m2/s]: a gap of 1 mm at 20 K lets through less, and less than 0.3 W/K
  return found.flow > nothing ? std::optional(found) : std::nullopt;
}

}  // namespace coldbay
