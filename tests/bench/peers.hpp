#pragma once

// The same linear system by general-purpose solvers, to know how good ours is. Each does its set-up and its
// solve, starts from nothing, and recomputes its residual with the matrix it was given; none is told that
// the matrix comes from a wall.

#include <functional>

#include "geometry/conductivity_grid.hpp"
#include "solver/assemble.hpp"

namespace coldbay::bench {

struct Outcome {
  int iterations = 0;
  double relative_residual = 0.0;  ///< ||b - A u|| / ||b||, recomputed
};

/// What every solve here must reach. A peer that does not throws std::runtime_error.
inline constexpr double wanted_residual = 1e-10;

Outcome require_converged(const LinearSystem& system, const Eigen::VectorXd& u, int iterations);

/// Sparse Cholesky factorisation with a minimum-degree ordering.
Outcome solve_ldlt(const LinearSystem& system);

/// Conjugate gradients, preconditioned by the diagonal.
Outcome solve_cg_diagonal(const LinearSystem& system);

/// hypre's two multigrids for structured grids, as preconditioners of its conjugate gradients: PFMG smooths
/// by points, cheap; SMG by whole lines or planes, dearer and safe where cells are long and thin. PFMG is
/// fastest with Jacobi on the sections; on the block of 10,000 cells it breaks down with it, and
/// Gauss-Seidel is as fast or faster on larger ones. hypre's parallelism is MPI's: here it has one core.
enum class HypreMultigrid { pfmg_jacobi, pfmg_gauss_seidel, smg };

/// Fills a structured matrix of hypre from the system, which must outlive what is returned: the set-up and
/// the solve. Empty where this program was built without hypre.
std::function<Outcome()> hypre(HypreMultigrid kind, const LinearSystem& system, const ConductivityGrid& grid);

/// Whether this program was built with hypre.
bool have_hypre();

/// What no solver can beat in one pass over its data: reads five doubles and writes one per cell, on this
/// many threads, once. The arrays are made at the first call for a size and kept.
void read_five_write_one(Index cells, unsigned threads);

}  // namespace coldbay::bench
