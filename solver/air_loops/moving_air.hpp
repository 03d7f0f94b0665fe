#pragma once

#include <functional>
#include <vector>

#include "geometry/air_cavities.hpp"
#include "geometry/rasterise.hpp"
#include "solver/air_loops/air_flow.hpp"

namespace coldbay {

/// The air that loops in a section or a block: where it can go, what it is, and how it flows.
struct MovingAir {
  AirPaths paths;
  AirProperties air;
  LinkFlows flows;  ///< empty before the first solve
  /// Of each connected part: the flow times the way it goes up or down, summed up [m4/s]. The same on any
  /// grid.
  std::vector<double> strength;

  /// rho c [J/(m3 K)]
  double heat_capacity() const { return air.density * air.specific_heat; }
};

/// Where air can loop in a painted section whose first axis runs up, a vertical cut. The air is taken as it
/// is halfway between inside and outside. Empty paths for any other section.
MovingAir moving_air(const Section& section, const Painting& painting, const Surroundings& surroundings);

/// Flows to begin with: those that the temperatures drive [degC], or none where those are empty, at the
/// strength that the loops had on another grid where it is known.
void begin_flow(MovingAir& moving, const std::vector<double>& celsius);

/// The strength of the flows.
std::vector<double> strength_of(const MovingAir& moving);

/// In gaps that are channels, lets the air conduct as still air does and the faces radiate past it
/// (ConductivityGrid::facing). Wider ones stay as the rule for air spaces has them.
///
/// `is_air`: of a cell, whether it is an air space; `radiative`: of a row, the coefficient of radiation
/// [W/(m2 K)].
void part_radiation(ConductivityGrid& grid, const MovingAir& moving, const std::function<bool(Index)>& is_air,
                    const std::function<double(const AirPaths::Row&)>& radiative);
void part_radiation(ConductivityGrid& grid, const MovingAir& moving, const AirSpaces& spaces, AirRule rule);

}  // namespace coldbay
