#include "tools/report/outlook_text.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <limits>

#include "tools/report/mornings_words.hpp"
#include "tools/report/outlook_json.hpp"

namespace coldbay::outlook_text_test {
namespace {

Visibility spot(const char* name, double per_kelvin, double needed) {
  Visibility v;
  v.name = name;
  v.per_kelvin = per_kelvin;
  v.seen_per_kelvin = 0.9 * per_kelvin;
  v.across = 0.612;
  v.up = 1.2;
  v.width = 0.09;
  v.height = 2.1;
  v.area = 0.19;
  v.showing = Showing::shows;
  v.needed = needed;
  v.of_studs = std::abs(per_kelvin) / 0.039;
  v.stands_out = true;
  return v;
}

/// Two faults, and two days at 5 degC: sun from 8:00 until 16:00, 2026-01-13 and 14.
Outlook two_faults() {
  Outlook o;
  o.title = "Practice wall";
  o.normal = {-0.039, -0.05, 0.002, 4};
  o.wall = {20.0, 0.45, 5, false};
  o.sight = {3.0, 0.005, 0.0, 0.08, 0.9, 20.0};
  o.faults = {{"a gap beside the fill", spot("bay 2", -0.075, 3.6)},
              {"a void in the fill", spot("bay 4", -0.03, 15.5)}};
  WeatherOutlook w;
  w.file = "january.csv";
  w.weather.start = (56 * 365 + 14 + 12) * 24;
  w.weather.temperature.assign(48, 5.0);
  for (int h = 0; h < 48; ++h) w.weather.sun.push_back(h % 24 >= 8 && h % 24 < 16 ? 200.0 : 0.0);
  w.mornings = mornings(w.weather, survey_rules(), o.wall);
  o.weather = std::move(w);
  return o;
}

/// The lines of a text that hold some words.
std::string lines_with(const std::string& text, std::string_view words) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size() - 1);
    const std::string line = text.substr(at, end - at + 1);
    if (line.find(words) != std::string::npos) out += line;
    at = end + 1;
  }
  return out;
}

TEST(OutlookText, ASummerCaseIsToldInItsSeason) {
  Outlook o = two_faults();
  o.difference = -18.0;
  const std::string text = outlook_text(o);
  EXPECT_NE(text.find("How hot it must be"), std::string::npos);
  EXPECT_NE(text.find("studs read 0.70 K warmer"), std::string::npos);
  EXPECT_NE(text.find("0.75 K warmer"), std::string::npos);
  EXPECT_NE(text.find("in the heating season it reads colder"), std::string::npos);
  EXPECT_EQ(text.find("0.75 K colder"), std::string::npos);
}

TEST(OutlookText, WhatNothingIsComparedWithIsNotFine) {
  Outlook o = two_faults();
  o.faults.clear();
  o.not_compared = {"bay 1"};
  const std::string text = outlook_text(o);
  EXPECT_NE(text.find("What would be right in bay 1 is not known"), std::string::npos);
  EXPECT_EQ(text.find("Nothing is wrong"), std::string::npos);
}

TEST(OutlookText, PlatesOfARoomWarmerWithHeight) {
  NormalPattern n{-0.039, 0.08, 0.0, 4, -0.19, 0.08};
  EXPECT_EQ(
      normal_text(n, 20.0, UnitSystem::metric),
      "sound studs read 0.78 K colder than the bays beside them, the plates at the floor 3.80 K colder and "
      "those at the top 1.60 K warmer");
  n.top_plates = -0.19;  // as good as alike: one number for both
  EXPECT_EQ(normal_text(n, 20.0, UnitSystem::metric),
            "sound studs read 0.78 K colder than the bays beside them, and the plates 1.60 K warmer");
}

TEST(OutlookText, AWholeOutlook) {
  EXPECT_EQ(
      outlook_text(two_faults()),
      "Practice wall: what an infrared survey will show\n"
      "  settled after       5 h: by then the face is within 5 % of what a change outside makes of it\n"
      "  normal here         at 20.0 K: sound studs read 0.78 K colder than the bays beside them, and the "
      "plates "
      "1.00 K colder; sound bays differ by 0.04 K\n"
      "                      these are no faults; with the warmer air on the other side, what was colder "
      "reads "
      "warmer\n"
      "  camera              3.0 m from the wall, where a pixel is 5.0 mm; noise 0.08 K, emissivity 0.90\n"
      "                      seen is what is 3 times the noise over three by three pixels: common practice, "
      "no "
      "source\n"
      "\n"
      "How cold it must be to see what is wrong\n"
      "             contrast at 10 K  across, above the floor  size at half    seen from   at 10 K    at 6.7 "
      "K   of "
      "a stud's\n"
      "  bay 2      0.75 K colder     612, 1200 mm             90 by 2100 mm   3.6 K       yes        yes    "
      "    1.9 "
      "times\n"
      "             a gap beside the fill; in the cooling season it reads warmer\n"
      "  bay 4      0.30 K colder     612, 1200 mm             90 by 2100 mm   15.5 K      no         no     "
      "    0.8 "
      "times\n"
      "             a void in the fill; in the cooling season it reads warmer\n"
      "  Differences are from inside to outside. 10 K is what most standards ask for; ISO 6781, by U-value "
      "asks for "
      "6.7 K here\n"
      "  (3/U in kelvin, and 5.0 K at the least; from memory). Contrasts grow in proportion to the "
      "difference, but "
      "for a\n"
      "  few per cent where air spaces and batts conduct by their temperature. What shows must also stand "
      "out: at "
      "least half\n"
      "  of a stud's contrast, and more than sound bays differ (common practice, no source).\n"
      "\n"
      "Mornings of january.csv, 2026-01-13 to 2026-01-14: 2\n"
      "  Tue 13 Jan 2026     05:00 to 08:00, 15 K, under A and D; shows bay 2\n"
      "  Wed 14 Jan 2026     04:00 to 08:00, 15 K, under A, B, C and D; shows bay 2\n"
      "\n"
      "Of 2 mornings, so many qualify under\n"
      "  A: 2                ASTM C1060: 10.0 K held for 4 h, no sun for 3 h, dry at the hour and wind up to "
      "6.7 "
      "m/s\n"
      "                      (the difference as quoted by a training company; all else from memory)\n"
      "  B: 1                EN 13187, as quoted: 10.0 K held for 24 h, no sun for 2 h, dry for 12 h and "
      "wind up "
      "to 5.0 m/s\n"
      "                      (as quoted by a survey firm, for a building in use; parts from memory)\n"
      "  C: 1                ISO 6781, by U-value: 6.7 K held for 24 h, no sun for 12 h and no more than 5.0 "
      "K of "
      "drift outside\n"
      "                      (the text that EN 13187 has too; from memory)\n"
      "  D: 2                rating guideline: 10.0 K held for 4 h and no sun at the hour\n"
      "                      (RESNET interim guidelines, 2010; opening seen, numbers from memory)\n"
      "  not judged          wind, which A and B ask about and this file does not tell\n"
      "  not judged          rain, which A and B ask about and this file does not tell\n"
      "  not judged          drift of the room's air, which C asks about and this file does not tell\n"
      "\n"
      "Of 2 mornings, so many qualify and show\n"
      "  bay 2               2: a gap beside the fill\n"
      "  bay 4               0: a void in the fill\n"
      "\n"
      "  not modelled        air leakage, moisture, sun on the wall, heat stored in it, air moving inside "
      "it\n"
      "                      straight and bounded by framing means insulation; ragged, or changing with "
      "pressure, "
      "means air;\n"
      "                      a blotch that crosses framing means moisture\n"
      "  on the day          hold the picture against the one expected; take the reflected temperature from "
      "crumpled foil,\n"
      "                      and the emissivity of painted lining as 0.90 to 0.95\n"
      "                      check the wording of a standard before quoting it: much of it is from memory "
      "here\n"
      "  caution             a forecast is not a certificate; before a wall is opened, live wiring is "
      "switched off "
      "and\n"
      "                      tested, and old fills are tested for asbestos\n");
}

TEST(OutlookText, InInchPoundEveryDifferenceIsInFahrenheit) {
  Outlook o = two_faults();
  o.units = UnitSystem::inch_pound;
  const std::string text = outlook_text(o);
  // 0.75 K is 1.35 °F, 3.6 K is 6.5 °F, 10 K is 18 °F, 15 K is 27 °F: differences, without the 32.
  EXPECT_NE(
      text.find("bay 2      1.35 °F colder    24.1, 47.2 in            3.5 by 82.7 in  6.5 °F      yes"),
      std::string::npos)
      << text;
  EXPECT_NE(text.find("contrast at 18 °F"), std::string::npos);
  EXPECT_NE(text.find("05:00 to 08:00, 27 °F, under A and D"), std::string::npos);
  EXPECT_NE(text.find("18.0 °F held for 4 h, no sun for 3 h, dry at the hour and wind up to 15 mph"),
            std::string::npos);
  EXPECT_NE(text.find("(3/U in kelvin, and 9.0 °F at the least"), std::string::npos);
  EXPECT_EQ(text.find(" K"), std::string::npos) << lines_with(text, " K");
  EXPECT_EQ(text.find(" mm"), std::string::npos) << lines_with(text, " mm");
}

TEST(OutlookText, WordsFollowTheSign) {
  EXPECT_EQ(normal_text({-0.045, -0.055, 0.0, 3}, 20.0, UnitSystem::metric),
            "sound studs read 0.90 K colder than the bays beside them, and the plates 1.10 K colder");
  EXPECT_EQ(normal_text({-0.045, -0.055, 0.0, 3}, -20.0, UnitSystem::metric),
            "sound studs read 0.90 K warmer than the bays beside them, and the plates 1.10 K warmer");
  // A wall that is empty by intention: its studs are the warm lines.
  EXPECT_EQ(normal_text({0.045, std::nullopt, 0.01, 3}, 20.0, UnitSystem::metric),
            "sound studs read 0.90 K warmer than the bays beside them; sound bays differ by 0.20 K");
  EXPECT_EQ(normal_text({std::nullopt, -0.055, 0.01, 1}, 20.0, UnitSystem::metric),
            "the plates read 1.10 K colder than the bays");
  EXPECT_EQ(normal_text({}, 20.0, UnitSystem::metric), "");
  Outlook o = two_faults();
  o.faults = {{"a batt wider than its bay, forced in uncut", spot("bay 2", 0.04, 6.0)}};
  EXPECT_NE(outlook_text(o).find("bay 2      0.40 K warmer"), std::string::npos);
  EXPECT_NE(outlook_text(o).find("forced in uncut; in the cooling season it reads colder\n"),
            std::string::npos);
}

TEST(OutlookText, WhyItDoesNotShow) {
  Outlook o = two_faults();
  Visibility& v = o.faults[1].seen;
  v.showing = Showing::too_small;
  v.come_within = 1.27;
  EXPECT_NE(outlook_text(o).find("fewer than three by three pixels fall on it: come within 1.2 m\n"),
            std::string::npos);
  o.units = UnitSystem::inch_pound;  // 1.27 m is 4.17 ft
  EXPECT_NE(outlook_text(o).find("come within 4.1 ft\n"), std::string::npos);
  o.units = UnitSystem::metric;
  v.showing = Showing::unsure;
  EXPECT_NE(outlook_text(o).find("weaker than the solve is sure of"), std::string::npos);
  v.showing = Showing::shows;
  v.stands_out = false;
  EXPECT_NE(outlook_text(o).find("within the normal pattern of this wall"), std::string::npos);
  Visibility none;
  none.name = "bay 4";
  none.needed = std::numeric_limits<double>::infinity();
  o.faults[1].seen = none;
  EXPECT_EQ(lines_with(outlook_text(o), "bay 4      -"),
            "  bay 4      -                 -                        -               -           no         "
            "no         -\n");
  EXPECT_NE(outlook_text(o).find("no weather shows it to this camera: it would take more than 60 K\n"),
            std::string::npos);
  EXPECT_EQ(outlook_text(o).find("inf K"), std::string::npos);
}

TEST(OutlookText, NothingWrongAndNoWeather) {
  Outlook o = two_faults();
  o.faults.clear();
  EXPECT_NE(outlook_text(o).find("Nothing is wrong with this wall"), std::string::npos);
  EXPECT_NE(mornings_text(o).find("15 K, under A and D\n"), std::string::npos);
  o.weather.reset();
  EXPECT_EQ(outlook_text(o).find("ornings"), std::string::npos);
  o.title.clear();
  EXPECT_TRUE(outlook_text(o).starts_with("what an infrared survey will show\n"));
}

TEST(OutlookText, MorningsThatDoNotQualify) {
  Outlook o = two_faults();
  o.weather->weather.temperature.assign(48, 15.0);
  o.weather->mornings = mornings(o.weather->weather, survey_rules(), o.wall);
  EXPECT_NE(mornings_text(o).find("  Tue 13 Jan 2026     no: too small a difference\n"), std::string::npos)
      << mornings_text(o);
  o.weather->mornings.clear();
  EXPECT_EQ(mornings_text(o), "\njanuary.csv: no dark hour of a morning is in it\n");
}

TEST(OutlookText, OfAWholeWinterTheColdestMornings) {
  Outlook o = two_faults();
  Weather& w = o.weather->weather;
  w.sun.clear();
  w.temperature.clear();
  // Sixty days, each a tenth colder than the one before; the last five too warm.
  for (int h = 0; h < 60 * 24; ++h) w.temperature.push_back(h < 55 * 24 ? 5.0 - 0.1 * (h / 24) : 15.0);
  o.weather->mornings = mornings(w, survey_rules(), o.wall);
  const std::string text = mornings_text(o);
  EXPECT_EQ(lines_with(text, "under A"), lines_with(text, "2026     "));  // only mornings that qualify
  EXPECT_NE(text.find("and 24 more, with smaller differences\n"), std::string::npos) << text;
  EXPECT_NE(text.find("  no good             5 mornings\n"), std::string::npos) << text;
  EXPECT_NE(text.find("2026-01-13 to 2026-03-13: 60\n"), std::string::npos) << text;
  EXPECT_EQ(text.find("Tue 13 Jan"), std::string::npos);              // the warmest of those that qualify
  EXPECT_NE(text.find("Sun 8 Mar 2026"), std::string::npos) << text;  // the coldest
}

TEST(OutlookText, DaysHaveTheirNames) {
  // Known days: the epoch was a Thursday; 2000-02-29 a Tuesday.
  EXPECT_EQ(day_text(0), "Thu 1 Jan 1970");
  EXPECT_EQ(day_text(11016), "Tue 29 Feb 2000");
  EXPECT_EQ(iso_day(11016), "2000-02-29");
  EXPECT_EQ(iso_day(-1), "1969-12-31");
}

TEST(OutlookJson, NumbersAreSiAndUnrounded) {
  Outlook o = two_faults();
  o.faults[1].seen.needed = std::numeric_limits<double>::infinity();
  o.faults[1].seen.showing = Showing::too_weak;
  const auto json = outlook_json(o);
  EXPECT_EQ(json["faults"][0]["contrast_K_per_K"], -0.075);
  EXPECT_EQ(json["faults"][0]["needed_difference_K"], 3.6);
  EXPECT_EQ(json["faults"][0]["shows_at_10_K"], true);
  EXPECT_EQ(json["faults"][0]["shows_at_least_of_rules"]["C"], true);
  EXPECT_EQ(json["faults"][0]["mornings"], 2);
  EXPECT_TRUE(json["faults"][1]["needed_difference_K"].is_null());
  EXPECT_EQ(json["faults"][1]["showing"], "too weak");
  EXPECT_EQ(json["normal"]["stud_less_bay_K_per_K"], -0.039);
  EXPECT_EQ(json["mornings"][1]["date"], "2026-01-14");
  EXPECT_EQ(json["mornings"][1]["hours"], nlohmann::ordered_json::array({4, 8}));
  EXPECT_EQ(json["mornings"][1]["hours_by_rule"]["A"], nlohmann::ordered_json::array({0, 8}));
  EXPECT_EQ(json["mornings"][1]["shows"], nlohmann::ordered_json::array({"bay 2"}));
  EXPECT_EQ(json["rules"][1]["not_judged"], nlohmann::ordered_json::array({"wind", "rain"}));
  o.weather.reset();
  EXPECT_FALSE(outlook_json(o).contains("mornings"));
  EXPECT_FALSE(outlook_json(o)["faults"][0].contains("mornings"));
}

}  // namespace
}  // namespace coldbay::outlook_text_test
