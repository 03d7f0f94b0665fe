#include <gtest/gtest.h>

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstring>
#include <new>
#include <random>

#include "solver/assemble.hpp"
#include "solver/discretisation.hpp"
#include "solver/multigrid/hierarchy.hpp"
#include "solver/parallel.hpp"
#include "solver/solver_error.hpp"
#include "tests/support/grids.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::multigrid_test {
namespace {

using Vector = Eigen::VectorXd;

Vector random_vector(std::mt19937& rng, Index n) {
  Vector v(n);
  for (double& x : v) x = test::uniform(rng, -1.0, 1.0);
  return v;
}

template <class Real>
Vector preconditioned(Hierarchy<Real>& grids, const ConductivityGrid& grid, const Vector& r) {
  const Index row = grid.axis[0].cells() * grid.axis[1].cells();
  Vector z(r.size());
  for (Index c = 0; c < r.size(); c += row) give(grids, c, row, r.data() + c, 1.0);
  cycle(grids);
  for (Index c = 0; c < r.size(); c += row) take(grids, c, row, z.data() + c, 1.0);
  return z;
}

/// Conjugate gradients are owed a symmetric positive definite preconditioner; one that is slightly off still
/// "works" on easy cases. `rounding` is that of the precision over some thousand terms.
template <class Real>
void expect_symmetric_and_positive(const ConductivityGrid& grid, double rounding) {
  Hierarchy<Real> grids = hierarchy<Real>(network(grid, test::winter()));
  std::mt19937 rng(20261125);
  for (int trial = 0; trial < 5; ++trial) {
    const Vector u = random_vector(rng, grid.cells()), v = random_vector(rng, grid.cells());
    const Vector Mu = preconditioned(grids, grid, u), Mv = preconditioned(grids, grid, v);
    EXPECT_GT(u.dot(Mu), 0.0);
    EXPECT_NEAR(u.dot(Mv), v.dot(Mu), rounding * std::sqrt(u.dot(Mu) * v.dot(Mv)));
  }
}

TEST(Multigrid, CycleIsSymmetricAndPositive) {
  expect_symmetric_and_positive<double>(test::steel_wall(2e-3), 1e-11);
  expect_symmetric_and_positive<double>(test::rod_block(8e-3), 1e-11);
  expect_symmetric_and_positive<float>(test::steel_wall(2e-3), 1e-4);
  expect_symmetric_and_positive<float>(test::rod_block(8e-3), 1e-4);
}

// Every coarser grid is a network too: nothing negative, nothing lost. The heat that all links to the air let
// through with every cell at 1 cannot grow, for the columns left out are no warmer than those kept.
TEST(Multigrid, CoarserNetworksAreNetworks) {
  for (const ConductivityGrid& grid : {test::steel_wall(2e-3), test::rod_block(8e-3)}) {
    const auto to_air = [](const auto& net) {
      double sum = 0.0;
      for (const auto& row : net.to_air)
        for (const auto G : row) sum += static_cast<double>(G);
      return sum;
    };
    const Network<double> finest = network(grid, test::winter());
    Coarsened<double> next = coarsen<double>(finest);
    double before = to_air(finest);
    while (next.level.columns() > 1) {
      const Network<double>& net = next.coarser;
      EXPECT_LT(net.columns(), next.level.columns());
      const double now = to_air(net);
      EXPECT_LE(now, before * (1.0 + 1e-12));
      EXPECT_GT(now, 0.0);
      before = now;
      for (const double G : net.outward) EXPECT_GE(G, 0.0);
      for (const auto& way : net.sideways)
        for (const double G : way) EXPECT_GE(G, 0.0);
      next = coarsen<double>(Network<double>(net));
    }
  }
}

double off_from_direct(const ConductivityGrid& grid) {
  const Surroundings air = test::winter();
  const LinearSystem system = assemble(grid, air, range_of(grid, air));
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(system.A);
  const Vector direct = 20.0 * factor.solve(system.b);
  const TemperatureField field = solve(grid, air);
  return (Eigen::Map<const Vector>(field.celsius.data(), grid.cells()) - direct).cwiseAbs().maxCoeff();
}

// Two ways to the same numbers: 1e-6 K is a hundredth of what a camera's digits show, and a thousand times
// what the residual of 1e-10 leaves here.
TEST(Multigrid, AgreesWithADirectSolver) {
  EXPECT_LT(off_from_direct(test::steel_wall(1e-3)), 1e-6);
  EXPECT_LT(off_from_direct(test::rod_block(8e-3)), 1e-6);
}

// The bar: 15 iterations to 1e-10 and no growth, graded from 2 mm to 0.1 mm, steel in it; 25 with three axes.
// The sizes up to 1e7 cells are measured by build/coldbay_bench.
TEST(Multigrid, NeitherGradingNorRefinementSlowsIt) {
  for (const double at_line : {2e-3, 1e-3, 0.5e-3, 0.25e-3, 0.1e-3}) {
    const TemperatureField f = solve(test::steel_wall(at_line), test::winter());
    EXPECT_LE(f.report.iterations, 15) << at_line;
    EXPECT_LE(f.report.relative_residual, 1e-10);
  }
  for (const double at_line : {8e-3, 4e-3, 2e-3}) {
    const TemperatureField f = solve(test::rod_block(at_line), test::winter());
    EXPECT_LE(f.report.iterations, 25) << at_line;
    EXPECT_LE(f.report.relative_residual, 1e-10);
  }
  int before = 0;
  ConductivityGrid grid = test::steel_wall(2e-3);
  for (int times = 0; times < 4; ++times) {
    const int now = solve(grid, test::winter()).report.iterations;
    if (before > 0) {
      EXPECT_LE(now, before + 2) << grid.cells() << " cells";
    }
    before = now;
    grid = test::sampled(bisected(grid.axis[0]), grid.axis[1], bisected(grid.axis[2]),
                         [g = grid](double x, double, double z) {
                           return g.conductivity[0][static_cast<std::size_t>(
                               g.cell(g.axis[0].cell_at(x), 0, g.axis[2].cell_at(z)))];
                         });
  }
}

TEST(Multigrid, AnyNumberOfThreadsGivesTheSameBits) {
  for (const ConductivityGrid& grid : {test::steel_wall(0.1e-3), test::rod_block(2e-3)}) {
    ASSERT_GT(grid.cells(), 20000);  // enough to be shared out
    most_threads(1);
    const TemperatureField one = solve(grid, test::winter());
    most_threads(2);
    const TemperatureField two = solve(grid, test::winter());
    most_threads(0);
    EXPECT_EQ(std::memcmp(one.celsius.data(), two.celsius.data(), one.celsius.size() * sizeof(double)), 0);
    EXPECT_EQ(one.report.iterations, two.report.iterations);
  }
}

// Conductivities that differ by up to 1e8 from cell to cell, as a draw, a chessboard and a mesh of sheets one
// cell thin, on cells of one size and of sizes drawn between 1e-5 and 1e-2 m: the answer of the direct
// solver, or an error.
TEST(Multigrid, SurvivesWhatNoWallHas) {
  for (const bool drawn_sizes : {false, true})
    for (const double decades : {4.0, 8.0})
      for (const int pattern : {0, 1, 2}) {
        std::mt19937 rng(7);
        const auto axis = [&](int n) {
          std::vector<double> edges{0.0};
          for (int i = 0; i < n; ++i)
            edges.push_back(edges.back() +
                            (drawn_sizes ? std::pow(10.0, -test::uniform(rng, 2.0, 5.0)) : 1e-3));
          return Axis(edges);
        };
        ConductivityGrid grid{{axis(60), Axis({0.0, 1.0}), axis(40)}, {}, {}, {}};
        for (Index c = 0; c < grid.cells(); ++c) {
          const Index i = c % 60, k = c / 60;
          const bool high = pattern == 1 ? (i + k) % 2 == 1 : i % 7 == 3 || k % 9 == 4;
          grid.conductivity[0].push_back(std::pow(10.0, pattern == 0
                                                            ? test::uniform(rng, -decades / 2, decades / 2)
                                                        : high ? decades / 2
                                                               : -decades / 2));
        }
        grid.conductivity[2] = grid.conductivity[0];
        try {
          EXPECT_LT(off_from_direct(grid), 1e-6) << drawn_sizes << decades << pattern;
        } catch (const SolverError&) {
          ADD_FAILURE() << "refused: " << drawn_sizes << decades << pattern;
        }
      }
}

// The start may help, and must not matter.
TEST(Multigrid, BeginsWhereItIsTold) {
  const ConductivityGrid grid = test::steel_wall(1e-3);
  const TemperatureField cold = solve(grid, test::winter());
  const TemperatureField warm = solve(grid, test::winter(), {}, cold.celsius);
  EXPECT_EQ(warm.report.iterations, 0);
  std::vector<double> wrong(cold.celsius.size(), 17.0);
  const TemperatureField other = solve(grid, test::winter(), {}, wrong);
  for (std::size_t c = 0; c < wrong.size(); ++c) EXPECT_NEAR(other.celsius[c], cold.celsius[c], 1e-6);
}

// Another climate needs no other hierarchy; another grid gets one.
TEST(Multigrid, KeepsItsHierarchyForAnotherClimate) {
  const ConductivityGrid grid = test::steel_wall(0.5e-3), other = test::steel_wall(1e-3);
  const Surroundings summer{{24.0, 0.13}, {41.0, 0.04}, {}, {}};
  KeptHierarchy kept;
  (void)solve(grid, test::winter(), {}, {}, &kept);
  ASSERT_TRUE(kept);
  const auto* place = kept->levels.data();
  const TemperatureField with = solve(grid, summer, {}, {}, &kept), without = solve(grid, summer);
  EXPECT_EQ(kept->levels.data(), place);  // not made anew
  EXPECT_EQ(with.celsius, without.celsius);
  EXPECT_EQ(solve(other, summer, {}, {}, &kept).celsius, solve(other, summer).celsius);
}

TEST(Parallel, HandsOnWhatIsThrown) {
  for (int repeat = 0; repeat < 50; ++repeat) {
    std::atomic<int> done = 0;
    const auto one_fails = [&](Index i) {
      ++done;
      if (i == 7) throw std::bad_alloc();
    };
    EXPECT_THROW(in_parallel(100, 1'000'000, one_fails), std::bad_alloc);
    most_threads(1);
    EXPECT_THROW(in_parallel(100, 1'000'000, one_fails), std::bad_alloc);
    most_threads(0);
    in_parallel(100, 1'000'000, [](Index) {});  // and nothing of it is left
  }
}

TEST(Parallel, DoesEverythingOnce) {
  for (const int threads : {1, 2, 0}) {
    most_threads(threads);
    for (int repeat = 0; repeat < 200; ++repeat) {
      std::vector<int> done(1000, 0);
      in_parallel(1000, 1'000'000, [&](Index i) {
        ++done[static_cast<std::size_t>(i)];
        if (i == 500)
          in_parallel(10, 1'000'000, [](Index) {});  // one inside the other is done by this thread
      });
      ASSERT_EQ(std::count(done.begin(), done.end(), 1), 1000);
    }
  }
  most_threads(0);
}

}  // namespace
}  // namespace coldbay::multigrid_test
