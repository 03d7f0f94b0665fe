#pragma once

#include <vector>

#include "geometry/air_cavities.hpp"
#include "geometry/conductivity_grid.hpp"
#include "geometry/rasterise.hpp"
#include "geometry/section.hpp"
#include "solver/air_loops/moving_air.hpp"
#include "solver/solve.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// A section whose air spaces and temperatures agree: the conductivities follow from the temperatures
/// that they lead to.
struct Settled {
  ConductivityGrid grid;
  TemperatureField field;
  int rounds = 0;            ///< solves it took
  double last_change = 0.0;  ///< of the heat flow by the last round, relative
};

/// How far the heat flow through the section may still change [-].
inline constexpr double settled = 1e-6;
inline constexpr int most_rounds = 20;  ///< bundled cases take up to 8

/// Solves a painted section again and again, each time with the conductivities that air spaces and materials
/// have at the temperatures of the round before, until the heat flow changes by less than `settled`. `air` is
/// where it starts, and is left at what was found.
///
/// `start` is a temperature for every cell to begin with [degC], or empty.
///
/// The heat goes through a cavity in the direction it mostly takes in the first round; where both are about
/// as much, the one `air` came with.
///
/// Throws SolverError where a solve fails or most_rounds do not settle it.
Settled settle(const Section& section, const Painting& painting, const Surroundings& surroundings,
               AirSpaces& air, const SolverOptions& options, std::vector<double> start = {});

/// How much more or less than the flows tried those may be that they drive [-]. U changes by less than half
/// of that, and flows that are found by the secant rule are far nearer than the last change says.
inline constexpr double flows_settled = 2e-4;
inline constexpr int most_rounds_with_flow = 60;  ///< bundled cases take up to 12

/// The same where air loops: each round with the flows that are looked for (FlowSearch), until neither the
/// heat nor the flows change. Where the surroundings say that air in gaps is still nothing flows, and all
/// else is the same: the difference is what the loop does. `moving` is left with the flows found. It may come
/// with the strength of those of another grid; without a `start` the first round is still.
///
/// Throws SolverError where a solve fails or most_rounds_with_flow do not settle it.
Settled settle(const Section& section, const Painting& painting, const Surroundings& surroundings,
               AirSpaces& air, MovingAir& moving, const SolverOptions& options,
               std::vector<double> start = {});

}  // namespace coldbay
