#pragma once

#include <Eigen/SparseCore>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// The coldest and the warmest of the surroundings and of what is held [degC]: the ends of the dimensionless
/// scale u = (T - coldest) / (warmest - coldest).
struct TemperatureRange {
  double coldest = 0.0;
  double warmest = 0.0;
};
TemperatureRange range_of(const ConductivityGrid& grid, const Surroundings& air);

/// A u = b: the heat balance of every cell, dimensionless temperature in, W per K of the range out.
/// A is symmetric positive definite once any face exchanges heat. A held cell stands alone in it, u = its
/// own.
struct LinearSystem {
  Eigen::SparseMatrix<double> A;
  Eigen::VectorXd b;
};

LinearSystem assemble(const ConductivityGrid& grid, const Surroundings& air, TemperatureRange range);

}  // namespace coldbay
