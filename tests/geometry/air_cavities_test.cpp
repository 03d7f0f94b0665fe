#include "geometry/air_cavities.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "geometry/grid_lines.hpp"
#include "tests/support/sections.hpp"

namespace coldbay::air_cavities_test {
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
    Section s = with_air(
        {{{0.05, 0.10}, {0.02, 0.06}}, {{0.10, 0.20}, {0.04, 0.04 + width}}, {{0.20, 0.35}, {0.02, 0.06}}});
    s.air_rule = AirRule::cavity;  // that for layers would part them at the steps
    return s;
  };
  EXPECT_EQ(spaces_of(two_with_passage(0.002)).cavities.size(), 3u);
  EXPECT_EQ(spaces_of(two_with_passage(0.003)).cavities.size(), 1u);
  EXPECT_EQ(spaces_of(with_air({{{0.05, 0.35}, {0.04, 0.0415}}})).cavities.size(), 1u);  // thin all over: one
}

// An L of two 40 x 20 mm legs: area 1200 mm2 in a square of 40 mm; the rectangle of equal area and
// proportions is a square of 34.64 mm ([ISO10077] 6.3, by hand).
TEST(AirSpaces, OddShapesBecomeRectanglesOfEqualArea) {
  Section odd = with_air({{{0.10, 0.14}, {0.02, 0.04}}, {{0.10, 0.12}, {0.04, 0.06}}});
  const double side = std::sqrt(0.0012);
  Section even = with_air({{{0.10, 0.10 + side}, {0.02, 0.02 + side}}});
  odd.air_rule = even.air_rule = AirRule::cavity;
  const auto a = spaces_of(odd).cavities, b = spaces_of(even).cavities;
  ASSERT_EQ(a.size(), 1u);
  EXPECT_NEAR(a[0].area, 0.0012, 1e-12);
  EXPECT_NEAR(a[0].conductivity / b[0].conductivity, 1.0, 1e-9);
}

// Under the rule for layers a gap beside the fill and the layer behind it are two spaces, each as deep as it
// is; so are the two layers on either side of the fill where a gap joins them.
TEST(AirSpaces, AreCutWhereTheirDepthSteps) {
  const auto L = spaces_of(with_air({{{0.05, 0.06}, {0.02, 0.08}}, {{0.06, 0.35}, {0.06, 0.08}}})).cavities;
  ASSERT_EQ(L.size(), 2u);
  EXPECT_NEAR(L[0].depth.length(), 0.06, 1e-12);
  EXPECT_NEAR(L[0].across.length(), 0.01, 1e-12);
  EXPECT_NEAR(L[1].depth.length(), 0.02, 1e-12);
  EXPECT_NEAR(L[1].across.length(), 0.29, 1e-12);
  const auto C = spaces_of(with_air({{{0.05, 0.06}, {0.01, 0.09}},
                                     {{0.06, 0.35}, {0.01, 0.03}},
                                     {{0.06, 0.35}, {0.07, 0.09}}}))
                     .cavities;
  EXPECT_EQ(C.size(), 3u);
  // A step of 2 mm is none.
  EXPECT_EQ(
      spaces_of(with_air({{{0.05, 0.20}, {0.02, 0.04}}, {{0.20, 0.35}, {0.02, 0.042}}})).cavities.size(), 1u);
}

// Neither a slanted nor a curved edge is a step, however steep, on a coarse grid or a fine one.
TEST(AirSpaces, AreNotCutAlongASlant) {
  Section s = with_air({});
  s.shapes.push_back({Polygon{{{0.1, 0.01}, {0.3, 0.01}, {0.28, 0.09}, {0.12, 0.03}}}, 1, ""});
  Section round = with_air({});
  round.shapes.push_back({Circle{{0.2, 0.05}, 0.03}, 1, ""});
  for (const double factor : {8.0, 2.0, 1.0, 0.5})
    for (const Section& section : {s, round}) {
      const GridLines g = grid_lines(section, factor, 10'000'000);
      const auto all = find_air_spaces(section, paint(section, g.across, g.depth)).cavities;
      // Their tips, thinner than a throat, are parted from them; no more than that.
      EXPECT_EQ(std::count_if(all.begin(), all.end(), [](const AirCavity& c) { return c.area > 1e-5; }), 1)
          << factor;
    }
}

// A space cut in half by the section's side is the whole space: it conducts as that does.
TEST(AirSpaces, GoOnBeyondASide) {
  const auto whole = spaces_of(with_air({{{0.10, 0.18}, {0.02, 0.06}}})).cavities,
             half = spaces_of(with_air({{{0.0, 0.04}, {0.02, 0.06}}})).cavities,
             layer = spaces_of(with_air({{{0.0, 0.4}, {0.02, 0.06}}})).cavities;
  ASSERT_EQ(half.size(), 1u);
  EXPECT_NEAR(half[0].resistance, whole[0].resistance, 1e-12);
  // From side to side it is a layer without end: [ISO6946], 40 mm, 0.18 m2K/W.
  EXPECT_NEAR(layer[0].resistance, 0.18, 0.005);
}

TEST(AirSpaces, SeeTheFacesTheyMeet) {
  Section s = with_air({{{0.0, 0.4}, {0.03, 0.05}}});
  s.materials.push_back(test::material("foil", 200.0));
  s.materials.back().emissivity = 0.05;
  s.shapes.push_back({Rectangle{{0.0, 0.4}, {0.05, 0.0501}}, 2, ""});
  const auto shiny = spaces_of(s).cavities, dull = spaces_of(with_air({{{0.0, 0.4}, {0.03, 0.05}}})).cavities;
  EXPECT_NEAR(shiny[0].outward.emissivity_low, 0.9, 1e-12);  // a mean over cells
  EXPECT_NEAR(shiny[0].outward.emissivity_high, 0.05, 1e-12);
  EXPECT_GT(shiny[0].resistance, 2.0 * dull[0].resistance);
}

TEST(AirSpaces, TheRuleIsTheSections) {
  Section s = with_air({{{0.0, 0.4}, {0.03, 0.05}}});
  const double layer = spaces_of(s).cavities[0].resistance;
  s.air_rule = AirRule::cavity;
  EXPECT_NE(spaces_of(s).cavities[0].resistance, layer);
}

}  // namespace
}  // namespace coldbay::air_cavities_test
