#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "tools/report/amounts.hpp"
#include "tools/report/handout/markup.hpp"
#include "tools/report/handout/ranked_table.hpp"
#include "tools/report/handout/sentences.hpp"
#include "tools/report/handout/sheets.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

/// What the whole wall loses, and how much of it for its faults.
std::string wall_number(const HandoutWall& wall, const Words& words) {
  const auto& built = wall.faces.built.u_value;
  if (wall.pages.empty() || !built || !wall.faces.right || !wall.faces.right->u_value) return {};
  return fmt::format("<p class=\"number\"><strong>{}</strong> {}</p>",
                     escaped(signed_percent(*built / *wall.faces.right->u_value - 1.0)),
                     escaped(said(words, "page.number wall")));
}

std::string airs(const HandoutWall& wall, const Words& words) {
  const UnitSystem u = wall.c.units;
  const bool close = std::abs(wall.c.air.inside.temperature - wall.c.air.outside.temperature) < 5.0;  // [K]
  const int decimals = close ? 1 : 0;
  return said(words, "page.air inside",
              {{"temperature", temperature_text(wall.c.air.inside.temperature, u, decimals)}}) +
         ", " +
         said(words, "page.air outside",
              {{"temperature", temperature_text(wall.c.air.outside.temperature, u, decimals)}});
}

std::string title_of(const HandoutWall& wall, const Words& words) {
  return wall.c.title.empty() ? said(words, "page.whole wall") : wall.c.title;
}

std::vector<std::string> above_table(const HandoutWall& wall, const Words& words) {
  std::vector<std::string> all = normal_sentences(wall, words);
  all.push_back(said(words, "page.one scale") + " " + said(words, "page.difference scale"));
  if (wall.pages.empty() && wall.faces.not_compared.empty()) all.push_back(said(words, "page.no faults"));
  return all;
}

std::vector<std::string> below_table(const HandoutWall& wall, const Words& words) {
  std::vector<std::string> all;
  for (const std::string& bay : wall.faces.not_compared)
    all.push_back(said(words, "page.not compared", {{"bays", bay}}));
  for (std::string& sentence : limit_sentences(wall, nullptr, words)) all.push_back(std::move(sentence));
  all.push_back(said(words, "page.straight") + " " + said(words, "page.ragged") + " " +
                said(words, "page.blotch"));
  all.push_back(said(words, "cautions.codes"));
  return all;
}

constexpr double picture_lowest = 40.0;  // [mm]

/// What a wall's sheet needs beside its picture and its table [mm].
double other_height(const HandoutWall& wall, const Words& words) {
  // What surrounds a title, the line above the picture, brackets and caption, scale, foot; lines of 9 and 17
  // points.
  constexpr double fixed = 57.0, letters = 3.175, line = 4.2, between = 0.8, title_letters = 6.0,
                   title_line = 7.0, title_wide = 85.0, badly = 1.05;
  constexpr std::size_t most_lines = 20, most_title_lines = 3;
  double sum =
      fixed +
      title_line * static_cast<double>(
                       wrapped(title_of(wall, words), title_letters, title_wide, most_title_lines).size());
  for (const auto& sentences : {above_table(wall, words), below_table(wall, words)})
    for (const std::string& s : sentences)
      sum +=
          line * static_cast<double>(wrapped(s, letters, sheet_width / badly, most_lines).size()) + between;
  return sum;
}

std::vector<std::size_t> breaks_of(const HandoutWall& wall, const Words& words, double height_mm) {
  constexpr double foot = 10.0;  // [mm]
  return table_breaks(row_heights(ranked(wall), words),
                      height_mm - other_height(wall, words) - picture_lowest, height_mm - foot);
}

std::vector<std::size_t> front_breaks(const std::vector<HandoutWall>& walls, const Words& words,
                                      double height_mm) {
  constexpr double foot = 10.0, title_and_notes = 46.0;  // [mm]
  return table_breaks(row_heights(ranked(walls), words), height_mm - title_and_notes, height_mm - foot);
}

}  // namespace

std::string wall_sheets(const HandoutWall& wall, const SheetMakers& make, std::size_t number) {
  const Words& words = make.words;
  const RankedFaults faults = ranked(wall);
  const std::vector<double> heights = row_heights(faults, words);
  const std::vector<std::size_t> breaks = breaks_of(wall, words, make.height_mm);
  const double table = std::accumulate(
      heights.begin(), heights.begin() + static_cast<std::ptrdiff_t>(breaks[0]), table_heading);
  const FaceWindow window = whole_face(wall);
  const double by_height = window.across.length() / window.up.length();  // width of a picture over its height
  const double highest = std::clamp(make.height_mm - other_height(wall, words) - table, picture_lowest, 90.0);
  const double half = std::min(0.5 * (sheet_width - picture_gap), highest * by_height);
  const bool beside = half / by_height >= picture_lowest;  // else the wall as built takes all the width
  const double width = beside ? half : std::min(sheet_width, highest * by_height);
  std::string html = fmt::format(
      "<section class=\"sheet cover\" id=\"{0}\" aria-labelledby=\"{0}-name\">\n<header>\n<div><p "
      "class=\"where\">{1}</p>"
      "<h1 id=\"{0}-name\" title=\"{2}\"><bdi>{2}</bdi></h1><p>{3}</p></div>\n{4}\n</header>\n",
      wall.id, escaped(said(words, "page.title")), escaped(title_of(wall, words)), escaped(airs(wall, words)),
      wall_number(wall, words));
  html += fmt::format("<h2 class=\"part\">{}</h2>\n", escaped(said(words, "page.whole face")));
  html += thermal_figures(wall, window, wall.id, said(words, "page.whole wall"), width,
                          beside ? FacesShown::built_and_right : FacesShown::built, make);
  html += list_of(above_table(wall, words));
  if (!wall.pages.empty()) html += table_html(faults, words, make.numbers, 0, breaks[0]);
  html += list_of(below_table(wall, words));
  html += sheet_foot(wall, make, number) + "</section>\n";
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i)
    html += fmt::format("<section class=\"sheet cover\">\n{}{}</section>\n",
                        table_html(faults, words, make.numbers, breaks[i], breaks[i + 1]),
                        sheet_foot(wall, make, ++number));
  return html;
}

std::size_t wall_sheet_count(const HandoutWall& wall, const Words& words, double height_mm) {
  return breaks_of(wall, words, height_mm).size();
}

std::string front_sheets(const std::vector<HandoutWall>& walls, const SheetMakers& make) {
  const Words& words = make.words;
  const RankedFaults faults = ranked(walls);
  const std::vector<std::size_t> breaks = front_breaks(walls, words, make.height_mm);
  std::string html;
  std::size_t from = 0;
  for (std::size_t i = 0; i < breaks.size(); ++i) {
    html += "<section class=\"sheet cover\">\n";
    if (i == 0)
      html += fmt::format("<header>\n<div><h1>{}</h1><p>{}</p></div>\n</header>\n",
                          escaped(said(words, "page.title")), escaped(said(words, "page.subtitle")));
    if (!faults.rows.empty()) html += table_html(faults, words, make.numbers, from, breaks[i]);
    if (i == 0) html += list_of({said(words, "page.one scale"), said(words, "cautions.codes")});
    html += sheet_foot(walls.front(), make, i + 1) + "</section>\n";
    from = breaks[i];
  }
  return html;
}

std::size_t front_sheet_count(const std::vector<HandoutWall>& walls, const Words& words, double height_mm) {
  return walls.size() < 2 ? 0 : front_breaks(walls, words, height_mm).size();
}

std::string sheet_foot(const HandoutWall& wall, const SheetMakers& make, std::size_t number) {
  return fmt::format(
      "<footer><span>{}</span><span>{}</span></footer>\n",
      escaped(said(make.words, "page.foot",
                   {{"case", wall.provenance.case_file},
                    {"hash", wall.provenance.sha256.substr(0, 12)},
                    {"version", version()}})),
      escaped(said(make.words, "page.sheet",
                   {{"page", std::to_string(number)}, {"pages", std::to_string(make.sheets)}})));
}

std::string list_of(const std::vector<std::string>& sentences) {
  if (sentences.empty()) return {};
  std::string html = "<ul>";
  for (const std::string& sentence : sentences) html += fmt::format("<li>{}</li>", escaped(sentence));
  return html + "</ul>\n";
}

FaceWindow window_of(const HandoutWall& wall, std::size_t bay) {
  const BuiltWall& built = wall.faces.wall;
  constexpr double beside = 0.2;  // half a bay of 16 in [m]
  const Span across = built.bays[bay].across;
  return {{std::max(0.0, across.from - beside), std::min(built.width, across.to + beside)},
          {0.0, built.height},
          bay};
}

FaceWindow whole_face(const HandoutWall& wall) {
  return {{0.0, wall.faces.wall.width}, {0.0, wall.faces.wall.height}};
}

}  // namespace coldbay
