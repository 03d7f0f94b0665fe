#pragma once

#include <Eigen/Core>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/assemble.hpp"
#include "solver/conjugate_gradients.hpp"
#include "solver/solve.hpp"

namespace coldbay {

/// Iterations say nothing sensible of nonsense (a NaN, a wall nothing heats), so look first.
///
/// Throws SolverError as solve() says.
void require_solvable(const ConductivityGrid& grid, const Surroundings& air, const SolverOptions& options);

/// The heat balance of every cell, in dimensionless temperature. Held cells are air to those beside them.
/// They themselves get nothing, and stay at 0 in the solve.
HeatBalance heat_balance(const ConductivityGrid& grid, const Surroundings& air, TemperatureRange range);

/// What the air gives the section and takes from it, of what passes [-]: the sum of all residuals.
double imbalance_of(const HeatBalance& balance, const Eigen::VectorXd& u);

}  // namespace coldbay
