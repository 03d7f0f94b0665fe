// Compiled only where CMake found hypre; peer_no_hypre.cpp stands in for it elsewhere.

#include <HYPRE_struct_ls.h>
#include <mpi.h>

#include <array>
#include <cstdlib>
#include <memory>
#include <stdexcept>
#include <type_traits>
#include <vector>

#include "tests/bench/peers.hpp"

namespace coldbay::bench {
namespace {

void start_once() {
  static const bool started = [] {
    MPI_Init(nullptr, nullptr);
    HYPRE_Init();
    std::atexit([] {
      HYPRE_Finalize();
      MPI_Finalize();
    });
    return true;
  }();
  (void)started;
}

template <auto destroy>
struct Destroy {
  template <class T>
  void operator()(T* handle) const {
    destroy(handle);
  }
};
template <class Handle, auto destroy>
using Owned = std::unique_ptr<std::remove_pointer_t<Handle>, Destroy<destroy>>;

using Grid = Owned<HYPRE_StructGrid, HYPRE_StructGridDestroy>;
using Stencil = Owned<HYPRE_StructStencil, HYPRE_StructStencilDestroy>;
using Matrix = Owned<HYPRE_StructMatrix, HYPRE_StructMatrixDestroy>;
using Field = Owned<HYPRE_StructVector, HYPRE_StructVectorDestroy>;
using Cg = Owned<HYPRE_StructSolver, HYPRE_StructPCGDestroy>;
using Pfmg = Owned<HYPRE_StructSolver, HYPRE_StructPFMGDestroy>;
using Smg = Owned<HYPRE_StructSolver, HYPRE_StructSMGDestroy>;

/// Everything hypre wants filled before it can begin, the box of all cells among it. Axes of one cell
/// are left out: a section is two-dimensional for hypre.
struct Filled {
  std::vector<HYPRE_Int> low, high;
  Matrix A;
  Field b, u;
};

Field field_on(HYPRE_StructGrid grid) {
  HYPRE_StructVector v = nullptr;
  HYPRE_StructVectorCreate(MPI_COMM_WORLD, grid, &v);
  HYPRE_StructVectorInitialize(v);
  return Field(v);
}

/// Symmetric storage: per cell its diagonal and its entry towards the next cell along each axis.
std::vector<double> stencil_values(const LinearSystem& system, const std::vector<Index>& steps) {
  const auto per_cell = static_cast<Index>(steps.size()) + 1;
  std::vector<double> values(static_cast<std::size_t>(per_cell * system.b.size()), 0.0);
  for (Index cell = 0; cell < system.A.outerSize(); ++cell)
    for (Eigen::SparseMatrix<double>::InnerIterator it(system.A, cell); it; ++it) {
      Index entry = it.row() == cell ? 0 : -1;
      for (std::size_t axis = 0; axis < steps.size(); ++axis)
        if (it.row() == cell + steps[axis]) entry = static_cast<Index>(axis) + 1;
      if (entry >= 0) values[static_cast<std::size_t>(per_cell * cell + entry)] = it.value();
    }
  return values;
}

Filled fill(const LinearSystem& system, const ConductivityGrid& cells) {
  Filled f;
  std::vector<Index> steps;
  Index step = 1;
  for (const Axis& axis : cells.axis) {
    if (axis.cells() == 1) continue;
    steps.push_back(step);
    f.low.push_back(0);
    f.high.push_back(static_cast<HYPRE_Int>(axis.cells()) - 1);
    step *= axis.cells();
  }
  const auto dimensions = static_cast<HYPRE_Int>(steps.size());

  HYPRE_StructGrid grid_handle = nullptr;
  HYPRE_StructGridCreate(MPI_COMM_WORLD, dimensions, &grid_handle);
  const Grid grid(grid_handle);
  HYPRE_StructGridSetExtents(grid.get(), f.low.data(), f.high.data());
  HYPRE_StructGridAssemble(grid.get());

  HYPRE_StructStencil stencil_handle = nullptr;
  HYPRE_StructStencilCreate(dimensions, dimensions + 1, &stencil_handle);
  const Stencil stencil(stencil_handle);
  std::vector<HYPRE_Int> entries;
  for (HYPRE_Int entry = 0; entry <= dimensions; ++entry) {
    std::array<HYPRE_Int, 3> offset{};
    if (entry > 0) offset[static_cast<std::size_t>(entry - 1)] = 1;
    HYPRE_StructStencilSetElement(stencil.get(), entry, offset.data());
    entries.push_back(entry);
  }

  HYPRE_StructMatrix matrix_handle = nullptr;
  HYPRE_StructMatrixCreate(MPI_COMM_WORLD, grid.get(), stencil.get(), &matrix_handle);
  f.A.reset(matrix_handle);
  HYPRE_StructMatrixSetSymmetric(f.A.get(), 1);
  HYPRE_StructMatrixInitialize(f.A.get());
  std::vector<double> values = stencil_values(system, steps);
  HYPRE_StructMatrixSetBoxValues(f.A.get(), f.low.data(), f.high.data(),
                                 static_cast<HYPRE_Int>(entries.size()), entries.data(), values.data());
  HYPRE_StructMatrixAssemble(f.A.get());

  f.b = field_on(grid.get());
  f.u = field_on(grid.get());
  std::vector<double> b(system.b.begin(), system.b.end());
  HYPRE_StructVectorSetBoxValues(f.b.get(), f.low.data(), f.high.data(), b.data());
  HYPRE_StructVectorAssemble(f.b.get());
  HYPRE_StructVectorAssemble(f.u.get());
  return f;
}

struct PfmgOptions {
  HYPRE_Int relaxation, sweeps;
};
constexpr PfmgOptions jacobi{1, 1}, gauss_seidel{2, 2};  // weighted; symmetric, red and black

/// The best of one to three sweeps of either, with Galerkin coarse matrices or without, with relaxation on
/// every level or not where coarsening goes along one axis only.
Pfmg pfmg_preconditioner(PfmgOptions options) {
  HYPRE_StructSolver pfmg = nullptr;
  HYPRE_StructPFMGCreate(MPI_COMM_WORLD, &pfmg);
  HYPRE_StructPFMGSetMaxIter(pfmg, 1);
  HYPRE_StructPFMGSetTol(pfmg, 0.0);
  HYPRE_StructPFMGSetZeroGuess(pfmg);
  HYPRE_StructPFMGSetRelaxType(pfmg, options.relaxation);
  HYPRE_StructPFMGSetRAPType(pfmg, 0);  // Galerkin
  HYPRE_StructPFMGSetNumPreRelax(pfmg, options.sweeps);
  HYPRE_StructPFMGSetNumPostRelax(pfmg, options.sweeps);
  HYPRE_StructPFMGSetSkipRelax(pfmg, 1);
  return Pfmg(pfmg);
}

Smg smg_preconditioner() {
  HYPRE_StructSolver smg = nullptr;
  HYPRE_StructSMGCreate(MPI_COMM_WORLD, &smg);
  HYPRE_StructSMGSetMaxIter(smg, 1);
  HYPRE_StructSMGSetTol(smg, 0.0);
  HYPRE_StructSMGSetZeroGuess(smg);
  HYPRE_StructSMGSetNumPreRelax(smg, 1);
  HYPRE_StructSMGSetNumPostRelax(smg, 1);
  return Smg(smg);
}

/// Set-up and solve, with whatever `use` hangs into the conjugate gradients.
Outcome conjugate_gradients(const LinearSystem& system, Filled& f,
                            const std::function<void(HYPRE_StructSolver)>& use) {
  HYPRE_StructSolver handle = nullptr;
  HYPRE_StructPCGCreate(MPI_COMM_WORLD, &handle);
  const Cg cg(handle);
  HYPRE_StructPCGSetMaxIter(cg.get(), 1000);
  HYPRE_StructPCGSetTol(cg.get(), 0.9 * wanted_residual);
  HYPRE_StructPCGSetTwoNorm(cg.get(), 1);  // stop by ||r||, as all here, not by the preconditioned norm
  use(cg.get());
  HYPRE_StructVectorSetConstantValues(f.u.get(), 0.0);
  HYPRE_StructPCGSetup(cg.get(), f.A.get(), f.b.get(), f.u.get());

  // As with Eigen's: begun again from what it found, until the recomputed residual is there.
  int iterations = 0;
  Eigen::VectorXd u(system.b.size());
  for (int round = 0; round < 5; ++round) {
    HYPRE_StructPCGSolve(cg.get(), f.A.get(), f.b.get(), f.u.get());
    HYPRE_ClearAllErrors();  // the recomputed residual says what matters
    HYPRE_Int more = 0;
    HYPRE_StructPCGGetNumIterations(cg.get(), &more);
    iterations += more;
    HYPRE_StructVectorGetBoxValues(f.u.get(), f.low.data(), f.high.data(), u.data());
    if ((system.b - system.A * u).norm() <= wanted_residual * system.b.norm()) break;
  }
  return require_converged(system, u, iterations);
}

Outcome solve_with_pfmg(PfmgOptions options, const LinearSystem& system, Filled& f) {
  const Pfmg pfmg = pfmg_preconditioner(options);
  return conjugate_gradients(system, f, [&](HYPRE_StructSolver cg) {
    HYPRE_StructPCGSetPrecond(cg, HYPRE_StructPFMGSolve, HYPRE_StructPFMGSetup, pfmg.get());
  });
}

Outcome solve_with_smg(const LinearSystem& system, Filled& f) {
  const Smg smg = smg_preconditioner();
  return conjugate_gradients(system, f, [&](HYPRE_StructSolver cg) {
    HYPRE_StructPCGSetPrecond(cg, HYPRE_StructSMGSolve, HYPRE_StructSMGSetup, smg.get());
  });
}

}  // namespace

bool have_hypre() { return true; }

std::function<Outcome()> hypre(HypreMultigrid kind, const LinearSystem& system,
                               const ConductivityGrid& grid) {
  start_once();
  const auto filled = std::make_shared<Filled>(fill(system, grid));
  return [kind, filled, &system] {
    if (kind == HypreMultigrid::smg) return solve_with_smg(system, *filled);
    return solve_with_pfmg(kind == HypreMultigrid::pfmg_jacobi ? jacobi : gauss_seidel, system, *filled);
  };
}

}  // namespace coldbay::bench
