#include "tools/report/study/figures.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <limits>
#include <pugixml.hpp>
#include <string>

#include "tests/tools/made_up_study.hpp"
#include "tools/report/study/page.hpp"

namespace coldbay::study_figures_test {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

std::string figure_text(const pugi::xml_document& document, const std::string& caption) {
  std::string all;
  const std::string path = fmt::format(
      "//figure[contains(figcaption, '{0}')]//svg//text | //figure[contains(figcaption, '{0}')]//p", caption);
  for (const pugi::xpath_node& text : document.select_nodes(path.c_str())) {
    all += text.node().text().get();
    all += '\n';
  }
  return all;
}

/// Two fills that differ by less than grids know, crossed with depths and with spacings that a height goes
/// with.
StudyTable nearly_equal() {
  StudyTable table;
  const std::size_t fill = add_texts(table, "fill"), depth = add_numbers(table, "depth", "mm", true),
                    spacing = add_numbers(table, "spacing", "mm", true),
                    height = add_numbers(table, "height", "m", true),
                    cold = add_numbers(table, "coldest surface", "°C", false);
  for (const int f : {0, 1, 2})
    for (const double d : {95.0, 140.0, 195.0})
      for (const double s : {400.0, 600.0}) {
        add_row(table);
        table.texts[fill].emplace_back(f == 0 ? "fibre" : f == 1 ? "fibre, cut narrow" : "foam");
        table.numbers[depth].push_back(d);
        table.numbers[spacing].push_back(s);
        table.numbers[height].push_back(s / 200.0);
        table.numbers[cold].push_back(15.0 + (f == 2 ? 1.0 : 0.004 * f) + 0.01 * d + 1e-6 * s);
      }
  return table;
}

TEST(StudyFigures, SaysWhatIsHeldEqualAndBetter) {
  const pugi::xml_document document = read_page(study_html(nearly_equal(), "", {}));
  const std::string rank = figure_text(document, "ranked by fill, the highest (better) first");
  EXPECT_NE(rank.find("1. foam\n"), std::string::npos) << rank;
  EXPECT_NE(rank.find("2. fibre, cut narrow\n"), std::string::npos);
  EXPECT_NE(rank.find("2. fibre\n"), std::string::npos);
  EXPECT_NE(rank.find("°C, −1"), std::string::npos) << "degrees, and the difference";
  EXPECT_NE(rank.find("0.01 K"), std::string::npos);
  const std::string moved = figure_text(document, "one parameter at a time");
  EXPECT_NE(moved.find("+1\u00A0K"), std::string::npos) << moved;
  // A value is written before its label.
  EXPECT_NE(moved.find("none seen\nspacing with height: 400 mm, 2 m to 600 mm, 3 m\n"), std::string::npos);
  EXPECT_NE(moved.find("Held: fill fibre; depth 140 mm; spacing with height 400 mm, 2 m."),
            std::string::npos);
}

TEST(StudyFigures, NothingIsLeftIsNotLessThanNothing) {
  const std::string share = figure_text(read_page(study_html(nearly_equal(), "", {})), "whose variance");
  EXPECT_NE(share.find("spacing with height\n"), std::string::npos) << share;
  EXPECT_EQ(share.find("−"), std::string::npos);
}

/// Whether a figure of two shares says so of what is left.
std::string left_of(double a, double b, double error) {
  const StudyFigure figure =
      shares_figure({"U", "W/m2K", false, false}, {{"a", {a, error, 8}, nan}, {"b", {b, error, 8}, nan}});
  const pugi::xml_document document = read_page("<svg>" + figure.figure.body + "</svg>");
  return document.select_node("//text[.='left for what they do together']/preceding-sibling::text[1]")
      .node()
      .text()
      .get();
}

// By hand: errors of 0.1 and 0.1 are 0.141 of their sum, 0.283 twice.
TEST(StudyFigures, LessThanNothingIsNeverLeft) {
  EXPECT_EQ(left_of(0.6, 0.2, 0.0), "0.200");
  EXPECT_EQ(left_of(0.6, 0.2, 0.1), "0.200 ± 0.283");
  EXPECT_EQ(left_of(0.8, 0.4, 0.1), "0.000 ± 0.283");
  EXPECT_EQ(left_of(0.9, 0.9, 0.1), "none: shares overlap");
}

// The line of an error goes on below 0, with a stroke where it ends: three strokes each, of one more there.
TEST(StudyFigures, TheErrorOfAShareIsNotCutAtNothing) {
  const auto whiskers = [](double index) {
    const StudyFigure figure = shares_figure({"U", "W/m2K", false, false},
                                             {{"a", {0.5, 0.01, 8}, nan}, {"b", {index, 0.1, 8}, nan}});
    const pugi::xml_document document = read_page("<svg>" + figure.figure.body + "</svg>");
    return document.select_nodes("//path[@class='whisker']").size();
  };
  EXPECT_EQ(whiskers(0.4), 9U);   // a, b and what is left: from 0.2 to 0.6
  EXPECT_EQ(whiskers(0.1), 9U);   // from -0.1
  EXPECT_EQ(whiskers(-0.4), 8U);  // from -0.6, beyond the end of the axis
}

TEST(StudyFigures, ListsOfTextsWithCommasArePartedOtherwise) {
  const pugi::xml_document document = read_page(study_html(nearly_equal(), "", {}));
  EXPECT_STREQ(document.select_node("//td[contains(., 'foam')]").node().text().get(),
               "fibre; fibre, cut narrow; foam");
}

// Two results a thousandth of what is counted as equal apart stand side by side.
TEST(StudyFigures, WhatIsNotSeenIsNotDrawnLarge) {
  const VariedPart part{{0}, {"x", "m", true, false}, {}, false};
  Swing swing;
  swing.at_from = 12.0;
  swing.at_to = 12.00001;
  const StudyColumn cold{"coldest surface", "°C", false, false};
  const StudyFigure figure = swings_figure({part}, cold, {swing}, {0.0, 0.01, "", true}, "");
  const pugi::xml_document document = read_page("<svg>" + figure.figure.body + "</svg>");
  EXPECT_LT(document.select_node("//rect[@class='bar']").node().attribute("width").as_double(), 1.0);
}

}  // namespace
}  // namespace coldbay::study_figures_test
