#pragma once

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

struct SolverOptions {
  /// ||b - A u|| / ||b||, recomputed; a direct solve gives 1e-12 or so. Where rounding alone leaves
  /// more (a metal sheet on a face), what rounding leaves is accepted, and reported.
  double relative_residual = 1e-10;
  int max_iterations = 10;  ///< refinement sweeps; one or two are usual
  /// Cells beyond which the factor would not fit in an ordinary machine: about 600 bytes a cell.
  Index max_cells = 3'000'000;
};

/// Solves div(k grad T) = 0 on the grid with the films and temperatures of the surroundings, by a
/// sparse Cholesky factorisation with iterative refinement, in dimensionless temperature.
///
/// Throws SolverError where a conductivity or a temperature is not a finite number, no face
/// exchanges heat, everything around is at one temperature, the grid is beyond max_cells, the
/// residual is not reached, the heat does not balance, or a temperature leaves the range of the
/// surroundings (the equations forbid it).
[[nodiscard]] TemperatureField solve(const ConductivityGrid& grid, const Surroundings& air,
                                     const SolverOptions& options = {});

}  // namespace coldbay
