#include <fmt/format.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tools/outcome.hpp"

// Cases of faulty walls: what is compared with what, and what is said of what no section shows.

namespace coldbay {
namespace {

Case read(const std::vector<std::string>& bays, const std::string& sections, const std::string& more = "",
          const std::string& layers = "[gypsum board 12.5 mm, frame, osb 11 mm]") {
  std::string text = more +
                     "air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}\naccuracy: 0.2 %\n"
                     "wall:\n  height: 2.4 m\n  layers: " +
                     layers + "\n  frame: {member: softwood 38 x 89 mm, spacing: 406.4 mm}\n  bays:\n";
  for (const std::string& bay : bays) text += fmt::format("  - {}\n", bay);
  return read_case({"case.yaml", text + fmt::format("sections: [{}]\n", sections)});
}

// What is built right is cut, calculated and closed off as what was built.
TEST(WallCases, BuiltRightIsUnderTheSameRules) {
  const std::vector<std::string> bays{"{batt: R-13, gap: {left: 10 mm}}", "{batt: R-13, scraps: {seeds: 2}}",
                                      "batt R-13"};
  const Case frame = read(bays, "plan at 1.2 m", "air spaces: frame cavities\n");
  ASSERT_TRUE(frame.right[0]);
  ASSERT_EQ(frame.stuffings.size(), 1u);
  ASSERT_EQ(frame.stuffings[0].stuffed.size(), 2u);
  EXPECT_EQ(frame.sections[0].air_rule, AirRule::cavity);
  EXPECT_EQ(frame.right[0]->air_rule, AirRule::cavity);
  EXPECT_EQ(frame.stuffings[0].stuffed[1].air_rule, AirRule::cavity);
  // Behind a well-ventilated layer the wall ends: with the cladding on one side only, the fault would cost
  // the cladding too.
  const Case clad = read(bays, "plan at 1.2 m", "",
                         "[gypsum board 12.5 mm, frame, osb 11 mm, {material: air space, thickness: 25 mm, "
                         "ventilated: well}, softwood 20 mm]");
  const double depth = 0.0125 + 0.089 + 0.011;
  EXPECT_NEAR(clad.sections[0].depth, depth, 1e-12);  // rounding
  EXPECT_NEAR(clad.right[0]->depth, depth, 1e-12);
  EXPECT_NEAR(clad.stuffings[0].stuffed[1].depth, depth, 1e-12);
  EXPECT_NEAR(framing_section(*clad.wall).depth, depth, 1e-12);
}

std::vector<std::string> said(const Case& c) {
  std::vector<std::string> all;
  for (const InputError& w : c.warnings)
    all.push_back(fmt::format("{}:{} {}", w.where.line, w.where.column, w.title));
  return all;
}

using Said = std::vector<std::string>;

TEST(WallCases, AFaultThatNoSectionShowsIsToldOf) {
  const std::vector<std::string> bays{"batt R-13", "{batt: R-13, gap: {left: 10 mm}}", "batt R-13"};
  EXPECT_EQ(said(read(bays, "plan at 1.2 m")), Said{});
  EXPECT_EQ(said(read(bays, "vertical through bay 1")),
            Said{"9:5 no section shows what is wrong with bay 2"});
  // Nor does a cut through the sound middle of that bay.
  const Case middle = read(bays, "vertical through bay 2");
  EXPECT_EQ(said(middle), Said{"9:5 no section shows what is wrong with bay 2"});
  EXPECT_FALSE(middle.right[0]);
  EXPECT_EQ(said(read(bays, "vertical at 430 mm")), Said{});  // through its gap
}

TEST(WallCases, ABayThatNothingIsRightForIsToldOf) {
  EXPECT_EQ(said(read({"nothing", "nothing"}, "plan at 1.2 m")),
            (Said{"8:5 what would be right in bay 1? Nothing is compared with it",
                  "9:5 what would be right in bay 2? Nothing is compared with it"}));
  EXPECT_EQ(said(read({"{fill: nothing, right: batt R-13}"}, "plan at 1.2 m")), Said{});
  EXPECT_EQ(said(read({"nothing", "batt R-13"}, "plan at 1.2 m")), Said{});
  EXPECT_EQ(said(read({"batt R-19"}, "plan at 1.2 m")),
            Said{"8:5 what would be right in bay 1? Nothing is compared with it"});
}

// The wall as a whole from its plan: what the gap costs, over the height it stands for, on top of the U of a
// sound wall. Its own arithmetic, by hand from the section's answers.
TEST(WallCases, TheWholeWallAddsUp) {
  const Case c = read({"batt R-13", "{batt: R-13, gap: {left: 10 mm}}", "batt R-13"}, "plan at 1.2 m");
  const Outcomes all = solve_case(c, [](const std::string&) {});
  ASSERT_TRUE(all.wall && all.sections[0].effect);
  EXPECT_NEAR(all.wall->shown, 2.4 - 2 * 0.038, 1e-9);
  EXPECT_NEAR(all.wall->extra, all.sections[0].effect->extra / 20.0 * (2.4 - 2 * 0.038), 1e-9);
  EXPECT_NEAR(all.wall->u_built - all.wall->u_right, all.wall->extra / (3 * 0.4064 * 2.4), 1e-9);
  EXPECT_GT(all.wall->u_right, *all.sections[0].right->results.u_value);  // plates come on top of the studs
}

}  // namespace
}  // namespace coldbay
