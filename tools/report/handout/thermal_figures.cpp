#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tools/outputs.hpp"
#include "tools/report/amounts.hpp"
#include "tools/report/handout/markup.hpp"
#include "tools/report/handout/pictures.hpp"
#include "tools/report/handout/sheets.hpp"

namespace coldbay {
namespace {

constexpr double pixels_per_mm = 5.0;   ///< of the page: 127 to the inch, smooth fields need no more
constexpr double bracket_height = 5.0;  ///< under a picture, for the names of its bays [mm]

struct ShownFace {
  const char *shows, *caption, *alt;  ///< keys of the words behind "page."
  ThermalMap map;
  bool is_difference = false;
};

std::string value_text(double value, bool is_difference, UnitSystem u) {
  return is_difference ? fmt::format("{}{}",
                                     value > 0.0   ? "+"
                                     : value < 0.0 ? "−"
                                                   : "",
                                     difference_text(std::abs(value), u))
                       : temperature_text(value, u);
}

/// Where the bays are, under a picture: a bracket for each, and its number.
std::string brackets(const HandoutWall& wall, const FaceWindow& window, double width_mm) {
  const double per_metre = width_mm / window.across.length();
  std::string svg = fmt::format(
      "<svg class=\"bays\" aria-hidden=\"true\" viewBox=\"0 0 {0:.2f} {1}\" style=\"width:100%\">", width_mm,
      bracket_height);
  for (std::size_t b = 0; b < wall.faces.wall.bays.size(); ++b) {
    const Span clear = wall.faces.wall.bays[b].clear;
    const double from = std::max(0.0, (clear.from - window.across.from) * per_metre),
                 to = std::min(width_mm, (clear.to - window.across.from) * per_metre);
    constexpr double least = 3.4;  // [mm]: two figures
    if (to - from < least) continue;
    svg += fmt::format(
        "<g{4}><path d=\"M{0:.2f} 0.5v0.9H{1:.2f}v-0.9\"/><text x=\"{2:.2f}\" y=\"4.4\">{3}</text></g>",
        from + 0.3, to - 0.3, 0.5 * (from + to), b + 1, window.bay == b ? " class=\"own\"" : "");
  }
  return svg + "</svg>";
}

std::string figure(const HandoutWall& wall, const FaceWindow& window, const ShownFace& shown,
                   const ColourScale& scale, const std::string& where, double width_mm,
                   const SheetMakers& make) {
  const auto range = extent(shown.map);
  const UnitSystem u = wall.c.units;
  const std::string alt = said(make.words, fmt::format("page.{}", shown.alt),
                               {{"where", where},
                                {"coldest", value_text(range->least, shown.is_difference, u)},
                                {"warmest", value_text(range->greatest, shown.is_difference, u)}});
  return fmt::format(
      "<figure data-shows=\"{}\" style=\"width:{:.1f}mm\"><div class=\"picture\"><img alt=\"{}\" "
      "width=\"{}\" height=\"{}\" "
      "src=\"{}\"></div>{}<figcaption>{}</figcaption></figure>\n",
      shown.shows, width_mm, escaped(alt), shown.map.columns, shown.map.rows,
      picture_url(shown.map, scale, picture_texts(wall.c, wall.provenance)), brackets(wall, window, width_mm),
      escaped(said(make.words, fmt::format("page.{}", shown.caption))));
}

}  // namespace

std::string thermal_figures(const HandoutWall& wall, const FaceWindow& window, const std::string& view,
                            const std::string& where, double width_mm, FacesShown faces,
                            const SheetMakers& make) {
  const double pixel = window.across.length() / (width_mm * pixels_per_mm);
  const PictureStyle style = style_of(wall.c, make.style.palette);
  const ColourScale temperatures(make.scales.temperatures, style);
  const ColourScale differences = ColourScale::of_differences(make.scales.difference, "", style);
  std::vector<ShownFace> all{{"built", "as built", "picture built",
                              part_of(wall.faces.built.room, window.across, window.up, pixel)}};
  if (faces != FacesShown::built && wall.faces.right) {
    all.push_back({"right", "built right", "picture right",
                   part_of(wall.faces.right->room, window.across, window.up, pixel)});
    if (faces == FacesShown::all)
      all.push_back(
          {"difference", "difference", "picture difference", difference(all[0].map, all[1].map), true});
  }
  constexpr double between = 2.5;  // [mm], as sheet.css has it
  const double all_wide = static_cast<double>(all.size()) * (width_mm + between) - between;
  std::string html = fmt::format(
      "<div class=\"thermal\" data-view=\"{}\" style=\"width:{:.1f}mm\">\n<div class=\"figures\">\n", view,
      all_wide);
  for (const ShownFace& shown : all)
    html +=
        figure(wall, window, shown, shown.is_difference ? differences : temperatures, where, width_mm, make);
  html += "</div>\n<div class=\"key\">";
  html += fmt::format("<span class=\"scale\">{}{} ({})</span>",
                      scale_bar(temperatures, said(make.words, "page.key temperature")),
                      escaped(said(make.words, "page.key temperature")), temperatures.unit());
  if (all.back().is_difference)
    html += fmt::format("<span class=\"scale\">{}{} ({})</span>",
                        scale_bar(differences, said(make.words, "page.difference")),
                        escaped(said(make.words, "page.key difference")), differences.unit());
  return html + "</div>\n</div>\n";
}

}  // namespace coldbay
