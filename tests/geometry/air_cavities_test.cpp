#include "geometry/air_cavities.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "geometry/grid_lines.hpp"
#include "tests/support/sections.hpp"

namespace coldbay {
namespace {

/// Fibre with rectangles of still air in it.
Section with_air(const std::vector<Rectangle>& rectangles) {
  Section s = test::layered(0.4, {{0.1, 0.04}});
  s.materials.push_back(test::still_air());
  for (const Rectangle& r : rectangles) s.shapes.push_back({r, 1, ""});
  return s;
}

AirSpaces spaces_of(const Section& s) {
  const GridLines g = grid_lines(s, 1.0, 10'000'000);
  return find_air_spaces(s, paint(s, g.across, g.depth));
}

// Two spaces parted by a sheet are two; two rectangles that touch are one.
TEST(AirSpaces, AreConnectedRegions) {
  Section s =
      with_air({{{0.05, 0.10}, {0.02, 0.06}}, {{0.10, 0.15}, {0.02, 0.06}}, {{0.20, 0.35}, {0.02, 0.06}}});
  test::add(s, 50.0, {0.30, 0.301}, {0.02, 0.06});
  const auto cavities = spaces_of(s).cavities;
  ASSERT_EQ(cavities.size(), 3u);
  EXPECT_NEAR(cavities[0].across.length(), 0.10, 1e-12);
  EXPECT_NEAR(cavities[1].across.length(), 0.10, 1e-12);
  EXPECT_NEAR(cavities[2].across.length(), 0.049, 1e-12);
  EXPECT_LT(cavities[2].conductivity, cavities[0].conductivity);  // narrower radiates less
}

// A passage of 2 mm parts two cavities, and is one itself; one of 3 mm joins them.
TEST(AirSpaces, AThroatPartsThem) {
  const auto two_with_passage = [](double width) {
    return with_air(
        {{{0.05, 0.10}, {0.02, 0.06}}, {{0.10, 0.20}, {0.04, 0.04 + width}}, {{0.20, 0.35}, {0.02, 0.06}}});
  };
  EXPECT_EQ(spaces_of(two_with_passage(0.002)).cavities.size(), 3u);
  EXPECT_EQ(spaces_of(two_with_passage(0.003)).cavities.size(), 1u);
  EXPECT_EQ(spaces_of(with_air({{{0.05, 0.35}, {0.04, 0.0415}}})).cavities.size(), 1u);  // thin all over: one
}

// An L of two 40 x 20 mm legs: area 1200 mm2 in a square of 40 mm; the rectangle of equal area and
// proportions is a square of 34.64 mm ([ISO10077] 6.3, by hand).
TEST(AirSpaces, OddShapesBecomeRectanglesOfEqualArea) {
  const Section odd = with_air({{{0.10, 0.14}, {0.02, 0.04}}, {{0.10, 0.12}, {0.04, 0.06}}});
  const double side = std::sqrt(0.0012);
  const auto a = spaces_of(odd).cavities,
             b = spaces_of(with_air({{{0.10, 0.10 + side}, {0.02, 0.02 + side}}})).cavities;
  ASSERT_EQ(a.size(), 1u);
  EXPECT_NEAR(a[0].area, 0.0012, 1e-12);
  EXPECT_NEAR(a[0].conductivity / b[0].conductivity, 1.0, 1e-9);
}

TEST(AirSpaces, SeeTheFacesTheyMeet) {
  Section s = with_air({{{0.0, 0.4}, {0.03, 0.05}}});
  s.materials.push_back(test::material("foil", 200.0));
  s.materials.back().emissivity = 0.05;
  s.shapes.push_back({Rectangle{{0.0, 0.4}, {0.05, 0.0501}}, 2, ""});
  const auto shiny = spaces_of(s).cavities, dull = spaces_of(with_air({{{0.0, 0.4}, {0.03, 0.05}}})).cavities;
  EXPECT_NEAR(shiny[0].emissivity_low, 0.9, 1e-12);  // a mean over cells
  EXPECT_NEAR(shiny[0].emissivity_high, 0.05, 1e-12);
  EXPECT_GT(shiny[0].resistance, 2.0 * dull[0].resistance);
}

TEST(AirSpaces, TheRuleIsTheSections) {
  Section s = with_air({{{0.0, 0.4}, {0.03, 0.05}}});
  const double layer = spaces_of(s).cavities[0].resistance;
  s.air_rule = AirRule::cavity;
  EXPECT_NE(spaces_of(s).cavities[0].resistance, layer);
}

}  // namespace
}  // namespace coldbay
