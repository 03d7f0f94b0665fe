#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "tools/outcome.hpp"

// Cases of faulty walls: what is compared with what, and what is said of what no section shows.

namespace coldbay::wall_cases_test {
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

/// The words of the only bay.
std::string words(const std::string& bay) { return read({bay}, "plan at 1.2 m").wall->bays[0].label; }

// The air on two faces, and where it is joined, is part of what a bay is.
TEST(WallCases, ABaySaysWhereTheAirRoundItsFillIsJoined) {
  EXPECT_EQ(words("{batt: R-13, gap: {room: 10 mm, sheathing: 10 mm, top: 1/4 in, bottom: 1/4 in}}"),
            "batt R-13, 10 mm of air on both faces, open 1/4 in at top and bottom");
  EXPECT_EQ(words("{batt: R-13, gap: {room: 10 mm, sheathing: 5 mm, top: 3 mm, bottom: 5 mm}}"),
            "batt R-13, gap 10 mm on the room side, gap 5 mm on the sheathing side, open 3 mm at the top, "
            "open 5 mm "
            "at the bottom");
  EXPECT_EQ(words("{batt: R-13, gap: {room: 10 mm, sheathing: 10 mm}}"),
            "batt R-13, 10 mm of air on both faces, ends and sides closed");
  EXPECT_EQ(words("{batt: R-13, gap: {room: 10 mm, sheathing: 10 mm}, short: 1 in, at: bottom}"),
            "batt R-13, 10 mm of air on both faces, 1 in short at the bottom, joined at bottom");
  EXPECT_EQ(words("{batt: R-13, gap: {left: 5 mm, room: 10 mm, sheathing: 10 mm, top: 5 mm}, fallen: 1 in}"),
            "batt R-13, gap 5 mm left, 10 mm of air on both faces, open 5 mm at the top, slumped by 1 in, "
            "joined at "
            "top, along left");
  EXPECT_EQ(words("{batt: R-13, staples: inset, shoulders: 10 mm, width: 340 mm, strip: left}"),
            "batt R-13, cut 340 mm wide, inset-stapled, shoulders rounded by 10 mm, joined along left");
  // Air on one face has nothing to be joined with.
  EXPECT_EQ(words("{batt: R-13, gap: {room: 10 mm, top: 5 mm}}"),
            "batt R-13, gap 10 mm on the room side, open 5 mm at the top");
  EXPECT_EQ(words("{batt: R-13, staples: inset}"), "batt R-13, inset-stapled");
}

// Beyond 20 mm a gap is a cavity: said where air may go round, and nowhere else.
TEST(WallCases, AGapThatIsNoChannelIsToldOf) {
  const auto warned = [](const std::string& gap, const std::string& air = "") {
    std::string text = "air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}" + air +
                       "}\nwall:\n  height: 2.4 m\n  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n  "
                       "frame: {member: softwood "
                       "38 x 140 mm, spacing: 406.4 mm}\n  bays:\n  - {fill: mineral fibre, gap: {" +
                       gap + "}}\nsections: [plan at 1.2 m, vertical at 200 mm]\n";
    const Case c = read_case({"case.yaml", text});
    std::string out;
    for (const InputError& w : c.warnings)
      out += fmt::format("{}:{} {} | {}", w.where.line, w.where.column, w.title, w.hint);
    return out;
  };
  const std::string hint =
      " | what goes round in it is reckoned as in 20 mm, the heat across it by the rule for air spaces";
  EXPECT_EQ(warned("room: 20 mm, sheathing: 10 mm"), "");
  EXPECT_EQ(warned("room: 21 mm, sheathing: 10 mm"),
            "7:32 air 21 mm deep before the fill of bay 1 is no channel any more" + hint);
  EXPECT_EQ(warned("room: 3 mm, sheathing: 25 mm"),
            "7:32 air 25 mm deep behind the fill of bay 1 is no channel any more" + hint);
  EXPECT_EQ(warned("room: 25 mm"), "");  // one face touches: no loop
  EXPECT_EQ(warned("room: 25 mm, sheathing: 25 mm", ", gaps: still"), "");
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
  EXPECT_TRUE(all.wall->unseen.empty());
  // The gap's columns end in the middle of the sound bays beside it; next to nothing passes beyond.
  EXPECT_NEAR(all.wall->extra, all.sections[0].effect->extra / 20.0 * (2.4 - 2 * 0.038), 1e-5);
  EXPECT_NEAR(all.wall->u_built - all.wall->u_right, all.wall->extra / (3 * 0.4064 * 2.4), 1e-9);
  EXPECT_GT(all.wall->u_right, *all.sections[0].right->results.u_value);  // plates come on top of the studs
}

/// Extra heat of the whole wall [W/K].
double extra(const std::vector<std::string>& bays, const std::string& sections) {
  const Outcomes all = solve_case(read(bays, sections), [](const std::string&) {});
  return all.wall ? all.wall->extra : NAN;
}

// What a fault costs does not hang on how many sections show it, in what order, or on the other bays' faults.
// Two sections of one thing differ by what spreads beyond its edges, and a plan along a dent sees it without
// its ends: hence 15 %.
TEST(WallCases, TheWholeWallIsTheSameByAnySections) {
  const std::string cable = "{batt: R-13, cable: {at: 1 m, batt: over}}", sound = "batt R-13";
  const double vertical = extra({sound, cable, sound}, "plan at 0.5 m, vertical through bay 2");
  EXPECT_GT(vertical, 0.0);
  EXPECT_NEAR(extra({sound, cable, sound}, "plan at 0.5 m, plan at 1 m, vertical through bay 2") / vertical,
              1.0, 0.15);

  // A slump costs: the open end, less what the denser fibre below it saves.
  const std::string slumped = "{batt: R-13, fallen: 150 mm}";
  const double slump = extra({sound, slumped, sound}, "plan at 1.2 m, vertical through bay 2");
  EXPECT_GT(slump, 0.02);
  // An empty bay beside it changes neither: what it costs by itself comes on top.
  const double empty = extra({"nothing", sound, sound, sound, sound}, "plan at 1.2 m");
  EXPECT_NEAR(extra({"nothing", sound, sound, slumped, sound}, "plan at 1.2 m, vertical through bay 4") /
                  (empty + slump),
              1.0, 0.02);

  // A strip beside a batt that is short, too: the plan has the one, the vertical the other.
  const double narrow = extra({sound, "{batt: R-13, width: 330 mm}", sound}, "plan at 1.2 m"),
               shortened = extra({sound, "{batt: R-13, short: 75 mm}", sound},
                                 "plan at 1.2 m, vertical through bay 2"),
               both = extra({sound, "{batt: R-13, width: 330 mm, short: 75 mm}", sound},
                            "plan at 1.2 m, vertical through bay 2");
  EXPECT_NEAR(both / (narrow + shortened), 1.0, 0.1);
}

TEST(WallCases, WhatNoSectionShowsIsNotInTheSum) {
  const Case c = read({"batt R-13", "{batt: R-13, short: 600 mm}", "batt R-13"}, "plan at 1.2 m");
  EXPECT_EQ(said(c), Said{"9:5 no section shows what is wrong with bay 2"});
  const Outcomes all = solve_case(c, [](const std::string&) {});
  ASSERT_TRUE(all.wall);
  ASSERT_EQ(all.wall->unseen.size(), 1u);
  EXPECT_EQ(all.wall->unseen[0].bay, "bay 2");
  EXPECT_NEAR(all.wall->unseen[0].share, 0.6 / (2.4 - 2 * 0.038), 1e-9);
}

// A fault is named beside a section only where the section shows it.
TEST(WallCases, ASectionNamesTheFaultsItShows) {
  const Case c =
      read({"batt R-13", "{batt: R-13, width: 330 mm, short: 75 mm, cable: {at: 1 m, batt: over}}"},
           "plan at 0.5 m, plan at 1 m, vertical through bay 2");
  EXPECT_EQ(c.seen.at(0).at(1), std::vector<Fault>{Fault::narrow});
  EXPECT_EQ(c.seen.at(1).at(1), (std::vector<Fault>{Fault::narrow, Fault::pushed_over}));
  EXPECT_EQ(c.seen.at(2).at(1), (std::vector<Fault>{Fault::short_end, Fault::pushed_over}));
  EXPECT_TRUE(c.seen.at(0).at(0).empty());
}

TEST(WallCases, AnEmptyBayRoundAnOpeningIsAFault) {
  const Case c =
      read({"batt R-13", "{opening: {width: 600 mm, sill: 900 mm, head: 2 m, header: 140 mm, U: 1.4 W/m2K}}"},
           "plan at 0.5 m");
  EXPECT_EQ(c.seen.at(0).at(1), std::vector<Fault>{Fault::missing});
  ASSERT_TRUE(c.right.at(0));
}

// The U of an opening is that of what it holds, also where the wall ends at a well-ventilated layer: by hand.
TEST(WallCases, AnOpeningHasItsU) {
  for (const bool clad : {false, true}) {
    const Case c =
        read({"{batt: R-13, opening: {width: 6 m, sill: 300 mm, head: 2 m, header: 140 mm, jacks: 0, U: 1.4 "
              "W/m2K}}"},
             "vertical at 3 m", "",
             clad ? "[gypsum board 12.5 mm, frame, osb 11 mm, {material: air space, thickness: 25 mm, "
                    "ventilated: well}, softwood 20 mm]"
                  : "[gypsum board 12.5 mm, frame, osb 11 mm]");
    const Forecast f = forecast(c.sections[0], c.air, {}, c.accuracy);
    const SurfaceProfile& face = f.results.profile;
    std::size_t i = 0;
    while (face.across[i] < 1.15) ++i;                          // in the middle of the opening
    EXPECT_NEAR(face.heat_flux[i] / 20.0, 1.4, 0.003) << clad;  // half of what rounding to 2 decimals hides
  }
}

}  // namespace
}  // namespace coldbay::wall_cases_test
