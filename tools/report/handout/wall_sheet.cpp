#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/report/amounts.hpp"
#include "tools/report/handout/markup.hpp"
#include "tools/report/handout/sentences.hpp"
#include "tools/report/handout/sheets.hpp"

namespace coldbay {
namespace {

constexpr double sheet_width = 186.0;  ///< what A4 and Letter both leave between margins of 12 mm [mm]

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

/// Rows of the table on the sheet with the face, and on each that follows.
constexpr std::size_t rows_beside_face = 14, rows_alone = 34;

/// Rows [from, to) of the table; `first_fault` is the number of the sheet of the first.
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

/// What the whole wall loses, and how much of it for its faults.
std::string wall_number(const HandoutWall& wall, const Words& words) {
  const auto& built = wall.faces.built.u_value;
  if (!built || !wall.faces.right || !wall.faces.right->u_value) return {};
  return fmt::format("<p class=\"number\"><strong>{}</strong> {}</p>",
                     escaped(signed_percent(*built / *wall.faces.right->u_value - 1.0)),
                     escaped(said(words, "page.number wall")));
}

std::string airs(const HandoutWall& wall, const Words& words) {
  const UnitSystem u = wall.c.units;
  return said(words, "page.air inside",
              {{"temperature", temperature_text(wall.c.air.inside.temperature, u, 0)}}) +
         ", " +
         said(words, "page.air outside",
              {{"temperature", temperature_text(wall.c.air.outside.temperature, u, 0)}});
}

}  // namespace

std::string wall_sheets(const HandoutWall& wall, const SheetMakers& make, std::size_t number) {
  const std::size_t first_fault = number + wall_sheet_count(wall);
  const Words& words = make.words;
  const FaceWindow window = whole_face(wall);
  const double by_height = window.across.length() / window.up.length();  // width of a picture over its height
  constexpr double lowest = 45.0, between = 2.5, others = 104.0, row = 7.6;  // [mm]
  const double rows = static_cast<double>(std::min(wall.pages.size(), rows_beside_face));
  const double highest = std::clamp(make.height_mm - others - row * rows, 40.0, 90.0);
  const double half = std::min(0.5 * (sheet_width - between), highest * by_height);
  const bool beside =
      half / by_height >= lowest;  // else the picture of the wall as built takes all the width
  const double width = beside ? half : std::min(sheet_width, highest * by_height);
  std::string html = fmt::format(
      "<section class=\"sheet cover\" id=\"{0}\" aria-labelledby=\"{0}-name\">\n<header>\n<div><p "
      "class=\"where\">{1}</p>"
      "<{5} id=\"{0}-name\" title=\"{2}\"><bdi>{2}</bdi></{5}><p>{3}</p></div>\n{4}\n</header>\n",
      wall.id, escaped(said(words, "page.title")),
      escaped(wall.c.title.empty() ? said(words, "page.whole wall") : wall.c.title),
      escaped(airs(wall, words)), wall_number(wall, words), number == 1 ? "h1" : "h2");
  html += fmt::format("<h3>{}</h3>\n", escaped(said(words, "page.whole face")));
  html += thermal_figures(wall, window, wall.id, said(words, "page.whole wall"), width,
                          beside ? FacesShown::built_and_right : FacesShown::built, make);
  std::vector<std::string> normal = normal_sentences(wall, words);
  normal.push_back(said(words, "page.one scale"));
  html += list_of(normal);
  if (wall.pages.empty())
    html += fmt::format("<p>{}</p>\n", escaped(said(words, "page.no faults")));
  else
    html += ranked_table(wall, words, first_fault, 0, rows_beside_face);
  for (const std::string& bay : wall.faces.not_compared)
    html += fmt::format("<p>{}</p>\n", escaped(said(words, "page.not compared", {{"bays", bay}})));
  html += list_of(limit_sentences(wall, nullptr, words));
  html += list_of(
      {said(words, "page.straight") + " " + said(words, "page.ragged") + " " + said(words, "page.blotch"),
       said(words, "cautions.codes")});
  html += sheet_foot(wall, make, number) + "</section>\n";
  for (std::size_t from = rows_beside_face; from < wall.pages.size(); from += rows_alone)
    html += fmt::format("<section class=\"sheet cover\">\n{}{}</section>\n",
                        ranked_table(wall, words, first_fault, from, from + rows_alone),
                        sheet_foot(wall, make, ++number));
  return html;
}

std::size_t wall_sheet_count(const HandoutWall& wall) {
  const std::size_t rows = wall.pages.size();
  return rows <= rows_beside_face ? 1 : 1 + (rows - rows_beside_face + rows_alone - 1) / rows_alone;
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
          {0.0, built.height}};
}

FaceWindow whole_face(const HandoutWall& wall) {
  return {{0.0, wall.faces.wall.width}, {0.0, wall.faces.wall.height}};
}

}  // namespace coldbay
