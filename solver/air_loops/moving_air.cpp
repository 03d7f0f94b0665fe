#include "solver/air_loops/moving_air.hpp"

#include <cmath>
#include <utility>

#include "solver/discretisation.hpp"

namespace coldbay {
MovingAir moving_air(const Section& section, const Painting& painting, const Surroundings& surroundings) {
  const AirProperties air =
      dry_air(0.5 * (surroundings.inside.temperature + surroundings.outside.temperature));
  if (section.cut != CutKind::vertical) return {{}, air, {}, {}};
  std::vector<Passage> passages(painting.shape.size());
  for (std::size_t c = 0; c < passages.size(); ++c) {
    if (painting.shape[c] >= section.shapes.size()) continue;  // crossed by an edge
    const Shape& shape = section.shapes[painting.shape[c]];
    const Material& m = section.materials[shape.material];
    if (m.airflow_resistivity) passages[c].permeability = permeability(*m.airflow_resistivity, air);
    passages[c].held = shape.held.has_value();
    passages[c].gap = m.is_air_space && !shape.held && !shape.slightly_ventilated && !shape.well_ventilated;
  }
  return {air_paths({painting.across, Axis({0.0, 1.0}), painting.depth}, passages, Direction::across),
          air,
          {},
          {}};
}

std::vector<double> strength_of(const MovingAir& moving) {
  std::vector<double> strength(at(moving.paths.parts), 0.0);
  for (std::size_t l = 0; l < moving.flows.size(); ++l) {
    const AirPaths::Link& link = moving.paths.links[l];
    const double rise = moving.paths.rows[at(link.b)].height - moving.paths.rows[at(link.a)].height;
    strength[at(moving.paths.part_of[at(link.a)])] += std::abs(moving.flows[l] * rise);
  }
  return strength;
}

void begin_flow(MovingAir& moving, const std::vector<double>& celsius) {
  moving.flows.assign(moving.paths.links.size(), 0.0);
  if (celsius.empty()) return;
  moving.flows = driven_flows(moving.paths, celsius, moving.air, {});
  if (std::ssize(moving.strength) != moving.paths.parts) return;
  const std::vector<double> driven = strength_of(moving);
  for (std::size_t l = 0; l < moving.flows.size(); ++l) {
    const std::size_t part = at(moving.paths.part_of[at(moving.paths.links[l].a)]);
    if (driven[part] > 0.0) moving.flows[l] *= moving.strength[part] / driven[part];
  }
}

void part_radiation(ConductivityGrid& grid, const MovingAir& moving, const std::function<bool(Index)>& is_air,
                    const std::function<double(const AirPaths::Row&)>& radiative) {
  for (const AirPaths::Row& row : moving.paths.rows) {
    if (row.thickness > widest_channel) continue;
    const Index last = row.first + (row.count - 1) * row.stride;
    const Index low = beside(grid, row.first, place_of(grid, row.first), row.across, End::low),
                high = beside(grid, last, place_of(grid, last), row.across, End::high);
    for (Index i = 0; i < row.count; ++i)
      for (auto& k : grid.conductivity)
        if (!k.empty()) k[at(row.first + i * row.stride)] = still_air_conductivity;
    if (low < 0 || high < 0 || is_air(low) || is_air(high) || held_cell(grid, low) || held_cell(grid, high))
      continue;
    grid.facing.push_back({row.across, low, row.first, last, high, radiative(row)});
  }
  sort_facing(grid);
}

void part_radiation(ConductivityGrid& grid, const MovingAir& moving, const AirSpaces& spaces, AirRule rule) {
  part_radiation(
      grid, moving, [&](Index cell) { return spaces.of_cell[at(cell)] >= 0; },
      [&](const AirPaths::Row& row) {
        const AirCavity& cavity = spaces.cavities[static_cast<std::size_t>(spaces.of_cell[at(row.first)])];
        return radiative_coefficient(cavity, row.across, rule);
      });
}

}  // namespace coldbay
