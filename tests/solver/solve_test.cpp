#include "solver/solve.hpp"

#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <cmath>

#include "solver/assemble.hpp"
#include "solver/discretisation.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/solver_error.hpp"
#include "tests/support/grids.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::solve_test {
namespace {

double u_value(const ConductivityGrid& grid, const Surroundings& air) {
  const TemperatureField field = solve(grid, air);
  return heat_flows(grid, air, field).inside /
         (grid[Direction::across].length() * (air.inside.temperature - air.outside.temperature));
}

TEST(Discretisation, HalfCellsInSeries) {
  // 2 mm of 0.5 and 4 mm of 0.1 W/mK, half of each, over 3 m2: R = 0.002 + 0.02, by hand.
  EXPECT_NEAR(face_conductance(3.0, 0.002, 0.5, 0.004, 0.1), 3.0 / 0.022, 1e-12);
  EXPECT_NEAR(outer_conductance(3.0, 0.002, 0.5, 0.13), 3.0 / 0.132, 1e-12);
  // Steel beside fibre conducts like the fibre's half cell, not like a mean of the two.
  EXPECT_LT(face_conductance(1.0, 0.001, 50.0, 0.001, 0.035), 2.0 * 0.035 / 0.001);
}

TEST(Assemble, IsSymmetricAndItsRowsBalance) {
  const ConductivityGrid grid = test::grid_of(test::random_wall(3));
  const Surroundings air = test::winter();
  const LinearSystem system = assemble(grid, air, range_of(grid, air));
  const Eigen::SparseMatrix<double> transposed = system.A.transpose();
  EXPECT_EQ((system.A - transposed).norm(), 0.0);
  // With every cell at the room's temperature (u = 1) only the outside film takes heat: b - A u is
  // minus the outer conductances.
  const Eigen::VectorXd r = system.A * Eigen::VectorXd::Ones(grid.cells()) - system.b;
  double outside = 0.0;
  for_each_outer_face(grid, air, [&](Index, Direction, End end, const Exchange&, double G) {
    if (end == End::high) outside += G;
  });
  EXPECT_NEAR(r.sum(), outside, 1e-9 * outside);  // rounding of 1e4 sums with terms 1e4 times as large
}

// T is piecewise linear with kinks on cell faces, which the scheme represents exactly: only rounding
// and the solver remain. The bar is 1e-9; a direct solve on a chain leaves about 1e-12.
TEST(Solve, LayeredWallIsExact) {
  const std::vector<test::Slice> slices{{0.0125, 0.25}, {0.14, 0.035}, {0.0012, 50.0}, {0.1025, 0.77}};
  const Section s = test::layered(0.6, slices);
  double R = 0.13 + 0.04;
  for (const auto& slice : slices) R += slice.thickness / slice.conductivity;
  EXPECT_NEAR(u_value(test::grid_of(s), test::winter()) * R, 1.0, 1e-9);
  EXPECT_NEAR(
      u_value(rasterise(s, test::jittered(0.6, 9, 1), test::grid_of(s)[Direction::depth]), test::winter()) *
          R,
      1.0, 1e-9);
}

// Side by side between isothermal faces nothing flows sideways: the mean of the conductivities, exactly.
TEST(Solve, SideBySideBetweenHeldFacesIsExact) {
  Section s = test::layered(0.6, {{0.1, 0.04}});
  test::add(s, 0.12, {0.2, 0.245}, {0.0, 0.1});
  const Surroundings held{{20.0, 0.0}, {0.0, 0.0}, {}, {}};
  EXPECT_NEAR(u_value(test::grid_of(s), held), (0.555 * 0.04 + 0.045 * 0.12) / 0.6 / 0.1, 1e-11);
}

// The slow, obvious way: a dense factorisation of the same system.
TEST(Solve, AgreesWithADenseSolver) {
  const Section s = test::random_wall(7);
  const ConductivityGrid grid = rasterise(s, test::jittered(s.width, 30, 5), test::jittered(s.depth, 25, 6));
  const Surroundings air = test::winter();
  const TemperatureField field = solve(grid, air);
  const LinearSystem system = assemble(grid, air, range_of(grid, air));
  const Eigen::VectorXd u = Eigen::MatrixXd(system.A).ldlt().solve(system.b);
  for (Index c = 0; c < grid.cells(); ++c)
    ASSERT_NEAR(field.celsius[static_cast<std::size_t>(c)], 20.0 * u[c], 1e-8);
}

TEST(Solve, ReturnsItsEvidence) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const ConductivityGrid grid = test::grid_of(test::random_wall(seed), 2.0);
    const TemperatureField field = solve(grid, test::winter());
    EXPECT_GE(field.report.iterations, 1);
    EXPECT_LE(field.report.relative_residual, 1e-10);
    EXPECT_LE(field.report.heat_imbalance, 1e-9);  // five orders below what [ISO10211] asks
    EXPECT_NEAR(heat_flows(grid, test::winter(), field).imbalance(), field.report.heat_imbalance, 1e-15);
  }
}

// The equations are linear: another climate is the same shape on another scale, and colder inside turns
// the flow round.
TEST(Solve, IsLinearInTheClimate) {
  const ConductivityGrid grid = test::grid_of(test::random_wall(11));
  Surroundings summer{{24.0, 0.13}, {39.0, 0.04}, {}, {}};
  const double U = u_value(grid, test::winter());
  EXPECT_NEAR(u_value(grid, summer) / U, 1.0, 1e-10);
  EXPECT_LT(heat_flows(grid, summer, solve(grid, summer)).inside, 0.0);
}

TEST(Solve, RefusesWhatHasNoAnswer) {
  const ConductivityGrid sound = test::grid_of(test::random_wall(2), 2.0);
  const Surroundings air = test::winter();
  ConductivityGrid grid = sound;
  grid.conductivity[0][5] = NAN;
  EXPECT_THROW((void)solve(grid, air), SolverError);
  grid = sound;
  grid.conductivity[2][5] = 0.0;
  EXPECT_THROW((void)solve(grid, air), SolverError);
  Surroundings odd = air;
  odd.inside.temperature = NAN;
  EXPECT_THROW((void)solve(sound, odd), SolverError);
  odd = air;
  odd.inside.temperature = odd.outside.temperature;
  EXPECT_THROW((void)solve(sound, odd), SolverError);
  odd = air;
  odd.inside.film = odd.outside.film = INFINITY;  // a wall that nothing heats
  EXPECT_THROW((void)solve(sound, odd), SolverError);
  EXPECT_THROW((void)solve(sound, air, {.max_cells = 10}), SolverError);
}

// Ratios far beyond any wall: an answer with its evidence, or an error, and never a wrong answer. The exact
// resistance of the two sheets in series is known.
TEST(Solve, SurvivesExtremeContrast) {
  for (const double k : {1e5, 1e4, 1e-5}) {
    const Section s = test::layered(0.1, {{0.01, 0.04}, {0.01, k}, {0.01, 0.04}});
    const double R = 0.17 + 0.02 / 0.04 + 0.01 / k;
    EXPECT_NEAR(u_value(test::grid_of(s), test::winter()) * R, 1.0, 1e-7) << k;
  }
}

// What rounding leaves may be more than was asked for; but where it eats the answer there is none. Sheets of
// 10 um and k 1e8 on both faces behind films of 100 m2K/W: the best residual is 2, the temperatures 5 K off.
TEST(Solve, DoesNotPassRoundingForAnAnswer) {
  const auto fin = [](double k, double film) {
    const double t = 1e-5, depth = 0.1 + 2 * t;
    const ConductivityGrid grid = test::sampled(
        test::graded({0.0, 0.05, 0.05 + t, 0.1}, 5e-6, 1.5), Axis({0.0, 1.0}),
        test::graded({0.0, t, 0.05, 0.1 + t, depth}, 5e-6, 1.5), [&](double x, double, double z) {
          const bool sheet = z < t || z > 0.1 + t || (x > 0.05 && x < 0.05 + t && z < 0.05);
          return sheet ? k : 0.04;
        });
    const Surroundings air{{20.0, film}, {0.0, film}, {}, {}};
    return solve(grid, air).report.relative_residual;
  };
  EXPECT_THROW((void)fin(1e8, 100.0), SolverError);
  EXPECT_LE(fin(50.0, 0.1), 1e-6);
}

}  // namespace
}  // namespace coldbay::solve_test
