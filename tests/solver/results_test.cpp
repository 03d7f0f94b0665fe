#include <gtest/gtest.h>

#include <cmath>

#include "solver/results/dew_point.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/results/limits.hpp"
#include "solver/results/surface.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::results_test {
namespace {

// The ASHRAE wood-frame wall (Fundamentals 2009 and 2013, chapter 27, example 3; numbers from memory, their
// arithmetic reproduced independently): 2x4 studs, 25 % of the area, R-13 between, inch-pound resistances.
// The handbook's layers become conductivities of layers as thick as their R, so that this is its arithmetic
// and no other.
TEST(Limits, GiveTheHandbooksWoodFrameWall) {
  constexpr double ip = 0.176110;  // [m2 K/W] per h ft2 F/Btu
  Section s;
  s.width = 1.0;
  const auto layer = [&](double R_cavity, double R_framing) {
    const double t = 0.01;
    const Span depth{s.depth, s.depth + t};
    test::add(s, t / (R_cavity * ip), {0.0, 0.75}, depth);
    test::add(s, t / (R_framing * ip), {0.75, 1.0}, depth);
    s.depth += t;
  };
  layer(0.45, 0.45);  // gypsum board
  layer(13.0, 4.38);  // batt or stud
  layer(4.0, 4.0);    // rigid foam
  layer(0.81, 0.81);  // bevel siding
  const Surroundings air{{20.0, 0.68 * ip}, {0.0, 0.17 * ip}, {}, {}};
  const ConductivityGrid grid = test::grid_of(s);
  const Limits l = limits(grid, air);
  // Printed: U 0.0631 and R 15.85 by parallel path, R 14.82 and U 0.067 by isothermal planes. Half of the
  // last digit.
  EXPECT_NEAR(l.parallel_path * ip, 0.0631, 0.00005);
  EXPECT_NEAR(1.0 / (l.parallel_path * ip), 15.85, 0.005);
  EXPECT_NEAR(1.0 / (l.isothermal_planes * ip), 14.82, 0.005);
  EXPECT_NEAR(l.isothermal_planes * ip, 0.067, 0.0005);
  EXPECT_TRUE(l.combined_method_holds);
  // One path alone: cavity R 19.11, framing R 10.49.
  EXPECT_NEAR(1.0 / (0.75 / 19.11 + 0.25 / 10.49), 1.0 / (l.parallel_path * ip), 0.005);
}

// The combined method's worked example ([ISO6946]; a usual wall, its arithmetic worked out independently): 15
// % timber.
TEST(Limits, GiveTheCombinedMethodsExample) {
  Section s =
      test::layered(1.0, {{0.0125, 0.25}, {0.140, 0.038}, {0.010, 0.13}, {0.05, 0.05 / 0.18}, {0.102, 0.77}});
  test::add(s, 0.13, {0.0, 0.15}, {0.0125, 0.1525});
  const Limits l = limits(test::grid_of(s), {{20.0, 0.13}, {0.0, 0.04}, {}, {}});
  EXPECT_NEAR(1.0 / l.parallel_path, 3.4853, 0.00005);
  EXPECT_NEAR(1.0 / l.isothermal_planes, 3.3121, 0.00005);
  EXPECT_NEAR(1.0 / l.mean, 3.3987, 0.00005);
  EXPECT_NEAR(l.mean, 0.2942, 0.00005);
}

TEST(Limits, SayWhereTheCombinedMethodFails) {
  Section s = test::layered(0.4, {{0.1, 0.04}});
  test::add(s, 50.0, {0.2, 0.202}, {0.0, 0.1});
  EXPECT_FALSE(limits(test::grid_of(s), test::winter()).combined_method_holds);
}

// Cutting every sideways link gives the parallel path, shorting every plane the isothermal planes: by
// Rayleigh's principle the network of the grid lies between, to rounding.
TEST(Limits, EncloseEveryWall) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    const Section s = test::random_wall(seed);
    const Results r = forecast(s, test::winter(), {}).results;
    ASSERT_TRUE(r.u_value && r.limits);
    EXPECT_GE(*r.u_value, r.limits->parallel_path * (1 - 1e-9)) << seed;
    EXPECT_LE(*r.u_value, r.limits->isothermal_planes * (1 + 1e-9)) << seed;
  }
}

// [ISO13788] Annex E: pressures worked out independently from its formula, to the printed tenth of a pascal.
TEST(DewPoint, GivesTheStandardsPressures) {
  const struct {
    double T, p;
  } rows[] = {{-20, 102.7}, {-10, 259.3},   {-5, 401.2},  {0, 610.5},   {5, 871.9},
              {10, 1227.3}, {12.6, 1458.2}, {15, 1704.4}, {20, 2337.0}, {25, 3165.9}};
  for (const auto& row : rows) EXPECT_NEAR(saturation_pressure(row.T), row.p, 0.05) << row.T;
}

// 20 degC at 50 %: dew point 9.27 degC; at 80 % surface humidity 12.6 degC (DIN 4108-2 publishes 12.6).
TEST(DewPoint, GivesTheWorkedValues) {
  EXPECT_NEAR(dew_point(20.0, 0.5), 9.27, 0.005);
  EXPECT_NEAR(dew_point(20.0, 0.5 / 0.8), 12.6, 0.05);
  EXPECT_NEAR(dew_point(-5.0, 1.0), -5.0, 1e-12);
  EXPECT_NEAR(saturation_pressure(dew_point(20.0, 0.2)), 0.2 * saturation_pressure(20.0),
              1e-9);  // below freezing too
}

TEST(TemperatureAt, IsExactInALayeredWall) {
  const Section s = test::layered(0.3, {{0.0125, 0.25}, {0.1, 0.04}, {0.001, 50.0}, {0.012, 0.13}});
  const ConductivityGrid grid = test::grid_of(s);
  const TemperatureField field = solve(grid, test::winter());
  const double q = 20.0 / (0.17 + 0.0125 / 0.25 + 0.1 / 0.04 + 0.001 / 50.0 + 0.012 / 0.13);
  const auto T = [&](double depth) { return temperature_at(grid, test::winter(), field, {0.1234, depth}); };
  EXPECT_NEAR(T(0.0), 20.0 - q * 0.13, 1e-9);
  EXPECT_NEAR(T(0.0125), 20.0 - q * 0.18, 1e-9);  // on the edge of two materials
  EXPECT_NEAR(T(0.0333), 20.0 - q * (0.18 + 0.0208 / 0.04), 1e-9);
  EXPECT_NEAR(T(s.depth), q * 0.04, 1e-9);
}

TEST(TemperatureAt, KnowsHeldSides) {
  const Section s = test::layered(0.3, {{0.3, 1.0}});
  const Surroundings held{{20.0, 0.0}, {0.0, 0.0}, Exchange{5.0, 0.0}, {}};
  const ConductivityGrid grid = test::grid_of(s);
  const TemperatureField field = solve(grid, held);
  EXPECT_NEAR(temperature_at(grid, held, field, {0.0, 0.1}), 5.0, 1e-12);
  EXPECT_NEAR(temperature_at(grid, held, field, {0.2, 0.3}), 0.0, 1e-12);
}

TEST(RoomFace, CarriesTheHeatOfTheSection) {
  const Section s = test::random_wall(4);
  const ConductivityGrid grid = test::grid_of(s);
  const TemperatureField field = solve(grid, test::winter());
  const SurfaceProfile face = room_face(grid, test::winter(), field);
  double heat = 0.0;
  for (std::size_t i = 0; i < face.across.size(); ++i) {
    heat += face.heat_flux[i] * face.width[i];
    EXPECT_NEAR(face.heat_flux[i], (20.0 - face.celsius[i]) / 0.13, 1e-9);  // the film's own law
  }
  EXPECT_NEAR(heat, heat_flows(grid, test::winter(), field).inside, 1e-9);
}

TEST(RoomFace, TheColdestPlaceIsTheFirstOfEquals) {
  const SurfaceProfile face{{0.1, 0.2, 0.3, 0.4}, {}, {18.0, 17.0 + 1e-9, 17.0, 19.0}, {}};
  EXPECT_EQ(coldest_place(face), 1u);
}

}  // namespace
}  // namespace coldbay::results_test
