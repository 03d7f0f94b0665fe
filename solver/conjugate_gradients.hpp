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

/// out = A u, cell by cell: the heat that each gives its neighbours and the air.
void heat_given(const Network<double>& net, const Eigen::VectorXd& u, Eigen::VectorXd& out);

/// ||b||.
double size_of(const HeatBalance& balance);

/// The relative residual that the best double-precision u may still have: four roundings of every term of
/// b - A u. A metal sheet on a face, whose conductances are 1e5 times the film's, sits above 1e-10.
double rounding_floor(const HeatBalance& balance, const Eigen::VectorXd& u);

struct Converged {
  int iterations = 0;
  double residual = 0.0;  ///< ||b - A u|| / ||b||, recomputed
};

/// Improves u until A u = b to the relative residual `wanted`, by conjugate gradients preconditioned with
/// the hierarchy ([Saad2003], algorithm 9.1). Stops at `most` iterations, or where a restart does not halve
/// the residual; the caller looks at what was reached.
///
/// Residuals are summed from differences of temperature. Neighbours are nearly equal, so their difference is
/// exact where b - A u would lose it among terms 1e5 times as large (a metal sheet). Sums run over rows,
/// added in order: the same bits on any number of threads.
template <class Real>
Converged conjugate_gradients(const HeatBalance& balance, Hierarchy<Real>& grids, double wanted, int most,
                              Eigen::VectorXd& u);

}  // namespace coldbay
