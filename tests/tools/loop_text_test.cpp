#include "tools/report/loop_text.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>

#include "tools/input/case.hpp"
#include "tools/outcome.hpp"
#include "tools/report/effect_text.hpp"
#include "tools/report/loop_rows.hpp"
#include "tools/report/result_json.hpp"
#include "tools/report/summary.hpp"

namespace coldbay::loop_text_test {
namespace {

bool says(const std::string& text, std::string_view words) { return text.find(words) != std::string::npos; }

/// Figures that are easy to work out by hand: 0.35 to 0.43 is +22.9 %.
LoopEstimate loop() {
  LoopEstimate e;
  e.loop.u_still = 0.35;
  e.loop.u_loop = 0.43;
  e.loop.flow = 2e-4;
  e.loop.exchange_length = 0.054;
  e.foot = 0.054;
  e.area = 1.0;
  e.extra_heat = 1.6;
  e.tolerance = 1e-3;
  e.narrower = {0.355, 0.39};  // +9.9 %
  e.wider = {0.345, 0.52};     // +50.7 %
  return e;
}

TEST(LoopText, GivesURangeAndSignature) {
  EXPECT_EQ(
      loop_lines({{}, loop()}, UnitSystem::metric).at(0),
      "bay 2: air can loop round its batt: U 0.43 W/m2K (0.39 to 0.52 with gaps 1 mm narrower or wider), "
      "still air 0.35; +23 % (+9.9 to +51 %), 1.6 W more; cold foot 54 mm high at the bottom of the room "
      "face, warm head at the top of the outer face");
  // 1 Btu/(h ft2 F) is 5.678 W/(m2 K); 1 W is 3.412 Btu/h; 54 mm are 2.13 in, 1 mm 0.039.
  EXPECT_EQ(
      loop_lines({loop()}, UnitSystem::inch_pound).at(0),
      "bay 1: air can loop round its batt: U 0.076 Btu/h·ft2·°F (0.069 to 0.092 with gaps 0.039 in narrower "
      "or wider), still air 0.062; +23 % (+9.9 to +51 %), 5.5 Btu/h more; cold foot 2.1 in high at the "
      "bottom of the room face, warm head at the top of the outer face");
}

TEST(LoopText, TurnsWithTheSeason) {
  LoopEstimate e = loop();
  e.reversed = true;
  EXPECT_TRUE(
      says(loop_lines({e}, UnitSystem::metric).at(0), "warm head 54 mm high at the top of the room face"));
  EXPECT_TRUE(says(loop_lines({e}, UnitSystem::metric).at(0), "cold foot at the bottom of the outer face"));
  e.foot.reset();
  EXPECT_TRUE(says(loop_lines({e}, UnitSystem::metric).at(0),
                   "the room face warmer above, the outer face colder below"));
}

TEST(LoopText, SaysWhyThereIsNone) {
  const auto line = [](NoLoop why) {
    LoopEstimate e = loop();
    e.none = why;
    return loop_lines({e}, UnitSystem::metric).at(0);
  };
  EXPECT_EQ(line(NoLoop::touches_sheathing), "bay 1: no loop: the batt touches the sheathing");
  EXPECT_EQ(line(NoLoop::touches_lining), "bay 1: no loop: the batt touches the lining");
  EXPECT_EQ(line(NoLoop::closed), "bay 1: no loop: its ends and sides are closed");
  EXPECT_TRUE(says(line(NoLoop::even), "as warm inside as outside"));
  EXPECT_TRUE(says(line(NoLoop::unsettled), "lower bound"));
}

TEST(LoopText, BaysThatAreAlikeAreOneSentence) {
  LoopEstimate none = loop();
  none.none = NoLoop::closed;
  const auto lines = loop_lines({loop(), none, loop(), {}, loop()}, UnitSystem::metric);
  ASSERT_EQ(lines.size(), 2u);
  EXPECT_TRUE(lines[0].starts_with("bays 1, 3 and 5: air can"));
  EXPECT_TRUE(lines[1].starts_with("bay 2: no loop"));
  EXPECT_TRUE(says(loop_rows({loop()}, UnitSystem::metric), loop_checked_against));
  EXPECT_FALSE(says(loop_rows({none}, UnitSystem::metric), loop_checked_against));
  EXPECT_EQ(loop_rows({{}, {}}, UnitSystem::metric), "");
}

TEST(LoopText, AWideGapIsTold) {
  LoopEstimate e = loop();
  EXPECT_FALSE(says(loop_lines({e}, UnitSystem::metric).at(0), "20 mm"));
  e.beyond_channel = true;
  EXPECT_TRUE(says(loop_lines({e}, UnitSystem::metric).at(0),
                   "a gap wider than 20 mm flows and conducts here as one of 20 mm"));
}

Case wall_case(const std::string& gaps, const std::string& sections) {
  return read_case(
      {"case.yaml",
       "air: {inside: {temperature: 20}, outside: {temperature: 0}, gaps: " + gaps +
           "}\nwall:\n  height: 2.4 m\n  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n"
           "  frame: {member: softwood 38 x 89 mm, spacing: 400 mm, plates: {bottom: 1, top: 1}}\n"
           "  bays:\n  - {batt: R-13, gap: {room: 5 mm, sheathing: 5 mm, top: 5 mm, bottom: 5 mm}}\n"
           "  - {batt: R-13, thickness: 70 mm, against: sheathing}\n  - batt R-13\n"
           "sections: [" +
           sections + "]\n"});
}

// The whole wall tells of every bay that has air on a face; a section, of the loops that it leaves out: a
// plan all of them, a vertical one where the case says that the air stands still.
TEST(LoopText, IsToldWithTheWallAndWhereASectionLeavesItOut) {
  for (const std::string gaps : {"loops", "still"}) {
    const Case c = wall_case(gaps, "plan at 1.2 m, vertical through bay 1, vertical through bay 3");
    const Outcomes all = solve_case(c, [](const std::string&) {});
    const std::string wall = wall_summary(c, all);
    EXPECT_TRUE(says(wall, "bay 1: air can loop round its batt: U ")) << wall;
    EXPECT_TRUE(says(wall, "bay 2: no loop: the batt touches the sheathing")) << wall;
    EXPECT_FALSE(says(wall, "bay 3")) << wall;
    EXPECT_TRUE(says(wall, loop_checked_against));
    const auto left_out = [&](std::size_t s) {
      return says(summary(c, s, all.sections.at(s)), "the air round the batt of bay 1 stands still here");
    };
    EXPECT_TRUE(left_out(0));
    EXPECT_EQ(left_out(1), gaps == "still");
    EXPECT_FALSE(left_out(2));
    const auto json = nlohmann::json::parse(result_json(c, all, {"case.yaml", ""}));
    const auto& told = json["wall"]["bays"][0]["loop"];
    EXPECT_DOUBLE_EQ(told["u_value_W_per_m2K"], all.loops[0]->loop.u_loop);
    EXPECT_TRUE(told["none_because"].is_null());
    EXPECT_EQ(json["wall"]["bays"][1]["loop"]["none_because"], "touches sheathing");
    EXPECT_FALSE(json["wall"]["bays"][2].contains("loop"));
    EXPECT_EQ(json["plan at 1.2 m"]["loops_left_out"][0]["name"], "bay 1");
  }
}

}  // namespace
}  // namespace coldbay::loop_text_test
