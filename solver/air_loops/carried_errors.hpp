#pragma once

#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "solver/air_loops/moving_air.hpp"
#include "solver/refinement/strip_errors.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// What the size of the cells costs where air carries heat, strip by strip, as StripErrors has it for
/// conduction: taken from the cell it comes from, carried heat spreads as if the air conducted g h / 2 more
/// along its way, and that dissipates g dT^2 / 2 at every face [Patankar1980]. As a share of `passing` [W per
/// metre of width] times `span` [K].
StripErrors carried_errors(const ConductivityGrid& grid, const TemperatureField& field,
                           const MovingAir& moving, double passing, double span);

}  // namespace coldbay
