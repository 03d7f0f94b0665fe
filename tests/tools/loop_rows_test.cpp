#include "tools/report/loop_rows.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "tools/input/case.hpp"
#include "tools/report/effect_text.hpp"
#include "tools/report/result_json.hpp"
#include "tools/report/summary.hpp"

// What a person and a script are told of air that loops in a vertical section.

namespace coldbay::loop_rows_test {
namespace {

struct Told {
  Case c;
  Outcomes all;
  const Outcome& o() const { return all.sections[0]; }
  std::string summary() const { return coldbay::summary(c, 0, o()); }
  nlohmann::json json() const { return nlohmann::json::parse(result_json(c, all, {"case.yaml", ""})); }
  bool says(const std::string& words) const { return summary().find(words) != std::string::npos; }
};

const std::string round_the_batt = "gap: {room: 8 mm, sheathing: 8 mm, top: 8 mm, bottom: 8 mm}";

Told told(const std::string& bay,
          const std::string& air = "inside: {temperature: 20}, outside: {temperature: 0}",
          const std::string& member = "38 x 89", const std::string& more = "") {
  const std::string text =
      "air: {" + air + "}\nwall:\n  height: 2.4 m\n  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n" +
      "  frame: {member: softwood " + member + " mm, spacing: 400 mm, plates: {bottom: 1, top: 2}}\n" +
      "  bays: [{batt: R-13" + (bay.empty() ? "" : ", ") + bay +
      "}]\naccuracy: {U: 0.5 %, surface: 0.1 K}\n" + "sections: [vertical through bay 1" + more + "]\n";
  Told t{read_case({"case.yaml", text}), {}};
  t.all = solve_case(t.c, [](const std::string&) {});
  return t;
}

TEST(LoopRows, SayHowTheAirGoesAndWhatItDoes) {
  const Told t = told(round_the_batt);
  ASSERT_TRUE(t.o().loop && t.o().still);
  for (const char* words :
       {"it rises on the room side of the fill and falls behind it, at up to ", "mm/s, between 38 mm and ",
        "cold foot           on the room face: up to ", "colder than with still air",
        "warm head           on the outer face: up to ",
        "tell it from        leakage: the foot stays as it is",
        "a slump: that is cold at the top and ends sharply; the foot is at the bottom and fades upward",
        "a room warmer above than below: that runs evenly over the whole wall, studs too",
        "checked against a flow solution, not yet against a measured wall", "; the loop: +",
        "other than round a fill"})
    EXPECT_TRUE(t.says(words)) << words << "\n" << t.summary();
  for (const char* words :
       {"simple limits", "lower bound", "costs far more than given", "left out", "no channel", "Reynolds"})
    EXPECT_FALSE(t.says(words)) << words << "\n" << t.summary();
}

TEST(LoopRows, InASummerTheAirGoesTheOtherWayRound) {
  const Told t = told(round_the_batt, "inside: {temperature: 20}, outside: {temperature: 38}");
  for (const char* words :
       {"it falls on the room side of the fill and rises behind it",
        "warm head           on the room face: up to ", "cold foot           on the outer face: up to ",
        "leakage: the head stays as it is",
        "a slump: that is warm at the top and ends sharply; the head is there too and fades downward",
        "; the loop: +"})
    EXPECT_TRUE(t.says(words)) << words << "\n" << t.summary();
}

// The figure with still air is that of the case which asks for it, to what both are sure of.
TEST(LoopRows, StillAirBesideItIsThatOfACaseThatAsksForIt) {
  const std::string at = "inside: {temperature: 20}, outside: {temperature: 0}";
  const Told loops = told(round_the_batt), still = told(round_the_batt, at + ", gaps: still");
  const nlohmann::json j = loops.json(), s = still.json();
  const double u_still = s["u_value_W_per_m2K"];
  EXPECT_EQ(j["loop"]["still_air"]["u_value_W_per_m2K"], u_still);
  EXPECT_NEAR(j["u_value_W_per_m2K"].get<double>() / u_still - 1.0, j["loop"]["extra_heat_share"], 1e-9);
  EXPECT_FALSE(still.o().loop);
  EXPECT_FALSE(s.contains("loop"));
  EXPECT_EQ(s["loop_left_out"], true);
  EXPECT_FALSE(j.contains("loop_left_out"));
  EXPECT_TRUE(still.says("air loops           left out, as asked")) << still.summary();
}

TEST(LoopRows, TheResultHasWhatTheWordsHave) {
  const Told t = told(round_the_batt);
  const nlohmann::json j = t.json(), loop = j["loop"];
  EXPECT_FALSE(j.contains("limits"));
  EXPECT_EQ(loop["checked_against"], std::string(loop_checked_against));
  EXPECT_EQ(loop["channel_law_holds"], true);
  EXPECT_EQ(loop["room_face"]["at"], "bottom");
  EXPECT_EQ(loop["outer_face"]["at"], "top");
  EXPECT_LT(loop["room_face"]["change_K"], 0.0);
  EXPECT_GT(loop["outer_face"]["change_K"], 0.0);
  EXPECT_NEAR(loop["loops"][0]["up_m"][0], 0.038, 1e-9);            // on the bottom plate
  EXPECT_NEAR(loop["loops"][0]["up_m"][1], 2.4 - 2 * 0.038, 1e-9);  // to the top plates
  EXPECT_EQ(loop["flow_m2_per_s"], loop["loops"][0]["flow_m2_per_s"]);
  // Both faces, with the loop and without, each as long as its grid is wide.
  for (const nlohmann::json& face :
       {j["inside_surface"], loop["outside_surface"], loop["still_air"]["inside_surface"],
        loop["still_air"]["outside_surface"]}) {
    EXPECT_GT(face["across_m"].size(), 10U);
    EXPECT_EQ(face["across_m"].size(), face["celsius"].size());
  }
  // What is asked for, and what a loop is aimed at: 0.3 % of the heat, 0.005 of 20 K.
  const Told strict = [] {
    Told s = told(round_the_batt);
    s.c.accuracy = {1e-3, 0.01};
    return s;
  }();
  EXPECT_EQ(j["accuracy"]["asked"]["U"], 5e-3);
  EXPECT_EQ(j["accuracy"]["aimed_at"]["U"], 5e-3);
  EXPECT_TRUE(t.says("(asked: 0.5 %, 0.1 K)")) << t.summary();
  EXPECT_TRUE(strict.says("(aimed at: 0.5 %, 0.1 K)")) << strict.summary();
  EXPECT_TRUE(strict.says("asked was 0.1 %, 0.01 K")) << strict.summary();
}

TEST(LoopRows, WhereAFaceTouchesNothingIsSaid) {
  for (const char* bay : {"", "gap: {room: 8 mm, top: 8 mm, bottom: 8 mm}"}) {
    const Told t = told(bay);
    EXPECT_FALSE(t.o().loop || t.o().still) << bay;
    EXPECT_EQ(
        still_air_rows(t.o(), UnitSystem::metric) + loop_rows(t.c.sections[0], t.o(), UnitSystem::metric),
        "");
    EXPECT_FALSE(t.json().contains("loop") || t.json().contains("loop_left_out"));
    EXPECT_TRUE(t.says("simple limits")) << bay;
  }
}

TEST(LoopRows, SayWhereTheModelEnds) {
  // 89 mm of batt in 140 mm: gaps of 15 mm and of the rest. Where both are no channels nothing is taken to
  // loop.
  const Told wide = told("gap: {room: 15 mm, sheathing: 36.1 mm, top: 20 mm, bottom: 20 mm}",
                         "inside: {temperature: 20}, outside: {temperature: 0}", "38 x 140");
  EXPECT_TRUE(wide.says("a gap of 36 mm is no channel: air in it is reckoned to flow as in one of 20 mm"))
      << wide.summary();
  EXPECT_EQ(wide.json()["loop"]["channel_law_holds"], false);
  // Reynolds numbers of such flow are not reached in a wall by what is drawn here, so one is set.
  Told fast = told(round_the_batt);
  fast.all.sections[0].built.results.loop->reynolds = 2300.0;
  EXPECT_TRUE(fast.says("its Reynolds number is 2.3e+03")) << fast.summary();
}

TEST(LoopRows, InInchesAndFeet) {
  Told t = told(round_the_batt);
  t.c.units = UnitSystem::inch_pound;
  EXPECT_TRUE(t.says(" ft/min, between 1.5 in and 91.5 in above the floor")) << t.summary();
}

// A plan shows still air, so that of a wall with one loop the sum over its sections has what the plan shows
// and, over the columns that the vertical cut stands for, all that the loop carries.
TEST(LoopRows, TheWholeWallHasTheLoopOnce) {
  const std::string at = "inside: {temperature: 20}, outside: {temperature: 0}";
  const Told loops = told(round_the_batt, at, "38 x 89", ", plan at 1.2 m"),
             still = told(round_the_batt, at + ", gaps: still", "38 x 89", ", plan at 1.2 m");
  ASSERT_TRUE(loops.all.wall && still.all.wall);
  const double width = 0.4 - 0.038, kelvin = 20.0;
  EXPECT_NEAR(loops.all.wall->extra - still.all.wall->extra, width * loops.o().loop->extra / kelvin, 1e-9);
}

}  // namespace
}  // namespace coldbay::loop_rows_test
