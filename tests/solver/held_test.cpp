#include <gtest/gtest.h>

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>

#include "solver/assemble.hpp"
#include "solver/refinement/strip_errors.hpp"
#include "solver/refinement/thin_sheets.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/solve.hpp"
#include "solver/solver_error.hpp"
#include "tests/support/grids.hpp"
#include "tests/support/pipes.hpp"
#include "tests/support/solved.hpp"

// What is held at a temperature within a section: a fluid in a pipe.

namespace coldbay::held_test {
namespace {

Section wall_with_pipe(double celsius, double fluid = 0.6) {
  Section s = test::layered(0.6, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  test::add(s, 0.12, {0.28, 0.32}, {0.0125, 0.1025});
  test::hold(s, Circle{{0.25, 0.04}, 0.01}, celsius, fluid);
  return s;
}

// Between the strip and either film lie resistances in series, and nothing else. Piecewise linear
// temperatures are exact in this scheme; the bar of layered walls.
TEST(Held, AStripAcrossASlabIsExact) {
  for (const double T : {45.0, 10.0, -15.0}) {
    Section s = test::layered(0.6, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
    test::hold(s, Rectangle{{0.0, 0.6}, {0.05, 0.06}}, T);
    const ConductivityGrid grid = test::grid_of(s);
    const TemperatureField field = solve(grid, test::winter());
    const HeatFlows flows = heat_flows(grid, test::winter(), field);
    const double in = 0.6 * (20.0 - T) / (0.13 + 0.0125 / 0.16 + 0.0375 / 0.04),
                 out = 0.6 * (0.0 - T) / (0.04 + 0.011 / 0.13 + 0.0425 / 0.04);
    EXPECT_NEAR(flows.inside / in, 1.0, 1e-9) << T;
    EXPECT_NEAR(flows.outside / out, 1.0, 1e-9) << T;
    EXPECT_NEAR(flows.held, -(in + out), 1e-9 * (std::abs(in) + std::abs(out))) << T;
    for (const HeldCell& held : grid.held) EXPECT_EQ(field.celsius[static_cast<std::size_t>(held.cell)], T);
    EXPECT_EQ(temperature_at(grid, test::winter(), field, {0.3, 0.055}), T);
    const Index before = grid.axis[2].cell_at(0.05 - 1e-9);
    EXPECT_EQ(face_temperature(grid, test::winter(), field, {0, 0, before}, Direction::depth, End::high), T);
    EXPECT_EQ(face_temperature(grid, test::winter(), field, {0, 0, before + 1}, Direction::depth, End::low),
              T);
    // The faces of held cells have their temperature too, seen from either side.
    EXPECT_NEAR(temperature_at(grid, test::winter(), field, {0.3, 0.05 - 1e-9}), T, 1e-5);
    EXPECT_NEAR(temperature_at(grid, test::winter(), field, {0.3, 0.05}), T, 1e-9);
  }
}

// Where the edge lies inside cells, on sixteenths of them so that the samples know it exactly: in a cell that
// is held (11/16 of it) and in one that is not (5/16). A step of conductivity besides.
TEST(Held, AnEdgeInsideACellIsWhereItIsDrawn) {
  Section s = test::layered(1.0, {{0.4, 0.5}, {0.6, 0.2}});
  const double from = 0.2 + 0.1 * 5.0 / 16.0, to = 0.6 + 0.1 * 5.0 / 16.0;
  test::hold(s, Polygon{{{0.0, from}, {1.0, from}, {1.0, to}, {0.0, to}}}, 30.0);
  const ConductivityGrid grid = rasterise(s, test::even(1.0, 3), test::even(1.0, 10));
  ASSERT_EQ(grid.held.size(), 4u * 3u);
  const TemperatureField field = solve(grid, test::winter());
  const HeatFlows flows = heat_flows(grid, test::winter(), field);
  EXPECT_NEAR(flows.inside / (-10.0 / (0.13 + from / 0.5)), 1.0, 1e-9);
  EXPECT_NEAR(flows.outside / (-30.0 / (0.04 + (1.0 - to) / 0.2)), 1.0, 1e-9);
}

TEST(Held, TheFluidsMaterialDoesNotMatter) {
  const ConductivityGrid water = test::grid_of(wall_with_pipe(45.0, 0.6)),
                         wool = test::grid_of(wall_with_pipe(45.0, 0.02));
  EXPECT_EQ(solve(water, test::winter()).celsius, solve(wool, test::winter()).celsius);
}

// A held shape that is painted over is not there: the same bits.
TEST(Held, NothingHeldChangesNothing) {
  Section s = wall_with_pipe(45.0);
  test::add(s, 0.1, {0.24, 0.26}, {0.03, 0.05});
  Section without = s;
  for (Shape& shape : without.shapes) shape.held.reset();
  EXPECT_EQ(solve(test::grid_of(s), test::winter()).celsius,
            solve(test::grid_of(without), test::winter()).celsius);
  const Results r = forecast(s, test::winter(), {}).results;
  ASSERT_TRUE(r.u_value && r.u_value_uncertainty && r.limits);
  EXPECT_EQ(*r.u_value, *forecast(without, test::winter(), {}).results.u_value);
  EXPECT_EQ(r.flows.held, 0.0);
}

// Colder than outside, warmer than the room, in between: the balance of a wall without, and temperatures
// between the coldest and the warmest of all three.
TEST(Held, BalancesWhateverItsTemperature) {
  for (unsigned seed = 1; seed <= 10; ++seed)
    for (const double T : {-30.0, 7.0, 80.0}) {
      Section s = test::random_wall(seed);
      test::hold(s, Circle{{0.4 * s.width, 0.5 * s.depth}, 0.012}, T);
      const ConductivityGrid grid = test::grid_of(s, 2.0);
      const TemperatureField field = solve(grid, test::winter());
      EXPECT_LE(field.report.heat_imbalance, 1e-9);
      EXPECT_LE(field.report.relative_residual, 1e-10);
      EXPECT_LE(field.report.iterations, 15);
      const auto [least, most] = std::minmax_element(field.celsius.begin(), field.celsius.end());
      EXPECT_EQ(*least, std::min(T, *least));
      EXPECT_GE(*least, std::min(T, 0.0));
      EXPECT_LE(*most, std::max(T, 20.0));
      const HeatFlows flows = heat_flows(grid, test::winter(), field);
      if (T > 20.0) {
        EXPECT_GT(flows.held, 0.0);
      }
      if (T < 0.0) {
        EXPECT_LT(flows.held, 0.0);
      }
    }
}

// With both airs alike, and with two pipes that cancel, the heat that passes is still known.
TEST(Held, IsEnoughToMakeHeatFlow) {
  const Surroundings level{{20.0, 0.13}, {20.0, 0.13}, {}, {}};
  Section s = test::layered(0.4, {{0.1, 0.04}});
  test::hold(s, Circle{{0.1, 0.05}, 0.01}, 30.0);
  ConductivityGrid grid = test::grid_of(s);
  HeatFlows flows = heat_flows(grid, level, solve(grid, level));
  EXPECT_NEAR(flows.inside, -0.5 * flows.held, 1e-8 * flows.held);
  test::hold(s, Circle{{0.3, 0.05}, 0.01}, 10.0);
  grid = test::grid_of(s);
  const TemperatureField field = solve(grid, level);
  flows = heat_flows(grid, level, field);
  EXPECT_LE(field.report.heat_imbalance, 1e-9);
  EXPECT_NEAR(flows.held, 0.0, 1e-8 * flows.passing());
  EXPECT_GT(flows.passing(), 1.0);
}

/// Greatest difference between our solve and a factorisation of the matrix, which must be symmetric and
/// positive definite [K].
double off_from_direct(const ConductivityGrid& grid) {
  const Surroundings air = test::winter();
  const TemperatureRange range = range_of(grid, air);
  const LinearSystem system = assemble(grid, air, range);
  const Eigen::SparseMatrix<double> transposed = system.A.transpose();
  EXPECT_EQ((system.A - transposed).norm(), 0.0);
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(system.A);
  EXPECT_GT(factor.vectorD().minCoeff(), 0.0);
  const Eigen::VectorXd u = factor.solve(system.b);
  const TemperatureField field = solve(grid, air);
  double most = 0.0;
  for (Index c = 0; c < grid.cells(); ++c)
    most = std::max(most, std::abs(field.celsius[static_cast<std::size_t>(c)] - range.coldest -
                                   (range.warmest - range.coldest) * u[c]));
  return most;
}

// 1e-6 K, as in multigrid_test.cpp. The rod's block has a held duct across it, beside the steel.
TEST(Held, AgreesWithADirectSolver) {
  EXPECT_LT(off_from_direct(test::grid_of(wall_with_pipe(70.0))), 1e-6);
  ConductivityGrid wall = test::steel_wall(1e-3);
  test::hold(wall, {0.21, 0.23}, {0.0, 1.0}, {0.05, 0.07}, -12.0);
  EXPECT_LT(off_from_direct(wall), 1e-6);
  ConductivityGrid block = test::rod_block(8e-3);
  test::hold(block, {0.21, 0.25}, {0.0, 0.6}, {0.05, 0.08}, 70.0);
  EXPECT_LT(off_from_direct(block), 1e-6);
}

// The bars of grids without.
TEST(Held, TakesNoMoreIterations) {
  for (const double at_line : {2e-3, 0.5e-3, 0.1e-3}) {
    ConductivityGrid wall = test::steel_wall(at_line);
    test::hold(wall, {0.21, 0.23}, {0.0, 1.0}, {0.05, 0.07}, 60.0);
    EXPECT_LE(solve(wall, test::winter()).report.iterations, 15) << at_line;
  }
  for (const double at_line : {8e-3, 4e-3, 2e-3}) {
    ConductivityGrid block = test::rod_block(at_line);
    test::hold(block, {0.15, 0.19}, {0.1, 0.5}, {0.05, 0.08}, 60.0);
    EXPECT_LE(solve(block, test::winter()).report.iterations, 25) << at_line;
  }
}

TEST(Held, ABlockWithoutChangeUpwardIsASection) {
  ConductivityGrid section = test::steel_wall(2e-3);
  const auto with = [](ConductivityGrid grid) {
    test::hold(grid, {0.3, 0.33}, {0.0, 1.0}, {0.04, 0.07}, 55.0);
    EXPECT_GT(grid.held.size(), 10u);
    return heat_flows(grid, test::winter(), solve(grid, test::winter()));
  };
  const ConductivityGrid block = test::sampled(
      section.axis[0], test::jittered(1.0, 7, 41), section.axis[2], [&](double a, double, double d) {
        return section.conductivity[0][static_cast<std::size_t>(
            section.cell(section.axis[0].cell_at(a), 0, section.axis[2].cell_at(d)))];
      });
  const HeatFlows flat = with(section), high = with(block);
  EXPECT_NEAR(high.held / flat.held, 1.0, 1e-9);
  EXPECT_NEAR(high.inside / flat.inside, 1.0, 1e-8);  // a fifth of what is held: rounding counts five times
}

// A held strip on the room face takes what its film lets through, and hides the room from the rest.
TEST(Held, OnAFaceItMeetsTheFilm) {
  Section s = test::layered(0.5, {{0.1, 0.04}});
  test::hold(s, Rectangle{{0.0, 0.5}, {0.0, 0.02}}, 0.0);  // as cold as outside: nothing else warms the slab
  const ConductivityGrid grid = test::grid_of(s);
  const TemperatureField field = solve(grid, test::winter());
  const HeatFlows flows = heat_flows(grid, test::winter(), field);
  EXPECT_NEAR(flows.inside, 0.5 * 20.0 / 0.13, 1e-9);
  EXPECT_NEAR(flows.held, -flows.inside, 1e-9);
  const SurfaceProfile face = room_face(grid, test::winter(), field);
  EXPECT_EQ(face.celsius[0], 0.0);
  EXPECT_NEAR(face.heat_flux[0], 20.0 / 0.13, 1e-9);
}

// At every point, also in the corners that a curved edge leaves between held cells, the temperature lies
// between those that there are; on the edge, within a cell's worth, it is that of the pipe.
TEST(Held, ReadsBetweenItsCells) {
  for (const double T : {-10.0, 10.0, 60.0}) {
    const Section s = wall_with_pipe(T);
    const ConductivityGrid grid = test::grid_of(s, 4.0);
    const TemperatureField field = solve(grid, test::winter());
    double off = 0.0;
    for (int n = 0; n < 360; ++n) {
      const double angle = n * M_PI / 180.0;
      for (const double r : {0.009, 0.01, 0.0105, 0.011, 0.013, 0.02}) {
        const Point p{0.25 + r * std::cos(angle), 0.04 + r * std::sin(angle)};
        const double read = temperature_at(grid, test::winter(), field, p);
        EXPECT_GE(read, std::min(T, 0.0) - 1e-9);
        EXPECT_LE(read, std::max(T, 20.0) + 1e-9);
        if (r == 0.01) off = std::max(off, std::abs(read - T));
      }
    }
    // The difference falls off over some 40 mm, and a cell here is 2.5 mm across.
    EXPECT_LT(off, 0.1 * std::max(std::abs(T), std::abs(20.0 - T))) << T;
  }
}

TEST(Held, RefusesWhatHasNoAnswer) {
  const auto refused = [](const Section& s, const Surroundings& air) {
    EXPECT_THROW((void)solve(test::grid_of(s, 4.0), air), SolverError);
  };
  Section s = test::layered(0.5, {{0.1, 0.04}});
  test::hold(s, Rectangle{{0.1, 0.12}, {0.0, 0.02}}, 30.0);
  refused(s, {{20.0, 0.0}, {0.0, 0.04}, {}, {}});  // on a face held at another temperature
  EXPECT_NO_THROW((void)solve(test::grid_of(s, 4.0), {{30.0, 0.0}, {0.0, 0.04}, {}, {}}));
  test::hold(s, Rectangle{{0.12, 0.14}, {0.0, 0.02}}, 31.0);
  refused(s, test::winter());  // beside each other
  s.shapes.back().held = 30.0;
  EXPECT_NO_THROW((void)solve(test::grid_of(s, 4.0), test::winter()));
  s.shapes.back().held = NAN;
  refused(s, test::winter());
  Section all = test::layered(0.5, {{0.1, 0.04}});
  all.shapes[0].held = 30.0;
  refused(all, test::winter());
}

TEST(Held, LeavesOutWhatHasNoMeaning) {
  Section s = wall_with_pipe(45.0);
  s.parts = {{"bay 1", "", {0.0, 0.3}, {0.0, 0.28}, true}, {"bay 2", "", {0.3, 0.6}, {0.32, 0.6}, true}};
  const Forecast f = forecast(s, test::winter(), {});
  const Results& r = f.results;
  EXPECT_FALSE(r.u_value || r.u_value_uncertainty || r.limits);
  EXPECT_EQ(r.parts.size(), 2u);  // heat into the face still has a meaning
  EXPECT_EQ(r.heat_flow, r.flows.inside);
  EXPECT_GT(r.flows.held, 0.0);
  EXPECT_NEAR(r.flows.inside + r.flows.outside + r.flows.held, 0.0, 1e-9 * r.flows.passing());
  EXPECT_TRUE(f.reached);
  EXPECT_GT(r.heat_flow_uncertainty, 0.0);
}

// The strips at the pipe are the worst; those far off cost nothing; and none of a strip across a slab.
TEST(Held, StripsAtAPipeAreRefined) {
  Section s = test::layered(0.6, {{0.1, 0.04}});
  test::hold(s, Circle{{0.4, 0.05}, 0.01}, 60.0);
  const ConductivityGrid grid = test::grid_of(s, 8.0);
  const StripErrors errors = strip_errors(grid, test::winter(), solve(grid, test::winter()));
  const auto worst = std::max_element(errors.across.begin(), errors.across.end()) - errors.across.begin();
  EXPECT_NEAR(grid.axis[0].centre(worst), 0.4, 0.03);
  EXPECT_LT(errors.across.front(), 1e-2 * errors.across[static_cast<std::size_t>(worst)]);
  Section slab = test::layered(0.6, {{0.1, 0.04}});
  test::hold(slab, Rectangle{{0.0, 0.6}, {0.05, 0.06}}, 60.0);
  const ConductivityGrid layers = test::grid_of(slab, 4.0);
  EXPECT_LT(sum(strip_errors(layers, test::winter(), solve(layers, test::winter()))), 1e-12);
}

// A held sliver that is thinner than its cells holds none of them: it counts as a sheet that runs askew.
TEST(Held, ASliverIsAThinSheet) {
  Section s = test::layered(0.6, {{0.1, 0.04}});
  test::hold(s, Polygon{{{0.1, 0.02}, {0.5, 0.08}, {0.5, 0.081}, {0.1, 0.021}}}, 60.0);
  const ConductivityGrid grid = rasterise(s, test::even(0.6, 60), test::even(0.1, 20));
  EXPECT_TRUE(thin_sheets(grid).matter());
}

}  // namespace
}  // namespace coldbay::held_test
