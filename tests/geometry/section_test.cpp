#include "geometry/section.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "geometry/section_checks.hpp"
#include "tests/support/sections.hpp"

namespace coldbay::section_test {
namespace {

const Polygon hollow{{{0, 0}, {4, 0}, {4, 4}, {2, 1}, {0, 4}}};  // a notch down to (2, 1)

TEST(Outline, ContainsItsInsideAndItsEdge) {
  EXPECT_TRUE(contains(Outline{hollow}, {2, 0.5}));
  EXPECT_FALSE(contains(Outline{hollow}, {2, 2}));
  EXPECT_TRUE(contains(Outline{hollow}, {2, 1}));    // a corner
  EXPECT_TRUE(contains(Outline{hollow}, {3, 0}));    // an edge
  EXPECT_FALSE(contains(Outline{hollow}, {-1, 4}));  // level with two corners
  EXPECT_FALSE(contains(Outline{hollow}, {2, 4}));
  EXPECT_TRUE(contains(Outline{Circle{{0, 0}, 1}}, {0.6, 0.8}));
  EXPECT_FALSE(contains(Outline{Circle{{0, 0}, 1}}, {0.61, 0.8}));
}

TEST(Outline, AreaByHand) {
  EXPECT_DOUBLE_EQ(area(Outline{hollow}), 10.0);  // the square less the triangle with base 4 and height 3
  EXPECT_DOUBLE_EQ(area(Outline{Polygon{{{0, 4}, {2, 1}, {4, 4}, {4, 0}, {0, 0}}}}),
                   10.0);  // either way round
  EXPECT_DOUBLE_EQ(area(Outline{Circle{{5, 5}, 2}}), 4 * std::numbers::pi);
}

TEST(Section, LaterShapesLieOverEarlier) {
  Section s = test::layered(1.0, {{1.0, 1.0}});
  test::add(s, 2.0, {0.2, 0.6}, {0.2, 0.6});
  test::add(s, 3.0, {0.4, 0.8}, {0.4, 0.8});
  EXPECT_EQ(material_at(s, {0.5, 0.5}), 2u);
  EXPECT_EQ(material_at(s, {0.3, 0.5}), 1u);
  EXPECT_EQ(material_at(s, {0.9, 0.5}), 0u);
  EXPECT_EQ(material_at(s, {1.1, 0.5}), std::nullopt);
}

TEST(SectionChecks, FindEverythingAtOnce) {
  Section s = test::layered(1.0, {{1.0, 1.0}});
  s.shapes.push_back({Rectangle{{2.0, 3.0}, {0.0, 1.0}}, 0, "far"});
  s.shapes.push_back({Polygon{{{0, 0}, {1, 1}, {1, 0}, {0, 1}}}, 0, "bow"});
  s.shapes.push_back({Polygon{{{0, 0}, {0.5, 0.5}, {1, 1}}}, 0, "line"});
  s.shapes.push_back({Polygon{{{0, 0}, {1, 1}}}, 0, "two"});
  s.shapes.push_back({Circle{{0.5, 0.5}, 0.0}, 0, "dot"});
  s.probes.push_back({"P", {0.5, 1.5}, "probe"});
  std::vector<std::string> paths;
  for (const Problem& p : check(s)) paths.push_back(p.path);
  EXPECT_EQ(paths, (std::vector<std::string>{"far", "bow.polygon", "line.polygon", "two.polygon",
                                             "dot.circle.radius", "probe"}));
}

TEST(SectionChecks, ASoundSectionHasNothingToSay) {
  Section s = test::layered(0.4, {{0.0125, 0.25}, {0.1, 0.04}});
  s.probes.push_back({"corner", {0.4, 0.1125}, ""});
  EXPECT_TRUE(check(s).empty());
}

}  // namespace
}  // namespace coldbay::section_test
