#include "tools/report/study/page.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <limits>
#include <pugixml.hpp>
#include <random>
#include <string>
#include <vector>

#include "tests/tools/made_up_study.hpp"
#include "tools/report/study/figure.hpp"
#include "tools/report/study/figure_data.hpp"
#include "tools/report/text.hpp"

// The page is read back by pugixml: what stands where, and what its links hold.

namespace coldbay::study_page_test {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// Draws of some parameters, and results that are sums of them.
StudyTable draws(std::size_t n_parameters, std::size_t n_results, std::size_t n_rows) {
  StudyTable table;
  std::mt19937_64 generator(1);
  for (std::size_t p = 0; p < n_parameters; ++p)
    add_numbers(table, "wall.frame.parameter number " + std::to_string(p), "W/(m2 K)", true);
  for (std::size_t r = 0; r < n_results; ++r) add_numbers(table, "result_" + std::to_string(r), "°C", false);
  for (std::size_t row = 0; row < n_rows; ++row) {
    add_row(table);
    double sum = 0.0;
    for (std::size_t p = 0; p < n_parameters; ++p) {
      const double x = static_cast<double>(generator() >> 11U) * 0x1.0p-53;
      table.numbers[p].push_back(x);
      sum += x * static_cast<double>(p + 1);
    }
    for (std::size_t r = 0; r < n_results; ++r)
      table.numbers[n_parameters + r].push_back(sum * std::pow(10.0, 3.0 * static_cast<double>(r) - 6.0));
  }
  return table;
}

const std::string evil = "</text><script>alert('1')</script> & \"fibre\"";

/// Three fills by four ways to lay them, with names that are long and names that are markup.
StudyTable fills() {
  StudyTable table;
  const std::size_t fill = add_texts(table, "fill"), laid = add_texts(table, "workmanship <of the crew>");
  const std::size_t U = add_numbers(table, "u_value", "W/(m2 K)", false);
  const std::vector<std::string> names{
      evil, "dense-pack cellulose",
      "a fibreglass batt with a facing of kraft paper, inset and stapled three "
      "quarters of an inch off the face of every stud of the whole long wall"};
  for (std::size_t i = 0; i < names.size(); ++i)
    for (const char* how :
         {"", "gaps", "AWordThatIsLongerThanAnyLineOfAFigureCouldEverHoldWithoutBreakingIt", "=1+1"}) {
      add_row(table);
      table.texts[fill].push_back(names[i]);
      table.texts[laid].emplace_back(how);
      table.numbers[U].push_back(0.3 + 0.01 * static_cast<double>(table.ids.size() * (i + 1)));
    }
  return table;
}

/// Failures, a constant of either sort, a result that no variant has, and numbers that differ in the eighth
/// digit.
StudyTable troubles() {
  StudyTable table;
  const std::size_t a = add_numbers(table, "spacing", "m", true), b = add_numbers(table, "height", "m", true);
  const std::size_t U = add_numbers(table, "u_value", "W/(m2 K)", false),
                    same = add_numbers(table, "area", "m2", false),
                    none = add_numbers(table, "never", "", false);
  for (int i = 0; i < 12; ++i) {
    const bool bad = i % 5 == 1;
    add_row(table, bad ? evil : "");
    table.numbers[a].push_back(0.1 * (i % 4));
    table.numbers[b].push_back(2.4);
    table.numbers[U].push_back(bad ? nan : 0.4 + 1e-8 * i);
    table.numbers[same].push_back(bad ? nan : 9.6);
    table.numbers[none].push_back(nan);
  }
  return table;
}

/// Ticks with many digits, and a result of which nearly all lies at one end, so that its marks crowd.
StudyTable crowded() {
  StudyTable table;
  const std::size_t x = add_numbers(table, "x", "m", true), y = add_numbers(table, "y", "", false);
  for (int i = 0; i < 100; ++i) {
    add_row(table);
    table.numbers[x].push_back(654321.0 + 1e-4 * i);
    table.numbers[y].push_back(123456.0 + 1e-5 * std::pow(0.01 * i, 12));
  }
  return table;
}

/// One parameter moved at a time about a base.
StudyTable singly() {
  StudyTable table;
  for (const char* name : {"a", "b", "c"}) add_numbers(table, name, "m", true);
  const std::size_t y = add_numbers(table, "y", "", false);
  for (std::size_t moved = 0; moved < 3; ++moved)
    for (int step = -2; step <= 2; ++step) {
      if (step == 0 && moved > 0) continue;
      add_row(table);
      for (std::size_t p = 0; p < 3; ++p) table.numbers[p].push_back(1.0 + (p == moved ? 0.1 * step : 0.0));
      table.numbers[y].push_back(5.0 + static_cast<double>(moved + 1) * step);
    }
  return table;
}

std::string page_of(const StudyTable& table) {
  return study_html(table, "Title of " + evil, {"from a & b", evil});
}

struct Label {
  std::string text;
  double left, top, right, bottom;
};

/// Of every text of a drawing, by the font the page asks for: DejaVu Sans of 2.7 mm; capitals are 0.73 of
/// that high and descenders 0.24 deep.
std::vector<Label> labels_of(const pugi::xml_node& svg) {
  constexpr double size = 2.7;
  std::vector<Label> labels;
  for (const pugi::xpath_node& found : svg.select_nodes(".//text")) {
    const pugi::xml_node node = found.node();
    const std::string text = node.text().get(), anchor = node.attribute("text-anchor").as_string("start");
    const double width = text_width(text, size), x = node.attribute("x").as_double(),
                 y = node.attribute("y").as_double();
    const double left = anchor == "start" ? x : anchor == "middle" ? x - 0.5 * width : x - width;
    labels.push_back({text, left, y - 0.73 * size, left + width, y + 0.24 * size});
  }
  return labels;
}

TEST(StudyPage, LabelsKeepApartAndInside) {
  constexpr double rounding = 0.02;  // coordinates are written to 0.01 mm
  std::size_t seen = 0;
  for (const StudyTable& table :
       {draws(3, 4, 200), draws(2, 2, 2500), fills(), troubles(), singly(), crowded()}) {
    const pugi::xml_document document = read_page(page_of(table));
    for (const pugi::xpath_node& found : document.select_nodes("//svg")) {
      const pugi::xml_node svg = found.node();
      double zero_x = 0.0, zero_y = 0.0, width = 0.0, height = 0.0;
      ASSERT_EQ(
          std::sscanf(svg.attribute("viewBox").value(), "%lf %lf %lf %lf", &zero_x, &zero_y, &width, &height),
          4);
      const std::vector<Label> labels = labels_of(svg);
      seen += labels.size();
      for (std::size_t i = 0; i < labels.size(); ++i) {
        const Label& a = labels[i];
        EXPECT_GE(a.left, -rounding) << a.text;
        EXPECT_LE(a.right, width + rounding) << a.text;
        EXPECT_GE(a.top, -rounding) << a.text;
        EXPECT_LE(a.bottom, height + rounding) << a.text;
        for (std::size_t j = 0; j < i; ++j) {
          const Label& b = labels[j];
          EXPECT_FALSE(a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
              << svg.attribute("aria-label").value() << ": '" << a.text << "' on '" << b.text << "'";
        }
      }
    }
  }
  EXPECT_GT(seen, 500U);
}

TEST(StudyPage, WordsAreWordsAndNothingRuns) {
  for (const StudyTable& table : {fills(), troubles()}) {
    const std::string html = page_of(table);
    EXPECT_EQ(html.find("<script"), std::string::npos);
    const pugi::xml_document document = read_page(html);
    EXPECT_EQ(document.select_node("//title").node().text().get(), "Title of " + evil);
    EXPECT_EQ(document.select_node("//h1").node().text().get(), "Title of " + evil);
    EXPECT_EQ(document.select_node("//p[@class='where'][2]").node().text().get(), evil);
  }
  EXPECT_EQ(read_page(page_of(troubles()))
                .select_node("//h2[.='Variants that failed']/..//td[3]")
                .node()
                .text()
                .get(),
            evil);
}

std::string decoded(const std::string& href) {
  std::string out;
  for (std::size_t i = href.find(',') + 1; i < href.size(); ++i) {
    if (href[i] != '%') {
      out += href[i];
      continue;
    }
    out += static_cast<char>(std::strtol(href.substr(i + 1, 2).c_str(), nullptr, 16));
    i += 2;
  }
  return out;
}

/// RFC 4180: fields by commas, rows by CR LF, quotes doubled within quotes.
std::vector<std::vector<std::string>> read_csv(const std::string& text) {
  std::vector<std::vector<std::string>> rows(1, std::vector<std::string>(1));
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"')
      rows.back().back() += text[i++];
    else if (c == '"')
      quoted = !quoted;
    else if (!quoted && c == ',')
      rows.back().emplace_back();
    else if (!quoted && c == '\n')
      rows.emplace_back(1);
    else if (quoted || c != '\r')
      rows.back().back() += c;
  }
  rows.pop_back();  // what follows the last line break
  return rows;
}

TEST(StudyPage, EveryFigureHasItsNumbers) {
  for (const StudyTable& table : {draws(3, 2, 200), fills(), singly()}) {
    const pugi::xml_document document = read_page(page_of(table));
    const auto figures = document.select_nodes("//figure");
    ASSERT_GT(figures.size(), 4U);
    for (const pugi::xpath_node& figure : figures) {
      const auto rows =
          read_csv(decoded(figure.node().select_node(".//a[@download]").node().attribute("href").value()));
      ASSERT_GE(rows.size(), 2U);
      for (const auto& row : rows) EXPECT_EQ(row.size(), rows.front().size());
    }
  }
}

TEST(StudyPage, TheNumbersOfARankAreThoseOfTheTable) {
  const StudyTable table = fills();
  const pugi::xml_document document = read_page(page_of(table));
  const pugi::xml_node figure = document.select_node("//figure[contains(figcaption, 'ranked by')]").node();
  const auto rows = read_csv(decoded(figure.select_node(".//a").node().attribute("href").value()));
  ASSERT_EQ(rows.size(), 13U);
  EXPECT_EQ(rows[1][0], evil);  // 0.31, the first row and the least
  EXPECT_EQ(rows[1][1], "");
  EXPECT_EQ(std::stod(rows[1][4]), table.numbers[2][0]);
  for (std::size_t i = 2; i < rows.size(); ++i) EXPECT_GE(std::stod(rows[i][4]), std::stod(rows[i - 1][4]));
}

TEST(StudyPage, AHistogramCountsEveryVariantOnce) {
  for (const std::size_t n : {1U, 7U, 200U, 2500U}) {
    const pugi::xml_document document = read_page(page_of(draws(1, 1, n)));
    const pugi::xml_node figure =
        document.select_node("//figure[contains(figcaption, 'all variants')]").node();
    if (n == 1) {
      EXPECT_FALSE(figure) << "one variant is no distribution";
      continue;
    }
    const auto rows = read_csv(decoded(figure.select_node(".//a").node().attribute("href").value()));
    std::size_t sum = 0;
    for (std::size_t i = 1; i < rows.size(); ++i) sum += std::stoul(rows[i].back());
    EXPECT_EQ(sum, n);
  }
}

TEST(StudyPage, MovedSinglyThereAreNoShares) {
  EXPECT_FALSE(read_page(page_of(singly())).select_node("//figure[contains(figcaption, 'whose variance')]"));
  EXPECT_TRUE(
      read_page(page_of(draws(2, 1, 100))).select_node("//figure[contains(figcaption, 'whose variance')]"));
}

TEST(StudyPage, EveryKindOfResultHasFiguresBeforeASecondSection) {
  StudyTable table = draws(2, 8, 100);
  const std::vector<std::string> names{"U, plan 1",         "U, plan 2",         "U, plan 3",
                                       "heat flow, plan 1", "heat flow, plan 2", "heat flow, plan 3",
                                       "coldest surface",   "whole-wall U"};
  for (std::size_t r = 0; r < 8; ++r) table.columns[2 + r].name = names[r];
  const std::string html = page_of(table);
  const pugi::xml_document document = read_page(html);
  for (const char* name : {"U, plan 1", "U, plan 2", "heat flow, plan 1", "heat flow, plan 2",
                           "coldest surface", "whole-wall U"})
    EXPECT_TRUE(document.select_node(("//h2[starts-with(., '" + std::string(name) + " [')]").c_str()))
        << name;
  EXPECT_NE(html.find("There are no figures of U, plan 3; heat flow, plan 3."), std::string::npos);
}

// 90 mm and what a page has beside: a name in four lines for each of 40.
TEST(StudyPage, NoFigureIsTallerThanAPage) {
  StudyTable table;
  const std::size_t fill = add_texts(table, "fill"), other = add_texts(table, "other"),
                    U = add_numbers(table, "U", "W/m2K", false);
  for (int i = 0; i < 80; ++i) {
    add_row(table);
    table.texts[fill].push_back("a long name that is told in words of which there are many and no end " +
                                std::to_string(i / 2) +
                                " of the fills that were tried in this study of walls");
    table.texts[other].emplace_back(i % 2 == 0 ? "as it should be" : "as it was found by those who looked");
    table.numbers[U].push_back(0.3 + 0.01 * i);
  }
  const auto page = read_page(page_of(table));  // it outlives its nodes
  for (const pugi::xpath_node& svg : page.select_nodes("//svg")) {
    double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
    ASSERT_EQ(
        std::sscanf(svg.node().attribute("viewBox").value(), "%lf %lf %lf %lf", &x, &y, &width, &height), 4);
    EXPECT_LE(height, 230.0) << svg.node().attribute("aria-label").value();
  }
}

TEST(StudyPage, PathsBreakAtTheirDots) {
  EXPECT_EQ(figure_lines("section.shapes[1].material.conductivity: 0.4 to 0.6 W/mK", 40.0, 3),
            (std::vector<std::string>{"section.shapes[1].material.", "conductivity: 0.4 to 0.6", "W/mK"}));
  StudyTable table = draws(2, 1, 50);
  table.columns[0].name = "wall.bays[2].batt";
  EXPECT_NE(page_of(table).find("wall.<wbr/>bays<wbr/>[2].<wbr/>batt [W/(m2 K)]"), std::string::npos);
}

TEST(StudyPage, ALongNameOfAnAxisKeepsItsUnitAndEnd) {
  StudyTable table = draws(2, 1, 50);
  table.columns[0].name = "wall.bays[2].layers[3].material.conductivity.of.the.first.and.last.gap";
  const pugi::xml_document document = read_page(page_of(table));
  const pugi::xml_node title = document.select_node("//svg//text/title").node();
  EXPECT_EQ(std::string(title.text().get()), table.columns[0].name + " [W/(m2 K)]");
  const std::string shown = title.parent().text().get();
  EXPECT_TRUE(shown.starts_with("wall.bays[2]") && shown.ends_with("gap [W/(m2 K)]")) << shown;
}

TEST(StudyPage, NothingSolvedIsAPageToo) {
  StudyTable table = troubles();
  table.failed.assign(table.ids.size(), "no");
  EXPECT_EQ(read_page(page_of(table)).select_nodes("//svg").size(), 0U);
  StudyTable empty;
  EXPECT_TRUE(read_page(page_of(empty)).select_node("//h1"));
}

// More than anyone studies at once: sixteen parameters and nine results, in cells. The largest page there can
// be, but for names and texts: how many rows there are does not count any more.
TEST(StudyPage, StaysBelowTwoMegabytes) {
  const std::string html = page_of(draws(16, 9, 20000));
  EXPECT_LT(html.size(), std::size_t{2} << 20U);
  EXPECT_GT(html.size(), std::size_t{1} << 19U) << "and is no stub";
  const std::vector<std::uint8_t> bytes(html.begin(), html.end());
  EXPECT_TRUE(is_study_page(bytes));
  EXPECT_FALSE(is_study_page({bytes.begin() + 1, bytes.end()}));
}

TEST(StudyPage, TheSameRowsGiveTheSameBytes) {
  EXPECT_EQ(page_of(draws(3, 2, 300)), page_of(draws(3, 2, 300)));
}

TEST(StudyPage, AFileOfNumbersReadsBack) {
  const FigureData data{
      "a.csv", {"name, \"quoted\"", "x [m]"}, {{"=1+1\r\n\"", full_number(0.1 + 0.2)}}, {true, false}};
  const auto rows = read_csv(csv_of(data));
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[0][0], "name, \"quoted\"");
  EXPECT_EQ(rows[1][0], "=1+1\r\n\"");
  EXPECT_EQ(std::stod(rows[1][1]), 0.1 + 0.2);
}

}  // namespace
}  // namespace coldbay::study_page_test
