#include "solver/results/settling_time.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <vector>

#include "solver/solver_error.hpp"
#include "tests/support/grids.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::settling_time_test {
namespace {

struct Sheet {
  double thickness, conductivity, density, specific_heat;
};

// A slab, dT/dt = a T'', a = k/(rho c), has the eigenvalues mu = a b^2, where T = cos bx + (q/kb) sin bx
// begins with T = 1 and a flux k T' = q = h_in T at the room film. Through a layer of thickness d
//
//     T -> T cos bd + q/(kb) sin bd,     q -> q cos bd - kb T sin bd,     b = sqrt(mu/a),
//
// T and q = k T' are the same on both sides of a joint, and at the outside film q + h_out T = 0. With mu = 0
// that is positive; the slowest mu is the first where it is not. A film of 0 holds its face, T = 0.
double past_the_end(const std::vector<Sheet>& sheets, double film_in, double film_out, double mu) {
  double T = film_in, q = 1.0;  // as from h_in = 1/film: T = film q
  for (const Sheet& s : sheets) {
    const double b = std::sqrt(mu * s.density * s.specific_heat / s.conductivity), kb = s.conductivity * b;
    const double c = std::cos(b * s.thickness), n = std::sin(b * s.thickness), T0 = T;
    T = T0 * c + q / kb * n;
    q = q * c - kb * T0 * n;
  }
  return film_out * q + T;
}

/// The slowest mu of layers [1/s], by steps and bisection.
double exact(const std::vector<Sheet>& sheets, double film_in, double film_out) {
  const double step = 1e-7;  // far less than the slowest of the walls below
  double low = step;
  while (past_the_end(sheets, film_in, film_out, low + step) > 0.0) low += step;
  double high = low + step;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (past_the_end(sheets, film_in, film_out, middle) > 0.0 ? low : high) = middle;
  }
  return low;
}

Section section_of(const std::vector<Sheet>& sheets, double width = 0.2) {
  Section s;
  s.width = width;
  for (const Sheet& sheet : sheets) {
    Material m = test::material("sheet", sheet.conductivity);
    m.density = sheet.density;
    m.specific_heat = sheet.specific_heat;
    s.materials.push_back(m);
    s.shapes.push_back(
        {Rectangle{{0.0, width}, {s.depth, s.depth + sheet.thickness}}, s.materials.size() - 1, ""});
    s.depth += sheet.thickness;
  }
  return s;
}

/// Time constant of layers with n even cells in each.
double tau_of(const std::vector<Sheet>& sheets, const Surroundings& air, int n) {
  const Section s = section_of(sheets);
  std::vector<double> depths{0.0};
  for (const Sheet& sheet : sheets)
    for (int i = 0; i < n; ++i) depths.push_back(depths.back() + sheet.thickness / n);
  depths.back() = s.depth;
  const Axis across = test::jittered(0.2, 5, 1), depth(depths);
  return settling_time(rasterise(s, across, depth), air, heat_capacities(s, paint(s, across, depth)).per_cell)
      .time_constant;
}

// A concrete slab; a wall of brick and fibre, whose brick remembers for days; the same turned about.
const std::vector<Sheet> slab{{0.2, 1.4, 2200.0, 1000.0}};
const std::vector<Sheet> brick_in{{0.1, 0.9, 1800.0, 800.0}, {0.1, 0.035, 20.0, 1030.0}};
const std::vector<Sheet> brick_out{brick_in[1], brick_in[0]};

TEST(SettlingTime, MeetsTheExactEigenvalueOfLayers) {
  for (const auto* wall : {&slab, &brick_in, &brick_out}) {
    const double mu = exact(*wall, 0.13, 0.04);
    double before = 0.0;
    for (const int n : {10, 20, 40}) {
      const double error = std::abs(tau_of(*wall, test::winter(), n) * mu - 1.0);
      EXPECT_LT(error, 0.005) << n;  // half a per cent, asked of a wall in few cells
      if (before > 0.0) {            // second order: 4, by the next term a little more or less
        EXPECT_GT(before / error, 3.6) << n;
        EXPECT_LT(before / error, 4.4) << n;
      }
      before = error;
    }
  }
}

TEST(SettlingTime, MeetsASlabHeldOnBothFaces) {
  // T = sin(pi x/L): mu = a (pi/L)^2. 64 cells are off by (pi/64)^2/12 = 2e-4.
  const Surroundings held{{20.0, 0.0}, {0.0, 0.0}, {}, {}};
  const double mu = 1.4 / 2.2e6 * std::pow(std::numbers::pi / 0.2, 2);
  EXPECT_NEAR(exact(slab, 0.0, 0.0) / mu, 1.0, 1e-9);
  EXPECT_NEAR(tau_of(slab, held, 64) * mu, 1.0, 3e-4);
}

TEST(SettlingTime, AddsTheTwoDirectionsOfABlock) {
  // Films all round: T = X(x) Z(z), so mu is the sum of those of two slabs. 48 cells either way: below 1e-3.
  const Sheet& concrete = slab[0];
  const Section s = section_of(slab, 0.3);
  const Surroundings air{{20.0, 0.13}, {0.0, 0.04}, Exchange{10.0, 0.1}, Exchange{10.0, 0.05}};
  const Axis across = test::even(0.3, 48), depth = test::even(0.2, 48);
  const double mu =
      exact(slab, 0.13, 0.04) +
      exact({{0.3, concrete.conductivity, concrete.density, concrete.specific_heat}}, 0.1, 0.05);
  const auto capacities = heat_capacities(s, paint(s, across, depth));
  EXPECT_TRUE(capacities.unknown.empty());
  EXPECT_NEAR(settling_time(rasterise(s, across, depth), air, capacities.per_cell).time_constant * mu, 1.0,
              1e-3);
}

TEST(SettlingTime, ABlockThatIsTheSameAllTheWayUpSettlesAsItsSection) {
  const Section s = section_of(brick_in);
  const Axis across = test::jittered(0.2, 6, 2), depth = test::even(0.2, 24);
  const ConductivityGrid flat = rasterise(s, across, depth);
  const std::vector<double> capacities = heat_capacities(s, paint(s, across, depth)).per_cell;
  const Axis up = test::jittered(0.8, 5, 3);
  const ConductivityGrid block =
      test::sampled(across, up, depth, [](double, double, double z) { return z < 0.1 ? 0.9 : 0.035; });
  std::vector<double> of_block;
  for (Index k = 0; k < depth.cells(); ++k)
    for (Index j = 0; j < up.cells(); ++j)
      for (Index i = 0; i < across.cells(); ++i)
        of_block.push_back(up.width(j) * capacities[static_cast<std::size_t>(i + across.cells() * k)]);
  // Both are found to 1e-4.
  EXPECT_NEAR(settling_time(block, test::winter(), of_block).time_constant /
                  settling_time(flat, test::winter(), capacities).time_constant,
              1.0, 1e-4);
}

TEST(SettlingTime, WhatIsHeldPartsTheWall) {
  // A strip held in the middle of a slab of 0.2 m: two slabs of 0.08, one of them with a held face and the
  // room's film, the slower, for its film is the larger.
  Section s = section_of(slab);
  test::add(s, 1.0, {0.0, 0.2}, {0.08, 0.12});
  s.shapes.back().held = 15.0;
  const Axis across = test::even(0.2, 3), depth = test::even(0.2, 100);
  const HeatCapacities capacities = heat_capacities(s, paint(s, across, depth));
  EXPECT_TRUE(capacities.unknown.empty());  // what is held needs none
  const double mu = exact({{0.08, 1.4, 2200.0, 1000.0}}, 0.13, 0.0);
  // 40 cells: the error of a slab falls with (pi/80)^2.
  EXPECT_NEAR(
      settling_time(rasterise(s, across, depth), test::winter(), capacities.per_cell).time_constant * mu, 1.0,
      1e-3);
}

TEST(HeatCapacities, AreThoseOfTheMaterialsAndNameWhatIsNotKnown) {
  Section s = section_of(brick_in);
  test::add(s, 0.12, {0.05, 0.1}, {0.1, 0.2});  // "piece", of which nothing is known
  s.materials.push_back(test::material("hidden", 1.0));
  s.shapes.push_back({Rectangle{{0.05, 0.08}, {0.1, 0.2}}, s.materials.size() - 1, ""});
  test::add(s, 0.12, {0.05, 0.1}, {0.1, 0.2});
  const Axis across = test::even(0.2, 8), depth = test::even(0.2, 10);
  const HeatCapacities c = heat_capacities(s, paint(s, across, depth));
  EXPECT_EQ(c.unknown, std::vector<std::string>{"piece"});
  double sum = 0.0;
  for (const double one : c.per_cell) sum += one;
  // By hand: brick, and fibre less a quarter; rounding.
  EXPECT_NEAR(sum, 0.2 * 0.1 * 1800.0 * 800.0 + 0.15 * 0.1 * 20.0 * 1030.0, 1e-6);
}

TEST(HeatCapacities, ACellWithASlantHasTheMeanOfItsSamples) {
  Section s = section_of(slab);
  s.materials.push_back(s.materials[0]);
  s.materials.back().density = 1000.0;
  s.shapes.push_back({Polygon{{{0.0, 0.0}, {0.2, 0.0}, {0.0, 0.2}}}, 1, ""});
  const Axis across = test::even(0.2, 7), depth = test::even(0.2, 7);
  double sum = 0.0;
  for (const double one : heat_capacities(s, paint(s, across, depth)).per_cell) sum += one;
  // 16 samples each way place the slant of a cell to 1/32 of it, in 7 of 49 cells: 1/224 of the difference.
  EXPECT_NEAR(sum, 0.02 * 2.2e6 + 0.02 * 1.0e6, 0.04 * 1.2e6 / 224);
}

TEST(SettlingTime, StepsSettleAsTheExponentialDoes) {
  const SettlingTime t{3600.0};
  EXPECT_NEAR(t.to_within(0.05) / 3600.0, 3.0, 0.005);  // ln 20 = 2.996, ln 100 = 4.605
  EXPECT_NEAR(t.to_within(0.01) / 3600.0, 4.6, 0.006);
}

TEST(SettlingTime, RefusesWhatNeverSettles) {
  const Section s = section_of(slab);
  const Axis across = test::even(0.2, 2), depth = test::even(0.2, 4);
  const ConductivityGrid grid = rasterise(s, across, depth);
  const Surroundings air = test::winter();
  EXPECT_THROW(settling_time(grid, air, std::vector<double>(8, 0.0)), SolverError);
  EXPECT_THROW(settling_time(grid, air, std::vector<double>(7, 1.0)), SolverError);
  EXPECT_THROW(settling_time(grid, air, std::vector<double>(8, -1.0)), SolverError);
  EXPECT_THROW(settling_time(grid, air, std::vector<double>(8, std::numeric_limits<double>::quiet_NaN())),
               SolverError);
  const Surroundings sealed{{20.0, std::numeric_limits<double>::infinity()},
                            {0.0, std::numeric_limits<double>::infinity()},
                            {},
                            {}};
  EXPECT_THROW(settling_time(grid, sealed, std::vector<double>(8, 1.0)), SolverError);
}

}  // namespace
}  // namespace coldbay::settling_time_test
