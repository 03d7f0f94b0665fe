#pragma once

#include <optional>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/multigrid/hierarchy.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

struct SolverOptions {
  /// ||b - A u|| / ||b||, recomputed. Where rounding alone leaves more (a metal sheet on a face), what
  /// rounding leaves is accepted up to 1e-6, and reported.
  double relative_residual = 1e-10;
  int max_iterations = 100;
  Index max_cells = 10'000'000;  ///< about 1.5 GB
  /// |heat in - heat out| of what passes: a residual as small as asked for is made smaller until this is met.
  double heat_balance = 1e-10;
};

/// The multigrid hierarchy of a solve, kept for the next ones on the same lines: in another climate, or with
/// conductivities that differ a little. The first solve that it is lent to fills it. One thread at a time.
using KeptHierarchy = std::optional<Hierarchy<float>>;

/// Solves div(k grad T) = 0 on the grid with the films and temperatures of the surroundings, by conjugate
/// gradients with a multigrid preconditioner, in dimensionless temperature. Of two axes (one cell up)
/// or three. `start`, where it has a temperature for every cell [degC], is where it begins; `kept` is used
/// where it is given. Cells that are held have their temperature and are not solved for.
///
/// Throws SolverError where a conductivity or a temperature is not a finite number, no face
/// exchanges heat, everything around is at one temperature, what is held touches something held at another
/// temperature, the grid is beyond max_cells, the residual is not reached, the heat does not balance, or a
/// temperature leaves the range of the surroundings (the equations forbid it).
[[nodiscard]] TemperatureField solve(const ConductivityGrid& grid, const Surroundings& air,
                                     const SolverOptions& options = {}, const std::vector<double>& start = {},
                                     KeptHierarchy* kept = nullptr);

}  // namespace coldbay
