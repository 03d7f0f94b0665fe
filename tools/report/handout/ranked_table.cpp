#include "tools/report/handout/ranked_table.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tools/report/handout/markup.hpp"
#include "tools/report/handout/sentences.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

std::string cell(std::string_view text) { return fmt::format("<td>{}</td>", escaped(text)); }

std::string table_row(const HandoutWall& wall, const FaultPage& page, const Words& words, std::size_t rank,
                      std::size_t sheet) {
  const std::string year = year_cell(wall, page);
  std::string html =
      fmt::format("<tr><td class=\"rank\">{}</td><th scope=\"row\"><a href=\"#{}\">{}</a></th>", rank,
                  page.id, escaped(fault_names(page, words)));
  html += cell(place_name(page, words)) + cell(heat_cell(wall, page, words)) +
          cell(surface_cell(wall, page, words));
  if (wall.c.heating) html += cell(year);
  return html + fmt::format("<td class=\"rank\">{}</td></tr>\n", sheet);
}

/// As wide as the widest of some texts, with what a cell has on either side [mm].
double column_width(const std::vector<std::string>& texts) {
  constexpr double letters = 3.0, beside = 2.4;  // 8.5 points
  double most = 0.0;
  for (const std::string& text : texts) most = std::max(most, text_width(text, letters));
  return most + beside;
}

/// What is left for the names of the faults [mm].
double name_width(const HandoutWall& wall, const Words& words) {
  std::vector<std::string> where, heat, worst, year;
  for (const FaultPage& page : wall.pages) {
    where.push_back(place_name(page, words));
    heat.push_back(heat_cell(wall, page, words));
    worst.push_back(surface_cell(wall, page, words));
    year.push_back(year_cell(wall, page));
  }
  constexpr double sheet = 186.0, rank_and_page = 23.0, least = 24.0;  // [mm]
  const double others = column_width(where) + column_width(heat) + column_width(worst) +
                        (wall.c.heating ? column_width(year) : 0.0);
  return std::max(least, sheet - rank_and_page - others);
}

}  // namespace

std::string ranked_table(const HandoutWall& wall, const Words& words, std::size_t first_fault,
                         std::size_t from, std::size_t to) {
  const auto head = [&](std::string_view key) {
    return fmt::format("<th scope=\"col\">{}</th>", escaped(said(words, key)));
  };
  std::string html = fmt::format("<table class=\"ranked\"><caption>{}</caption>\n<thead><tr>",
                                 escaped(said(words, "page.ranked")));
  html += head("page.column rank") + head("page.column fault") + head("page.column where") +
          head("page.column heat") + head("page.column worst");
  if (wall.c.heating) html += head("page.column year");
  html += head("page.column page") + "</tr></thead>\n<tbody>\n";
  for (std::size_t i = from; i < std::min(to, wall.pages.size()); ++i)
    html += table_row(wall, wall.pages[i], words, i + 1, first_fault + i);
  return html + "</tbody></table>\n";
}

double table_height(const HandoutWall& wall, const Words& words, std::size_t from, std::size_t to) {
  constexpr double letters = 3.0, line = 3.75, around = 2.2, heading = 20.0, badly = 1.05;  // [mm]
  constexpr std::size_t most_lines = 20;
  const double width = name_width(wall, words) / badly - 2.4;
  double sum = heading;
  for (std::size_t i = from; i < std::min(to, wall.pages.size()); ++i)
    sum += line * static_cast<double>(
                      wrapped(fault_names(wall.pages[i], words), letters, width, most_lines).size()) +
           around;
  return sum;
}

std::vector<std::size_t> table_breaks(const HandoutWall& wall, const Words& words, double first_mm,
                                      double other_mm) {
  std::vector<std::size_t> breaks;
  std::size_t from = 0;
  do {
    const double room = breaks.empty() ? first_mm : other_mm;
    std::size_t to = std::min(from + 1, wall.pages.size());
    while (to < wall.pages.size() && table_height(wall, words, from, to + 1) <= room) ++to;
    breaks.push_back(to);
    from = to;
  } while (from < wall.pages.size());
  return breaks;
}

}  // namespace coldbay
