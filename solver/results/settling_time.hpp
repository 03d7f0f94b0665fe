#pragma once

#include <string>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/rasterise.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// What every cell of a painted section takes to become 1 K warmer.
struct HeatCapacities {
  std::vector<double> per_cell;  ///< [J/K], in the order of the grid's cells, for 1 m of height
  /// Materials that show and whose density or specific heat is not known, each once; they count nothing, so a
  /// settling time reckoned without them is too short.
  std::vector<std::string> unknown;
};

/// Density times specific heat times volume; in cells crossed by a slanted edge the mean of their samples.
/// What is held at a temperature has none.
HeatCapacities heat_capacities(const Section& section, const Painting& painting);

/// How long a wall remembers. After a sudden change of the air on either side, what is left of the old state
/// dies away as exp(-t / time_constant) once the faster parts of it have gone.
struct SettlingTime {
  double time_constant = 0.0;  ///< the slowest of the wall [s]

  /// Time after a step until every temperature has come within this share of the change still before it [s]:
  /// 3.0 time constants for 5 %, 4.6 for 1 %. The slowest part is taken to carry the whole step. In a slab it
  /// carries up to 4/pi of it where that is largest, which makes a quarter of a time constant more.
  double to_within(double share) const;
};

/// The slowest time constant of the wall as it is on this grid: 1/mu of the smallest eigenvalue of
///
///     A v = mu C v,
///
/// A the steady heat balance (assemble.hpp) with the films of the surroundings, C the heat capacities of the
/// cells. By Lanczos's iteration for the largest 1/mu [Lanczos1950], each step a solve by multigrid, to 1e-4
/// at worst. mu is as good as the grid: second order, where materials meet on its lines. Conductivities are
/// those of the grid; an air space's would change a little on the way.
///
/// `capacities` [J/K], one per cell, 0 or more: those of heat_capacities times the height of the grid. What
/// is held stays as it is.
///
/// Throws SolverError where nothing has a capacity, no face exchanges heat, a number is not finite, or the
/// iteration does not settle.
SettlingTime settling_time(const ConductivityGrid& grid, const Surroundings& air,
                           const std::vector<double>& capacities);

}  // namespace coldbay
