#pragma once

#include <vector>

#include "solver/air_loops/moving_air.hpp"
#include "solver/solve.hpp"

namespace coldbay {

/// Solves div(k grad T) = rho c v . grad T on the grid: conduction as solve() has it, radiation between the
/// faces that look at each other (grid.facing), and the heat that the flows carry, rho c q (T - T of the cell
/// it comes from), upwind. As much air comes to every cell as goes, so no heat is lost, and no temperature
/// leaves the range of the surroundings.
///
/// `start`: a temperature for every cell [degC], or
/// empty.
///
/// The matrix is not symmetric; its symmetric part is that of solve() with half of what is carried beside it,
/// and one cycle of multigrid on that, radiation put into the gaps, preconditions it.
///
/// Throws SolverError as solve() does.
[[nodiscard]] TemperatureField solve_with_flow(const ConductivityGrid& grid, const Surroundings& air,
                                               const MovingAir& moving, const SolverOptions& options = {},
                                               const std::vector<double>& start = {});

}  // namespace coldbay
