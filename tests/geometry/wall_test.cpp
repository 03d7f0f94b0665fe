#include "geometry/wall/wall.hpp"

#include <gtest/gtest.h>

#include "geometry/wall/cuts.hpp"
#include "tests/support/walls.hpp"

namespace coldbay::wall_test {
namespace {

using test::box_at, test::two_by_four;

TEST(Wall, IsCutFromStudToStud) {
  const Wall w = two_by_four();
  ASSERT_TRUE(check(w).empty());
  const Section s = plan_section(w, 1.2, "plan at 1.2 m", "sections[0]");
  EXPECT_NEAR(s.width, 3 * 0.4064, 1e-12);
  EXPECT_NEAR(s.depth, 0.0127 + 0.089 + 0.0111, 1e-12);
  const auto name_at = [&](double across, double depth) {
    return s.materials[*material_at(s, {across, depth})].name;
  };
  EXPECT_EQ(name_at(0.010, 0.05), "softwood");  // half of the first stud
  EXPECT_EQ(name_at(0.020, 0.05), "batt");
  EXPECT_EQ(name_at(0.386, 0.05), "batt");  // 19 + 368.4 = 387.4 mm
  EXPECT_EQ(name_at(0.389, 0.05), "softwood");
  EXPECT_EQ(name_at(0.2, 0.005), "lining");
  EXPECT_EQ(name_at(0.2, 0.110), "sheathing");
  ASSERT_EQ(s.parts.size(), 3u);
  EXPECT_NEAR(s.parts[1].across.from, 0.4064, 1e-12);
  EXPECT_NEAR(s.parts[1].clear.from, 0.4064 + 0.019, 1e-12);
  EXPECT_TRUE(s.parts[1].sound);
}

TEST(Wall, GapsTakeTheirSides) {
  Wall w = two_by_four();
  w.bays[0].gap = {0.01, 0.02, 0.0, 0.0};
  ASSERT_TRUE(check(w).empty());
  const Section s = plan_section(w, 1.2, "", "");
  const auto air_at = [&](double across, double depth) {
    return s.materials[*material_at(s, {across, depth})].is_air_space;
  };
  EXPECT_TRUE(air_at(0.019 + 0.009, 0.05));
  EXPECT_FALSE(air_at(0.019 + 0.011, 0.05));
  EXPECT_TRUE(air_at(0.019 + 0.3684 - 0.019, 0.05));
  EXPECT_FALSE(air_at(0.019 + 0.3684 - 0.021, 0.05));
  EXPECT_FALSE(s.parts[0].sound);
}

// A box shows only in cuts that pass through it, and stands for its own height.
TEST(Wall, ABoxIsCutWhereItIs) {
  Wall w = two_by_four();
  w.bays[1].enclosures = {box_at(0.4)};
  ASSERT_TRUE(check(w).empty());
  const Section through = plan_section(w, 0.44, "", ""), above = plan_section(w, 0.45, "", "");
  ASSERT_EQ(through.stands_for.size(), 1u);
  EXPECT_NEAR(through.stands_for[0].from, 0.4 - 0.095 / 2 + 0.0016, 1e-12);  // between its top and bottom
  EXPECT_NEAR(through.stands_for[0].length(), 0.095 - 2 * 0.0016, 1e-12);
  EXPECT_EQ(through.stands_of, 2.4);
  EXPECT_EQ(through.parts[1].label, "batt, steel box");
  EXPECT_EQ(above.parts[1].label, "batt");
  const double x = 0.4064 + 0.019;  // the box stands against the left stud of bay 2
  const auto name_at = [&](double across, double depth) {
    return through.materials[*material_at(through, {across, depth})].name;
  };
  EXPECT_EQ(name_at(x + 0.001, 0.03), "steel");
  EXPECT_EQ(name_at(x + 0.03, 0.03), "air space");
  EXPECT_EQ(name_at(x + 0.03, 0.001), "plastic");
  EXPECT_EQ(name_at(x + 0.03, 0.0692), "steel");
  EXPECT_EQ(name_at(x + 0.03, 0.09), "air space");  // open behind
  EXPECT_EQ(name_at(x + 0.06, 0.09), "batt");
  w.bays[1].enclosures[0].behind = Enclosure::Behind::filled;
  const Section filled = plan_section(w, 0.44, "", "");
  EXPECT_EQ(filled.materials[*material_at(filled, {x + 0.03, 0.09})].name, "batt");
}

// "Filled" fills the space behind the box, even where the bay has a gap on that side.
TEST(Wall, AFilledBoxHasNoGapBehindIt) {
  Wall w = two_by_four();
  w.bays[1].enclosures = {box_at(0.4)};
  w.bays[1].enclosures[0].stud = Side::right;
  w.bays[1].enclosures[0].behind = Enclosure::Behind::filled;
  w.bays[1].gap.right = 0.02;
  const Section s = plan_section(w, 0.4, "", "");
  const double x = 2 * 0.4064 - 0.019;  // the near face of the stud right of bay 2
  EXPECT_EQ(s.materials[*material_at(s, {x - 0.01, 0.085})].name, "batt");
  EXPECT_EQ(s.materials[*material_at(s, {x - 0.001, 0.03})].name, "steel");
  EXPECT_EQ(s.materials[*material_at(s, {x - 0.0569, 0.03})].name, "steel");
  w.bays[1].enclosures[0].depth = 0.0127 + 0.089;  // as deep as the frame: allowed
  EXPECT_TRUE(check(w).empty());
}

std::vector<std::string> paths_of(const std::vector<Problem>& problems) {
  std::vector<std::string> paths;
  for (const Problem& p : problems) paths.push_back(p.path);
  return paths;
}

TEST(Wall, SaysEverythingThatCannotBeBuilt) {
  Wall w = two_by_four();
  w.bays[0].clear_width = -0.01;
  w.bays[1].gap = {0.2, 0.2, 0.0, 0.0};
  w.bays[2].enclosures = {box_at(0.03)};  // reaches into the bottom plate
  w.bays[2].enclosures[0].path = "wall.bays[2].box";
  w.bays[2].enclosures[0].width = 0.5;
  w.bays[2].enclosures[0].depth = 0.2;
  EXPECT_EQ(paths_of(check(w)),
            (std::vector<std::string>{"wall.bays[0]", "wall.bays[1].gap", "wall.bays[2].box.width",
                                      "wall.bays[2].box.depth", "wall.bays[2].box.at"}));
}

TEST(Wall, ABattHasItsThicknessOrSaysWhereTheRestIs) {
  Wall w = two_by_four();
  const auto put = [&](std::size_t bay, double thickness) {
    w.bays[bay].fills[0].batt->thickness = w.bays[bay].fills[0].thickness = thickness;
  };
  put(0, 0.300);  // more than can be squeezed
  put(1, 0.060);  // loose
  EXPECT_EQ(paths_of(check(w)), (std::vector<std::string>{"wall.bays[0]", "wall.bays[1]"}));
  put(0, 0.089);
  w.bays[1].gap.sheathing = 0.029;
  EXPECT_TRUE(check(w).empty());
}

// R-19 batts, 6-1/4 in thick, in a 3-1/2 in bay: in trade texts and the code table.
TEST(Wall, AThickBattIsSqueezed) {
  Wall w = two_by_four();
  const double k_label = 0.15875 / (19 * 0.176110);
  w.bays[1].fills = {{test::material("batt R-19", k_label), Batt{k_label, 0.15875}, 0.15875}};
  ASSERT_TRUE(check(w).empty());
  const Section s = plan_section(w, 1.2, "", "");
  const Material& fill = s.materials[*material_at(s, {0.6, 0.05})];
  EXPECT_EQ(fill.name, "batt R-19, squeezed");
  EXPECT_NEAR(0.089 / conductivity_at(fill, 24.0) / 0.176110, 13.3, 0.5);  // at the temperature of its label
}

// Scraps at 60 % of the density: by hand from the fibre formula at 24 degC, k = a + b rho + c/rho with
// rho 11.1 for R-13 and 0.6 of that; 15 % more than the batt.
TEST(Wall, ScrapsConductByTheirDensity) {
  Wall w = two_by_four();
  const double k = 0.0889 / (13 * 0.176110);
  w.bays[1].fills = {{test::material("batt R-13", k), Batt{k, 0.0889}, 0.0889}};
  w.bays[1].fill_fraction = 0.6;
  ASSERT_TRUE(check(w).empty());
  const Section s = plan_section(w, 1.2, "", "");
  const Material& fill = s.materials[*material_at(s, {0.6, 0.05})];
  EXPECT_EQ(fill.name, "batt R-13, thinly spread");
  const double rho = label_density(*w.bays[1].fills[0].batt);
  EXPECT_NEAR(rho, 11.1, 0.1);
  EXPECT_NEAR(conductivity_at(fill, 24.0), 0.02271 + 2.353e-4 * 0.6 * rho + 0.150 / (0.6 * rho), 1e-6);
}

TEST(Wall, NeedsOneFrame) {
  Wall w = two_by_four();
  w.layers.push_back(w.layers[1]);
  EXPECT_EQ(paths_of(check(w)), std::vector<std::string>{"wall.layers"});
}

TEST(Wall, ACutMissesThePlates) {
  const Wall w = two_by_four();
  for (const double h : {-1.0, 0.0, 0.03, 2.33, 2.4, 5.0})
    EXPECT_THROW(plan_section(w, h, "", "sections[0]"), ModelError) << h;
  EXPECT_NO_THROW(plan_section(w, 0.04, "", ""));
}

}  // namespace
}  // namespace coldbay::wall_test
