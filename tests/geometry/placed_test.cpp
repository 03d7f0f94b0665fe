#include <gtest/gtest.h>

#include <cmath>

#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "geometry/section_checks.hpp"
#include "geometry/wall/cuts.hpp"
#include "tests/support/walls.hpp"

namespace coldbay::placed_test {
namespace {

constexpr Index plenty = 10'000'000;
bool has_line(const Axis& axis, double x) { return std::abs(axis.edge(axis.nearest_edge(x)) - x) < 1e-12; }

using test::box_at, test::two_by_four;

// --- grid_lines_test.cpp ---
TEST(GridLines, StandBetweenThePartsAndOnACirclesCentre) {
  Section s = test::layered(0.6, {{0.1, 0.04}});
  s.parts = {{"bay 1", "", {0.0, 0.217}, {0.0, 0.2}, true}, {"bay 2", "", {0.217, 0.6}, {0.234, 0.6}, true}};
  s.shapes.push_back({Circle{{0.401, 0.043}, 0.011}, 0, ""});
  const GridLines g = grid_lines(s, 2.0, plenty);
  for (const double x : {0.217, 0.390, 0.401, 0.412}) EXPECT_TRUE(has_line(g.across, x)) << x;
  for (const double y : {0.032, 0.043, 0.054}) EXPECT_TRUE(has_line(g.depth, y)) << y;
}

// --- wall_test.cpp ---
TEST(Wall, GapsOnTheRoomSideLieBehindTheLining) {
  Wall w = two_by_four();
  w.bays[0].fills[0] = {w.bays[0].fills[0].material, {}, 0.0};
  w.bays[0].gap = {0.0, 0.0, 0.01, 0.02};
  const Section s = plan_section(w, 1.2, "", "");
  const auto air_at = [&](double depth) { return s.materials[*material_at(s, {0.2, depth})].is_air_space; };
  EXPECT_TRUE(air_at(0.0127 + 0.009));
  EXPECT_FALSE(air_at(0.0127 + 0.011));
  EXPECT_FALSE(air_at(0.0127 + 0.089 - 0.021));
  EXPECT_TRUE(air_at(0.0127 + 0.089 - 0.019));
}

TEST(Wall, ABoxStandsAgainstTheStudItIsFixedTo) {
  Wall w = two_by_four();
  w.bays[1].enclosures = {box_at(0.4)};
  w.bays[1].enclosures[0].stud = Side::right;
  const Section s = plan_section(w, 0.4, "", "");
  const auto name_at = [&](double across, double depth) {
    return s.materials[*material_at(s, {across, depth})].name;
  };
  const double x = 2 * 0.4064 - 0.019;  // the near face of the stud right of bay 2
  EXPECT_EQ(name_at(x - 0.001, 0.03), "steel");
  EXPECT_EQ(name_at(x - 0.0569, 0.03), "steel");
  EXPECT_EQ(name_at(x - 0.03, 0.03), "air space");
  EXPECT_EQ(name_at(x - 0.058, 0.03), "batt");
  EXPECT_EQ(name_at(0.4064 + 0.020, 0.03), "batt");  // nothing at the left stud
  EXPECT_FALSE(s.parts[1].sound);
  EXPECT_TRUE(s.parts[0].sound);
}

TEST(Wall, RoomAndSheathingGapsCountTogether) {
  Wall w = two_by_four();
  w.bays[0].fills[0] = {w.bays[0].fills[0].material, {}, 0.0};
  w.bays[0].gap = {0.0, 0.0, 0.05, 0.04};
  ASSERT_EQ(check(w).size(), 1u);
  EXPECT_EQ(check(w).front().path, "wall.bays[0].gap");
}

// --- section_test.cpp ---
TEST(SectionChecks, AProbeStaysInsideOnEverySide) {
  for (const Point p :
       {Point{-0.01, 0.5}, Point{1.01, 0.5}, Point{0.5, -0.01}, Point{0.5, 1.01}, Point{NAN, 0.5}}) {
    Section s = test::layered(1.0, {{1.0, 1.0}});
    s.probes.push_back({"P", p, "probe"});
    EXPECT_EQ(check(s).size(), 1u) << p.across << ", " << p.depth;
  }
}

// --- rasterise_test.cpp (or air_cavities_test.cpp) ---
// The last cell of a row and the first of the next are neighbours in memory alone.
TEST(AirSpaces, AreNotJoinedFromOneSideToTheOther) {
  Section s = test::layered(0.4, {{0.1, 0.04}});
  s.materials.push_back(test::still_air());
  s.shapes.push_back({Rectangle{{0.0, 0.05}, {0.02, 0.06}}, 1, ""});
  s.shapes.push_back({Rectangle{{0.35, 0.4}, {0.02, 0.06}}, 1, ""});
  const GridLines g = grid_lines(s, 2.0, plenty);
  EXPECT_EQ(rasterise(s, g.across, g.depth).cavities.size(), 2u);
}

}  // namespace
}  // namespace coldbay::placed_test
