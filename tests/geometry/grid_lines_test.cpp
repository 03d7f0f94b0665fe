#include "geometry/grid_lines.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "materials/model_error.hpp"
#include "tests/support/sections.hpp"

namespace coldbay::grid_lines_test {
namespace {

constexpr Index plenty = 10'000'000;

bool has_line(const Axis& axis, double x) { return std::abs(axis.edge(axis.nearest_edge(x)) - x) < 1e-12; }

Section steel_stud_wall() {
  Section s = test::layered(0.6, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  test::add(s, 50.0, {0.3, 0.3012}, {0.0125, 0.1025});
  test::add(s, 50.0, {0.3, 0.34}, {0.0125, 0.0137});
  return s;
}

TEST(GridLines, StandOnEveryEdge) {
  const GridLines g = grid_lines(steel_stud_wall(), 1.0, plenty);
  for (const double x : {0.0, 0.3, 0.3012, 0.34, 0.6}) EXPECT_TRUE(has_line(g.across, x)) << x;
  for (const double y : {0.0, 0.0125, 0.0137, 0.1025, 0.1135}) EXPECT_TRUE(has_line(g.depth, y)) << y;
}

TEST(GridLines, AThinSheetHasTwoCells) {
  const GridLines g = grid_lines(steel_stud_wall(), 1.0, plenty);
  EXPECT_GE(g.across.nearest_edge(0.3012) - g.across.nearest_edge(0.3), 2);
  EXPECT_GE(g.depth.nearest_edge(0.0137) - g.depth.nearest_edge(0.0125), 2);
}

// Neighbours differ by the growth of 0.3 per length, 1.35 from middle to middle, and by the rounding of a
// stretch to whole cells: below 1.8 for two cells or more.
TEST(GridLines, NeighboursAreAlike) {
  for (const auto density : {2.0, 1.0, 0.5}) {
    const GridLines g = grid_lines(steel_stud_wall(), density, plenty);
    for (const Axis* axis : {&g.across, &g.depth})
      for (Index i = 1; i < axis->cells(); ++i) {
        const double ratio = axis->width(i) / axis->width(i - 1);
        EXPECT_LT(std::max(ratio, 1.0 / ratio), 1.8) << "cell " << i;
      }
  }
}

TEST(GridLines, FinerDensityIsFiner) {
  const auto cells = [](double d) { return grid_lines(steel_stud_wall(), d, plenty).across.cells(); };
  EXPECT_LT(cells(2.0), cells(1.0));
  EXPECT_LT(cells(1.0), cells(0.5));
}

TEST(GridLines, NearlyEqualEdgesAreOne) {
  Section s = test::layered(0.6, {{0.1, 0.04}});
  test::add(s, 1.0, {0.2, 0.4}, {0.0, 0.1});
  test::add(s, 1.0, {0.4 + 1e-9, 0.5}, {0.0, 0.1});
  const GridLines g = grid_lines(s, 1.0, plenty);
  double narrowest = 1.0;
  for (Index i = 0; i < g.across.cells(); ++i) narrowest = std::min(narrowest, g.across.width(i));
  EXPECT_GT(narrowest, 1e-4);
}

// A 1 mm sheet on a slant needs cells of a quarter of a millimetre wherever it may pass.
TEST(GridLines, ASlantedSheetIsSeen) {
  Section s = test::layered(0.6, {{0.1, 0.04}});
  s.shapes.push_back({Polygon{{{0.2, 0.02}, {0.201, 0.02}, {0.231, 0.05}, {0.23, 0.05}}}, 0, ""});
  const GridLines g = grid_lines(s, 1.0, plenty);
  for (Index i = g.across.nearest_edge(0.2); i < g.across.nearest_edge(0.231); ++i)
    EXPECT_LT(g.across.width(i), 0.0004);
}

TEST(GridLines, RefuseBeforeTakingMemory) {
  Section s = test::layered(50.0, {{50.0, 0.04}});
  s.shapes.push_back({Polygon{{{0, 0}, {50, 49.99999}, {50, 50}, {0, 0.00001}}}, 0, ""});
  EXPECT_THROW(grid_lines(s, 1.0, 1'000'000), ModelError);
}

TEST(Axis, RefusesWhatIsNotAnAxis) {
  EXPECT_THROW(Axis({0.0}), ModelError);
  EXPECT_THROW(Axis({0.0, 1.0, 1.0}), ModelError);
  EXPECT_THROW(Axis({0.0, NAN, 1.0}), ModelError);
  EXPECT_THROW(Axis({0.0, INFINITY}), ModelError);
}

TEST(Axis, FindsCellsAndEdges) {
  const Axis a({0.0, 1.0, 3.0});
  EXPECT_EQ(a.cell_at(-1.0), 0);
  EXPECT_EQ(a.cell_at(1.0), 1);
  EXPECT_EQ(a.cell_at(3.0), 1);
  EXPECT_EQ(a.nearest_edge(1.9), 1);
  EXPECT_EQ(a.nearest_edge(2.1), 2);
  const Axis b = bisected(a);
  EXPECT_EQ(b.edges(), (std::vector<double>{0.0, 0.5, 1.0, 2.0, 3.0}));
}

}  // namespace
}  // namespace coldbay::grid_lines_test
