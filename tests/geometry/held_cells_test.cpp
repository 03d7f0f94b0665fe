#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "geometry/air_cavities.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "tests/support/pipes.hpp"

namespace coldbay::held_cells_test {
namespace {

ConductivityGrid drawn(const Section& s) {
  const GridLines lines = grid_lines(s, 1.0, 10'000'000);
  return rasterise(s, lines.across, lines.depth);
}

double held_area(const ConductivityGrid& grid) {
  double sum = 0.0;
  for (const HeldCell& held : grid.held) {
    const Index i = held.cell % grid.axis[0].cells(), k = held.cell / grid.axis[0].cells();
    sum += grid.axis[0].width(i) * grid.axis[2].width(k);
  }
  return sum;
}

TEST(HeldCells, AreThoseThatShowTheShape) {
  Section s = test::layered(0.4, {{0.1, 0.04}});
  test::hold(s, Rectangle{{0.1, 0.12}, {0.03, 0.05}}, 45.0);
  test::hold(s, Rectangle{{0.2, 0.25}, {0.03, 0.05}}, 10.0);
  test::add(s, 0.5, {0.2, 0.22}, {0.03, 0.05});  // painted over part of the second
  const ConductivityGrid grid = drawn(s);
  EXPECT_NEAR(held_area(grid), 0.02 * 0.02 + 0.03 * 0.02, 1e-12);
  Index before = -1;
  for (const HeldCell& held : grid.held) {
    EXPECT_GT(held.cell, before);
    before = held.cell;
    const double x = grid.axis[0].centre(held.cell % grid.axis[0].cells());
    EXPECT_EQ(held.celsius, x < 0.15 ? 45.0 : 10.0);
    EXPECT_EQ(held_cell(grid, held.cell), &held);
  }
  EXPECT_EQ(held_cell(grid, 0), nullptr);
  EXPECT_EQ(held_cell(grid, grid.cells() - 1), nullptr);
}

// A share of 7, 8 and 9 sixteenths of one cell: held from half on. (A polygon is sampled, even an upright
// one.)
TEST(HeldCells, AMixedCellIsHeldFromHalfOn) {
  for (const int sixteenths : {7, 8, 9}) {
    Section s = test::layered(2.0, {{1.0, 0.04}});
    const double to = 1.0 + sixteenths / 16.0;
    test::hold(s, Polygon{{{1.0, 0.0}, {to, 0.0}, {to, 1.0}, {1.0, 1.0}}}, 45.0);
    const ConductivityGrid grid = rasterise(s, Axis({0.0, 1.0, 2.0}), Axis({0.0, 1.0}));
    ASSERT_EQ(grid.mixed.count(1), 1u);
    EXPECT_EQ(grid.held.size(), sixteenths >= 8 ? 1u : 0u) << sixteenths;
    const auto& samples = grid.mixed.at(1).held;
    EXPECT_EQ(std::count(samples.begin(), samples.end(), true), 16 * sixteenths);
  }
}

// The cells' area is the circle's but for the jumps of those that its edge crosses, some 2 % here.
TEST(HeldCells, KeepTheAreaOfACircle) {
  Section s = test::layered(0.4, {{0.1, 0.04}});
  test::hold(s, Circle{{0.2, 0.05}, 0.02}, 45.0);
  EXPECT_NEAR(held_area(drawn(s)) / (std::numbers::pi * 0.02 * 0.02), 1.0, 0.05);
}

// What the pipe's fluid is must not show, not even in the cells that its edge crosses.
TEST(HeldCells, WhatIsHeldConductsAsWhatIsBesideIt) {
  const auto with = [](double conductivity) {
    Section s = test::layered(0.4, {{0.1, 0.04}});
    test::hold(s, Circle{{0.2, 0.05}, 0.02}, 45.0, conductivity);
    return drawn(s);
  };
  const ConductivityGrid water = with(0.6), wool = with(1e-3);
  EXPECT_EQ(water.conductivity, wool.conductivity);
  ASSERT_GT(water.mixed.size(), 10u);
  for (const auto& [cell, mixed] : water.mixed)
    for (const double k : mixed.conductivity) EXPECT_NEAR(k, 0.04, 1e-15);
}

// A duct that is held is no still air space.
TEST(HeldCells, AHeldDuctIsNoAirSpace) {
  Section s = test::layered(0.4, {{0.1, 0.04}});
  s.materials.push_back(test::still_air());
  s.shapes.push_back({Circle{{0.2, 0.05}, 0.02}, 1, ""});
  EXPECT_EQ(drawn(s).cavities.size(), 1u);
  s.shapes.back().held = 30.0;
  const ConductivityGrid grid = drawn(s);
  EXPECT_TRUE(grid.cavities.empty());
  for (const double k : grid.conductivity[0]) EXPECT_GT(k, 0.0);
}

}  // namespace
}  // namespace coldbay::held_cells_test
