#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/multigrid/hierarchy.hpp"
#include "solver/multigrid/network.hpp"

namespace coldbay {

/// A u = b, the heat balance of every cell: u the temperatures, b the heat from the air.
struct HeatBalance {
  Network<double> net;
  std::vector<std::vector<double>> from_air;  ///< b, [depth index][column]; empty where to_air is
};

/// b - A u, the net heat into every cell, summed from differences of temperature. Neighbours are nearly
/// equal, so their difference is exact where b - A u would lose it among terms 1e5 times as large (a
/// metal sheet); and what vanishes here balances exactly.
Eigen::VectorXd net_heat(const HeatBalance& balance, const Eigen::VectorXd& u);

/// The relative residual that the best double-precision u may still have: four roundings of every term of
/// b - A u. A metal sheet on a face, whose conductances are 1e5 times the film's, sits above 1e-10.
double rounding_floor(const HeatBalance& balance, const Eigen::VectorXd& u);

struct Converged {
  int iterations = 0;
  double residual = 0.0;  ///< ||b - A u|| / ||b||, recomputed
};

/// Improves u until A u = b to the relative residual `wanted`, by conjugate gradients preconditioned with
/// the hierarchy ([Saad2003], algorithm 9.1). Stops at `most` iterations, or where the residual no longer
/// falls; the caller looks at what was reached.
///
/// Sums run over rows, added in order: the same bits on any number of threads.
template <class Real>
Converged conjugate_gradients(const HeatBalance& balance, Hierarchy<Real>& grids, double wanted, int most,
                              Eigen::VectorXd& u);

}  // namespace coldbay
