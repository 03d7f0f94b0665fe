#pragma once

#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// The evidence a solve returns. Recomputed from the matrix and the fluxes, never the solver's own
/// running figures.
struct SolveReport {
  int iterations = 0;              ///< refinement sweeps of the direct solve
  double relative_residual = 0.0;  ///< ||b - A u|| / ||b|| of the dimensionless system
  double heat_imbalance = 0.0;     ///< |sum of all flows into the section| / half the sum of magnitudes
};

/// How warm every cell is.
///
/// Shape   celsius[grid.cell(i, j, k)], the temperature at the centre of the cell.
/// Holds   every value lies between the coldest and the warmest of the surroundings and of what is held.
struct TemperatureField {
  std::vector<double> celsius;
  SolveReport report;
};

}  // namespace coldbay
