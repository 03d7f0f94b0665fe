#include "tools/report/handout/ranked_table.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "tools/report/handout/markup.hpp"
#include "tools/report/handout/sentences.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

/// A cell, with the name of its column for where the page has no room for columns.
std::string cell(std::string_view text, std::string_view column) {
  return fmt::format("<td data-column=\"{}\">{}</td>", escaped(column), escaped(text));
}

std::string title_of(const RankedFaults::Row& row) {
  return row.wall->c.title.empty() ? row.wall->provenance.case_file : row.wall->c.title;
}

std::string table_row(const RankedFaults& faults, std::size_t index, const Words& words, std::size_t sheet,
                      bool years) {
  const auto& [wall, page] = faults.rows[index];
  std::string html =
      fmt::format("<tr><td class=\"rank\">{}</td><th scope=\"row\"><a href=\"#{}\">{}</a>{}</th>", index + 1,
                  page->id, escaped(fault_names(*page, words)),
                  faults.of_several_walls
                      ? fmt::format(" <bdi class=\"of\">{}</bdi>", escaped(title_of(faults.rows[index])))
                      : "");
  html += cell(place_name(*page, words), said(words, "page.column where")) +
          cell(heat_cell(*wall, *page, words), said(words, "page.column heat")) +
          cell(surface_cell(*wall, *page, words), said(words, "page.column worst"));
  if (years) html += cell(year_cell(*wall, *page), said(words, "page.column year"));
  return html + fmt::format("<td class=\"rank\">{}</td></tr>\n", sheet);
}

bool any_years(const RankedFaults& faults) {
  return std::any_of(faults.rows.begin(), faults.rows.end(),
                     [](const RankedFaults::Row& row) { return row.wall->c.heating.has_value(); });
}

/// As wide as the widest of some texts, with what a cell has on either side [mm].
double column_width(const std::vector<std::string>& texts) {
  constexpr double letters = 3.0, beside = 2.4;  // 8.5 points
  double most = 0.0;
  for (const std::string& text : texts) most = std::max(most, text_width(text, letters));
  return most + beside;
}

/// What is left for the names of the faults [mm].
double name_width(const RankedFaults& faults, const Words& words) {
  std::vector<std::string> where, heat, worst, year;
  for (const auto& [wall, page] : faults.rows) {
    where.push_back(place_name(*page, words));
    heat.push_back(heat_cell(*wall, *page, words));
    worst.push_back(surface_cell(*wall, *page, words));
    year.push_back(year_cell(*wall, *page));
  }
  constexpr double sheet = 186.0, rank_and_page = 23.0, least = 24.0;  // [mm]
  const double others = column_width(where) + column_width(heat) + column_width(worst) +
                        (any_years(faults) ? column_width(year) : 0.0);
  return std::max(least, sheet - rank_and_page - others);
}

}  // namespace

RankedFaults ranked(const HandoutWall& wall) {
  RankedFaults faults;
  faults.rows.reserve(wall.pages.size());
  for (const FaultPage& page : wall.pages) faults.rows.push_back({&wall, &page});
  return faults;  // pages are in that order already
}

RankedFaults ranked(const std::vector<HandoutWall>& walls) {
  RankedFaults faults;
  for (const HandoutWall& wall : walls)
    for (const FaultPage& page : wall.pages) faults.rows.push_back({&wall, &page});
  faults.of_several_walls = walls.size() > 1;
  std::stable_sort(
      faults.rows.begin(), faults.rows.end(),
      [](const RankedFaults::Row& a, const RankedFaults::Row& b) { return costlier(*a.page, *b.page); });
  return faults;
}

std::string table_html(const RankedFaults& faults, const Words& words, const SheetNumbers& sheets,
                       std::size_t from, std::size_t to) {
  const auto head = [&](std::string_view key) {
    return fmt::format("<th scope=\"col\">{}</th>", escaped(said(words, key)));
  };
  const bool years = any_years(faults);
  std::string html = fmt::format("<table class=\"ranked\"><caption>{}</caption>\n<thead><tr>",
                                 escaped(said(words, "page.ranked")));
  html += head("page.column rank") + head("page.column fault") + head("page.column where") +
          head("page.column heat") + head("page.column worst");
  if (years) html += head("page.column year");
  html += head("page.column page") + "</tr></thead>\n<tbody>\n";
  for (std::size_t i = from; i < to; ++i)
    html += table_row(faults, i, words, sheets.at(faults.rows[i].page->id), years);
  return html + "</tbody></table>\n";
}

std::vector<double> row_heights(const RankedFaults& faults, const Words& words) {
  constexpr double letters = 3.0, line = 3.75, around = 2.2, badly = 1.05;  // [mm]
  constexpr std::size_t most_lines = 20;
  const double width = name_width(faults, words) / badly - 2.4;
  std::vector<double> heights;
  heights.reserve(faults.rows.size());
  for (const RankedFaults::Row& row : faults.rows) {
    std::string name = fault_names(*row.page, words);
    if (faults.of_several_walls) name += fmt::format(" {}", title_of(row));
    heights.push_back(line * static_cast<double>(wrapped(name, letters, width, most_lines).size()) + around);
  }
  return heights;
}

std::vector<std::size_t> table_breaks(const std::vector<double>& heights, double first_mm, double other_mm) {
  std::vector<std::size_t> breaks;
  std::size_t from = 0;
  do {
    double room = (breaks.empty() ? first_mm : other_mm) - table_heading;
    std::size_t to = from;
    while (to < heights.size() && (to == from || heights[to] <= room)) room -= heights[to++];
    breaks.push_back(to);
    from = to;
  } while (from < heights.size());
  return breaks;
}

}  // namespace coldbay
