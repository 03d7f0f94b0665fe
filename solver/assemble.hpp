#pragma once

#include <Eigen/SparseCore>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// The coldest and the warmest of the surroundings [degC]: the ends of the dimensionless scale
/// u = (T - coldest) / (warmest - coldest).
struct TemperatureRange {
  double coldest = 0.0;
  double warmest = 0.0;
};
TemperatureRange range_of(const Surroundings& air);

/// A u = b: the heat balance of every cell, dimensionless temperature in, W per K of the range out.
/// A is symmetric positive definite once any face exchanges heat.
struct LinearSystem {
  Eigen::SparseMatrix<double> A;
  Eigen::VectorXd b;
};

/// b - A u as the net heat into every cell, summed from differences of temperature. Neighbours are nearly
/// equal, so their difference is exact where b - A u would lose it among terms 1e5 times as large (a
/// metal sheet); and what vanishes here balances exactly.
Eigen::VectorXd net_heat(const ConductivityGrid& grid, const Surroundings& air, TemperatureRange range,
                         const Eigen::VectorXd& u);

LinearSystem assemble(const ConductivityGrid& grid, const Surroundings& air, TemperatureRange range);

}  // namespace coldbay
