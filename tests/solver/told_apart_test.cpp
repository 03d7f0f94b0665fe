#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/results/limits.hpp"
#include "solver/results/surface.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::told_apart_test {
namespace {

// --- results_test.cpp ---
// Both limits speak of heat that goes outward: a cell along a slant counts by its conductivity in depth.
TEST(Limits, TakeTheConductivityInDepth) {
  const ConductivityGrid grid{
      {Axis({0.0, 1.0}), Axis({0.0, 1.0}), Axis({0.0, 0.1})}, {{{7.0}, {}, {0.05}}}, {}, {}};
  const Limits l = limits(grid, test::winter());
  EXPECT_NEAR(1.0 / l.parallel_path, 0.17 + 0.1 / 0.05, 1e-12);
  EXPECT_NEAR(1.0 / l.isothermal_planes, 0.17 + 0.1 / 0.05, 1e-12);
}

// Two layers of 1 m, no films, the second of two halves. By hand, parallel path over isothermal planes:
// k 0.25 and 2 give 2.308/1.889 = 1.22; k 0.1 and 10 give 2.000/1.198 = 1.67.
TEST(Limits, TheCombinedMethodEndsAtOneAndAHalf) {
  const auto holds = [](double left, double right) {
    const ConductivityGrid grid{{Axis({0.0, 0.5, 1.0}), Axis({0.0, 1.0}), Axis({0.0, 1.0, 2.0})},
                                {{{}, {}, {1.0, 1.0, left, right}}},
                                {},
                                {}};
    return limits(grid, {{20.0, 0.0}, {0.0, 0.0}, {}, {}}).combined_method_holds;
  };
  EXPECT_TRUE(holds(0.25, 2.0));
  EXPECT_FALSE(holds(0.1, 10.0));
}

TEST(RoomFace, AHundredthOfAKelvinIsNotRounding) {
  const SurfaceProfile face{{0.1, 0.2, 0.3, 0.4}, {}, {18.0, 17.005, 17.0, 19.0}, {}};
  EXPECT_EQ(coldest_place(face), 2u);
}

TEST(HeatFlows, ImbalanceIsAShareOfTheHeatThatPasses) {
  HeatFlows flows;
  flows.inside = 10.0;
  flows.outside = -9.0;
  EXPECT_DOUBLE_EQ(flows.imbalance(), 1.0 / 9.5);
  flows.outside = -10.0;
  EXPECT_EQ(flows.imbalance(), 0.0);
}

// --- forecast_test.cpp ---
TEST(Forecast, PartsKnowTheirColdestPlaceAndTheirMean) {
  Section s = test::layered(1.2, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  test::add(s, 0.12, {0.58, 0.62}, {0.0125, 0.1025});
  s.parts = {{"bay 1", "", {0.0, 0.6}, {0.0, 0.58}, true}, {"bay 2", "", {0.6, 1.2}, {0.62, 1.2}, true}};
  const Results r = forecast(s, test::winter(), {}).results;
  ASSERT_EQ(r.parts.size(), 2u);
  EXPECT_GT(r.parts[0].extreme_at, 0.58);  // over the stud, on their own side of its middle
  EXPECT_LT(r.parts[1].extreme_at, 0.62);
  EXPECT_GT(r.parts[1].extreme_at, 0.6);
  // The film's law, averaged: mean face = room - R_si U dT.
  for (const PartResult& part : r.parts)
    EXPECT_NEAR(part.mean_surface, 20.0 - 0.13 * part.u_value * 20.0, 1e-9);
}

// --- solve_test.cpp ---
// Steel on the face: one sweep leaves a residual of rounding times 1e5; the sweeps that follow remove it.
TEST(Solve, SteelOnAFaceBalancesToTheLastDigits) {
  Section s = test::layered(0.6, {{0.001, 50.0}, {0.1, 0.04}});
  test::add(s, 50.0, {0.3, 0.301}, {0.001, 0.101});
  const TemperatureField field = solve(test::grid_of(s), test::winter());
  EXPECT_LE(field.report.relative_residual, 1e-10);
}

}  // namespace
}  // namespace coldbay::told_apart_test
