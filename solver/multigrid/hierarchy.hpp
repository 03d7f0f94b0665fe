#pragma once

#include <vector>

#include "solver/multigrid/level.hpp"

namespace coldbay {

/// The grids from the finest to a single column, which is solved exactly.
///
/// Depth is never coarsened. Columns through the wall are solved whole, so thin sheets and flat cells are
/// no obstacle, and what is left between columns is handed to a grid with fewer of them: semicoarsening
/// with line relaxation [Schaffer1998].
template <class Real>
struct Hierarchy {
  std::vector<Level<Real>> levels;
};

template <class Real>
Hierarchy<Real> hierarchy(const Network<double>& finest);

/// Hands over n cells of a right-hand side, times `scale`, which keeps single precision away from its ends.
/// The cells lie in one row of the finest network.
template <class Real>
void give(Hierarchy<Real>& grids, Index cell, Index n, const double* r, double scale);

/// z ~ A^-1 r by one V-cycle from z = 0: kept columns, then those left out; the coarser grid; those left
/// out, then the kept. The way up mirrors the way down, so the map from r to z is symmetric and
/// positive definite.
template <class Real>
void cycle(Hierarchy<Real>& grids);

/// Fetches n cells of z, divided by the `scale` that r was given with.
template <class Real>
void take(const Hierarchy<Real>& grids, Index cell, Index n, double* z, double scale);

}  // namespace coldbay
