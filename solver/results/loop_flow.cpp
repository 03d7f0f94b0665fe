#include "solver/results/loop_flow.hpp"

#include <algorithm>
#include <cmath>

#include "solver/discretisation.hpp"

namespace coldbay {
namespace {

/// The heights of a row of cells.
Span heights_of(const AirPaths::Row& row, Direction up, const ConductivityGrid& grid) {
  const auto d = static_cast<std::size_t>(up);
  const Index first = place_of(grid, row.first)[d];
  return {grid.axis[d].edge(first), grid.axis[d].edge(first + (row.across == up ? row.count : 1))};
}

/// The middle of a gap in depth.
double depth_of(const AirPaths::Row& row, const ConductivityGrid& grid) {
  constexpr auto d = static_cast<std::size_t>(Direction::depth);
  return grid.axis[d].edge(place_of(grid, row.first)[d]) + 0.5 * row.thickness;
}

}  // namespace

std::optional<LoopFlow> loop_flow(const MovingAir& moving, const ConductivityGrid& grid) {
  const AirPaths& paths = moving.paths;
  if (paths.empty()) return std::nullopt;
  LoopFlow found;
  found.loops.assign(at(paths.parts), {{INFINITY, -INFINITY}});
  for (std::size_t r = 0; r < paths.rows.size(); ++r) {
    const AirPaths::Row& row = paths.rows[r];
    const Span heights = heights_of(row, paths.up, grid);
    Span& up = found.loops[at(paths.part_of[r])].up;
    up = {std::min(up.from, heights.from), std::max(up.to, heights.to)};
    if (row.across == Direction::depth) found.widest = std::max(found.widest, row.thickness);
  }
  for (std::size_t l = 0; l < moving.flows.size(); ++l) {
    const AirPaths::Link& link = paths.links[l];
    const AirPaths::Row &a = paths.rows[at(link.a)], &b = paths.rows[at(link.b)];
    if (a.across != b.across || a.height == b.height) continue;
    const double flow = std::abs(moving.flows[l]);
    if (a.across == Direction::depth)
      found.gaps.push_back({{0.5 * (a.height + b.height), 0.5 * (depth_of(a, grid) + depth_of(b, grid))},
                            b.height > a.height ? moving.flows[l] : -moving.flows[l]});
    Loop& loop = found.loops[at(paths.part_of[at(link.a)])];
    if (flow <= loop.flow) continue;
    loop.flow = flow;
    loop.speed = flow / std::min(a.thickness, b.thickness);
    loop.reynolds = 2.0 * flow * moving.air.density / moving.air.viscosity;
  }
  constexpr double nothing = 2e-6;  // [m2/s]: a gap of 1 mm at 20 K lets through less, and less than 0.3 W/K
  std::erase_if(found.loops, [](const Loop& loop) { return loop.flow <= nothing; });
  if (found.loops.empty()) return std::nullopt;
  std::stable_sort(found.loops.begin(), found.loops.end(),
                   [](const Loop& a, const Loop& b) { return a.flow > b.flow; });
  found.flow = found.loops[0].flow;
  found.speed = found.loops[0].speed;
  found.reynolds = found.loops[0].reynolds;
  return found;
}

}  // namespace coldbay
