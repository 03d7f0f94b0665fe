#include "tools/handout_pages.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "geometry/wall/cuts.hpp"
#include "tools/input/library_reader.hpp"
#include "tools/report/handout/document.hpp"
#include "tools/report/handout/sentences.hpp"
#include "tools/report/handout/year.hpp"

namespace coldbay::handout_pages_test {
namespace {

namespace fs = std::filesystem;

SourceText source_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {file.filename().string(), std::string(std::istreambuf_iterator<char>(in), {})};
}

SourceText small_wall(const std::string& bays, const std::string& more = "") {
  return {"wall.yaml", "air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}\n" + more +
                           "wall:\n  height: 2.4 m\n  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n"
                           "  frame: {member: softwood 38 x 89 mm, spacing: 400 mm}\n  bays: [" +
                           bays + "]\nsections: [plan at 1.2 m]\n"};
}

HandoutWall solved(const SourceText& source) {
  return handout_wall(read_case(source), {source.name, std::string(64, 'a')}, 1, {0.5, 0.05},
                      [](const std::string&) {});
}

TEST(BaySections, EveryFaultShowsInItsOwn) {
  std::size_t shown = 0;
  for (const auto& entry : fs::directory_iterator(fs::path(COLDBAY_CASES) / "faults")) {
    if (entry.path().extension() != ".yaml") continue;
    const Case c = read_case(source_of(entry.path()), built_in_library());
    const Wall right = built_right(*c.wall);
    const auto faults = faults_of(*c.wall);
    for (std::size_t b = 0; b < faults.size(); ++b) {
      if (faults[b].empty()) continue;
      const BaySection cut = bay_section(*c.wall, right, b, faults[b]);
      EXPECT_TRUE(differ(cut.built, cut.right, c.wall->bays[b])) << entry.path();
      EXPECT_EQ(cut.built.width, cut.right.width) << entry.path();
      ++shown;
    }
  }
  EXPECT_GE(shown, 25u);
}

TEST(BaySections, EndsAreCutUprightAndBoxesThroughTheirMiddle) {
  const auto cut_of = [](const std::string& bay) {
    const Case c = read_case(small_wall(bay + ", batt R-13"));
    return bay_section(*c.wall, built_right(*c.wall), 0, faults_of(*c.wall)[0]);
  };
  EXPECT_EQ(cut_of("{batt: R-13, short: 50 mm, at: bottom}").built.cut, CutKind::vertical);
  EXPECT_EQ(cut_of("{batt: R-13, gap: {right: 20 mm}}").built.cut, CutKind::plan);
  EXPECT_DOUBLE_EQ(cut_of("{batt: R-13, box: {at: 400 mm, behind: open}}").at, 0.4);
}

TEST(HandoutPages, BaysDescribedAlikeShareOneAndTheCostliestComesFirst) {
  const HandoutWall wall = solved(small_wall(
      "{batt: R-13, gap: {right: 20 mm}}, batt R-13, nothing, batt R-13, {batt: R-13, gap: {right: 20 mm}}"));
  ASSERT_EQ(wall.pages.size(), 2u);
  EXPECT_EQ(wall.pages[0].faults, std::vector<Fault>{Fault::missing});
  EXPECT_EQ(wall.pages[1].bays, (std::vector<std::size_t>{0, 4}));
  const Words& words = built_in_words("en");
  EXPECT_EQ(place_name(wall.pages[1], words), "bays 1 and 5");
  EXPECT_EQ(fault_names(wall.pages[0], words), "Nothing in the bay");
  EXPECT_EQ(headline(wall, wall.pages[0], words).of, "heat through bay 3");
}

TEST(HandoutPages, BaysAlikeAreCostedTogether) {
  const Words& words = built_in_words("en");
  const std::string season = "heating: {degree days: 3000 K day}\n";
  const HandoutWall one = solved(small_wall("nothing, batt R-13, batt R-13", season)),
                    two = solved(small_wall("nothing, batt R-13, batt R-13, batt R-13, nothing", season));
  ASSERT_EQ(two.pages.at(0).bays.size(), 2u);
  const double extra = two.pages[0].cost->extra;
  const std::vector<std::string> told = cost_sentences(two, two.pages[0], words);
  EXPECT_NE(std::find(told.begin(), told.end(), fmt::format("All 2 together: {:.3f} W/K.", 2.0 * extra)),
            told.end());
  EXPECT_NE(heat_cell(two, two.pages[0], words).find(fmt::format("{:.3f} W/K", 2.0 * extra)),
            std::string::npos);
  EXPECT_EQ(year_cell(two, two.pages[0]),
            two_digits(2.0 * extra * 72.0) + " kWh");  // 24 h of 3000 days in 1000 W
  EXPECT_EQ(cost_sentences(one, one.pages.at(0), words).front().find("All "), std::string::npos);
}

TEST(HandoutPages, NothingIsNormalWhereNobodyKnowsWhatIsRight) {
  std::vector<HandoutWall> walls;
  walls.push_back(solved(small_wall("nothing, nothing")));
  const Words& words = built_in_words("en");
  EXPECT_TRUE(normal_sentences(walls[0], words).empty());
  const std::string html = handout_html(walls, words, {});
  EXPECT_EQ(html.find(said(words, "page.no faults")), std::string::npos);
  EXPECT_NE(html.find("is not known: nothing is compared with it"), std::string::npos);
}

/// What a bay with a duct reads is no pattern of a sound wall.
TEST(HandoutPages, NormalIsWhatPlainBaysShow) {
  const HandoutWall
      plain = solved(small_wall("batt R-13, batt R-13, batt R-13")),
      duct = solved(small_wall(
          "{batt: R-13, duct: {width: 300 mm, depth: 60 mm, behind: open}}, batt R-13, batt R-13"));
  constexpr double windows = 0.03;  // each bay is solved with its neighbours, within half a kelvin at most
  EXPECT_NEAR(*duct.normal->plates / *plain.normal->plates, 1.0, windows);
  EXPECT_EQ(duct.normal->bays, 2u);
}

TEST(HandoutPages, WhatReadsColderInTheHeatingSeasonReadsWarmerInTheCoolingSeason) {
  const SourceText winter = small_wall("batt R-13, nothing");
  SourceText summer = winter;
  const std::string cold = "outside: {temperature: 0 °C}";
  summer.text.replace(summer.text.find(cold), cold.size(), "outside: {temperature: 38 °C}");
  const Words& words = built_in_words("en");
  const HandoutWall a = solved(winter), b = solved(summer);
  EXPECT_LT(a.pages.at(0).furthest.kelvin, 0.0);
  EXPECT_GT(b.pages.at(0).furthest.kelvin, 0.0);
  EXPECT_EQ(sight_sentences(a, a.pages[0], words).front(), said_of(words, Fault::missing, "colder"));
  EXPECT_EQ(sight_sentences(b, b.pages[0], words).front(), said_of(words, Fault::missing, "warmer"));
  EXPECT_EQ(normal_sentences(a, words).front().find("Sound studs read"), 0u);
  EXPECT_NE(normal_sentences(a, words).front(), normal_sentences(b, words).front());
}

/// ASHRAE's degree-day method: energy = loss per kelvin x 24 h x degree days / efficiency (Handbook of
/// Fundamentals, "Energy estimating and modeling methods"; from memory). 0.5 W/K over 3000 K day is 36 kWh.
TEST(Years, AreLossTimesDegreeDays) {
  const auto year = [](const std::string& heating) {
    return year_of(read_case(small_wall("batt R-13, nothing", "heating: " + heating + "\n")), 0.5);
  };
  constexpr double rounding = 1e-9;
  const auto heat = year("{degree days: 3000 K day}");
  EXPECT_NEAR(heat->energy, 36.0, rounding);
  EXPECT_FALSE(heat->cost || heat->bought);
  const auto bought = year("{degree days: 5400 °F day, price: $0.20/kWh, efficiency: 80 %}");
  EXPECT_NEAR(bought->energy, 45.0, rounding);
  EXPECT_NEAR(bought->cost.value(), 9.0, rounding);
  EXPECT_EQ(bought->cost_text, "$9.00");
  EXPECT_FALSE(year_of(read_case(small_wall("batt R-13, nothing")), 0.5)) << "none is invented";
}

TEST(TwoDigits, AreWhatIsSaid) {
  EXPECT_EQ(two_digits(123.4), "120");
  EXPECT_EQ(two_digits(9.96), "10");
  EXPECT_EQ(two_digits(3.44), "3.4");
  EXPECT_EQ(two_digits(0.0512), "0.051");
  EXPECT_EQ(two_digits(0.0), "0");
}

std::size_t count(const std::string& text, std::string_view what) {
  std::size_t n = 0;
  for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += what.size()) ++n;
  return n;
}

TEST(Handouts, HaveASheetForTheWallAndOneForEachFault) {
  std::vector<HandoutWall> walls;
  walls.push_back(solved(small_wall("{batt: R-13, gap: {right: 20 mm}}, batt R-13, nothing")));
  const std::string html = handout_html(walls, built_in_words("en"), {});
  EXPECT_EQ(sheets_of(walls, built_in_words("en"), {}), 3u);
  EXPECT_EQ(count(html, "<section class=\"sheet"), 3u);
  EXPECT_EQ(count(html, "src=\"data:image/png;base64,"),
            2u + 2u * 3u);  // wall: as built and right; faults: three
  EXPECT_EQ(count(html, "src=\""), count(html, "src=\"data:"));
  EXPECT_EQ(count(html, "http://") + count(html, "https://"), count(html, "http://www.w3.org/2000/svg"));
  EXPECT_TRUE(is_handout({html.begin(), html.end()}));
  EXPECT_EQ(html, handout_html(walls, built_in_words("en"), {})) << "same input, same bytes";
  const std::string spanish = handout_html(walls, built_in_words("es"), {});
  EXPECT_NE(spanish.find("<html lang=\"es\""), std::string::npos);
  EXPECT_EQ(count(spanish, "<section class=\"sheet"), 3u);
}

TEST(Handouts, LongTablesGoOnOnFurtherSheets) {
  HandoutWall wall = solved(small_wall("nothing, batt R-13"));
  const FaultPage page = wall.pages.at(0);
  std::size_t before = 0;
  for (const std::size_t faults : {1u, 10u, 40u}) {
    wall.pages.assign(faults, page);
    const std::size_t covers = sheets_of({wall}, built_in_words("en"), {}) - faults;
    EXPECT_GT(covers, before == 1 && faults == 10 ? 0u : before) << faults;
    before = covers;
    const std::string html = handout_html({wall}, built_in_words("en"), {});
    EXPECT_EQ(count(html, "<tr><td class=\"rank\">"), faults) << "every fault is ranked once";
    EXPECT_EQ(count(html, "<section class=\"sheet"), covers + faults);
    EXPECT_NE(html.find(fmt::format("{} of {}", covers + faults, covers + faults)), std::string::npos);
  }
}

TEST(Handouts, SeveralWallsBeginWithAllTheirFaultsRanked) {
  std::vector<HandoutWall> walls;
  walls.push_back(solved(small_wall("{batt: R-13, gap: {right: 20 mm}}, batt R-13")));
  walls.push_back(handout_wall(read_case(small_wall("nothing, batt R-13")), {"b.yaml", std::string(64, 'b')},
                               2, {0.5, 0.05}, [](const std::string&) {}));
  const std::string html = handout_html(walls, built_in_words("en"), {});
  EXPECT_EQ(sheets_of(walls, built_in_words("en"), {}), 1u + 2u + 2u);
  const std::size_t empty = html.find("href=\"#wall-2-bay-1\""), gap = html.find("href=\"#wall-1-bay-1\"");
  EXPECT_LT(empty, gap) << "the costliest first, whichever its wall";
  EXPECT_EQ(count(html, "<section class=\"sheet"), 5u);
  EXPECT_NE(html.find("<td class=\"rank\">5</td>"), std::string::npos)
      << "the empty bay is on the last sheet";
}

TEST(Handouts, AWallWithNothingWrongIsACoverThatSaysSo) {
  std::vector<HandoutWall> walls;
  walls.push_back(solved(small_wall("batt R-13, batt R-13")));
  const std::string html = handout_html(walls, built_in_words("en"), {});
  EXPECT_EQ(sheets_of(walls, built_in_words("en"), {}), 1u);
  EXPECT_NE(html.find(said(built_in_words("en"), "page.no faults")), std::string::npos);
}

}  // namespace
}  // namespace coldbay::handout_pages_test
