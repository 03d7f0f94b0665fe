#include "tools/report/handout/document.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>
#include <utility>

#include "tools/outputs.hpp"
#include "tools/report/handout/face_samples.hpp"
#include "tools/report/handout/markup.hpp"
#include "tools/report/handout/pictures.hpp"
#include "tools/report/handout/sheets.hpp"
#include "tools/report/wall_picture.hpp"

extern "C" const char coldbay_sheet_css_begin[], coldbay_sheet_css_end[], coldbay_viewer_css_begin[],
    coldbay_viewer_css_end[], coldbay_viewer_js_begin[], coldbay_viewer_js_end[],
    coldbay_viewer_fields_js_begin[], coldbay_viewer_fields_js_end[];

namespace coldbay {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view begins = "<!doctype html>\n<!-- made by coldbay handout -->\n";

std::string_view embedded(const char* begin, const char* end) {
  return {begin, static_cast<std::size_t>(end - begin)};
}

/// What a paper leaves between margins of 12 mm, and a little less, for the rounding of a printer [mm].
double sheet_height(Paper paper) {
  constexpr double margins = 24.0, a4 = 297.0, letter = 11.0 * 25.4, rounding = 1.5;
  return (paper == Paper::a4 ? a4 : letter) - margins - rounding;
}

/// On which sheet everything is: the first of each wall, and every page.
struct Numbered {
  SheetNumbers of;
  std::size_t sheets = 0;
};
Numbered numbers_of(const std::vector<HandoutWall>& walls, const Words& words, double height_mm) {
  Numbered n;
  n.sheets = front_sheet_count(walls, words, height_mm);
  for (const HandoutWall& wall : walls) {
    n.of[wall.id] = n.sheets + 1;
    n.sheets += wall_sheet_count(wall, words, height_mm);
    for (const FaultPage& page : wall.pages) n.of[page.id] = ++n.sheets;
  }
  return n;
}

/// One scale for every picture of the handout: from the coldest to the warmest of all faces, as built and
/// built right; what a single case asks for by level and span goes before it.
SharedScales shared_scales(const std::vector<HandoutWall>& walls, const Words& words) {
  std::vector<WallPanel> panels, differences;
  constexpr double coarse = 0.01;  // [m]
  for (const HandoutWall& wall : walls) {
    const FaceWindow all = whole_face(wall);
    panels.push_back({"", "", part_of(wall.faces.built.room, all.across, all.up, coarse), false});
    if (!wall.faces.right) continue;
    panels.push_back({"", "", part_of(wall.faces.right->room, all.across, all.up, coarse), false});
    differences.push_back({"", "", difference(panels[panels.size() - 2].map, panels.back().map), true});
  }
  const Case& first = walls.front().c;
  const TemperatureUnit unit = style_of(first, Palette::hearth).temperature;
  SharedScales scales{shared_scale(panels, unit, said(words, "page.one scale")), 1.0};
  if (!differences.empty()) scales.difference = shared_difference_scale(differences, unit, "").end;
  if (walls.size() == 1) scales.temperatures = as_asked(first.picture, std::move(scales.temperatures));
  return scales;
}

std::string ramp_bytes(const std::vector<Rgb>& ramp) {
  std::vector<std::uint8_t> bytes;
  bytes.reserve(3 * ramp.size());
  for (const Rgb& c : ramp) bytes.insert(bytes.end(), c.begin(), c.end());
  return base64(bytes.data(), bytes.size());
}

/// Little-endian, as every browser's Int16Array has it on the machines of today.
std::string sample_bytes(const std::vector<std::int16_t>& samples) {
  std::vector<std::uint8_t> bytes;
  bytes.reserve(2 * samples.size());
  for (const std::int16_t s : samples) {
    const auto word = static_cast<std::uint16_t>(s);
    bytes.push_back(static_cast<std::uint8_t>(word & 0xFFU));
    bytes.push_back(static_cast<std::uint8_t>(word >> 8U));
  }
  return base64(bytes.data(), bytes.size());
}

/// Whole tenths of a millimetre: no one points finer, and the file is half as long.
Json places_json(const std::vector<double>& places) {
  Json all = Json::array();
  for (const double p : places) all.push_back(std::round(p * 1e4) / 1e4);
  return all;
}

Json view_json(const HandoutWall& wall, const FaceWindow& window) {
  constexpr double within = 0.01;  // [K]; what is read between samples stays within 0.0225 K
  std::vector<const FaceMap*> faces{&wall.faces.built.room};
  if (wall.faces.right) faces.push_back(&wall.faces.right->room);
  const FaceSamples samples = samples_of(faces, window.across, window.up, within);
  Json view = {{"across", places_json(samples.across)},
               {"up", places_json(samples.up)},
               {"window",
                {{"across", {window.across.from, window.across.to}}, {"up", {window.up.from, window.up.to}}}},
               {"base", samples.base},
               {"step", FaceSamples::step},
               {"built", sample_bytes(samples.fields[0])}};
  if (faces.size() > 1) view["right"] = sample_bytes(samples.fields[1]);
  return view;
}

Json views_json(const std::vector<HandoutWall>& walls, const Words& words, const SharedScales& scales,
                const HandoutStyle& style) {
  constexpr std::size_t shades = 256;
  Json all = {{"unit", walls.front().c.units == UnitSystem::metric ? "C" : "F"},
              {"scale", {{"coldest", scales.temperatures.coldest}, {"warmest", scales.temperatures.warmest}}},
              {"difference", scales.difference},
              {"palette", std::string(name_of(style.palette))}};
  for (const Palette palette : all_palettes)
    all["palettes"][std::string(name_of(palette))] = ramp_bytes(colour_ramp(palette, shades));
  all["plumb"] = ramp_bytes(plumb_ramp(shades + 1));
  all["words"] = Json::object();
  constexpr std::string_view viewer = "viewer.";
  for (const auto& [key, sentence] : words.text)
    if (key.starts_with(viewer)) all["words"][key.substr(viewer.size())] = sentence;
  all["views"] = Json::object();
  for (const HandoutWall& wall : walls) {
    all["views"][wall.id] = view_json(wall, whole_face(wall));
    for (const FaultPage& page : wall.pages)
      all["views"][page.id] = view_json(wall, window_of(wall, page.bays.front()));
  }
  return all;
}

/// JSON that may stand in a script element: nothing in it ends that element.
std::string script_text(const Json& json) {
  std::string text = json.dump(-1, ' ', false, Json::error_handler_t::replace), out;
  out.reserve(text.size());
  for (const char c : text) {
    if (c == '<')
      out += "\\u003c";
    else
      out += c;
  }
  return out;
}

std::string head(const std::vector<HandoutWall>& walls, const Words& words, const HandoutStyle& style) {
  const Case& first = walls.front().c;
  return fmt::format(
      "<html lang=\"{}\" dir=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta name=\"generator\" content=\"coldbay {}\">\n<link rel=\"icon\" "
      "href=\"data:,\">\n<title>{}</title>\n"
      "<style>\n@page {{ size: {}; margin: 12mm; }}\n:root {{ --sheet: {:.1f}mm; }}\n{}{}</style>\n</head>\n",
      escaped(words.code), escaped(words.direction), escaped(version()),
      escaped(first.title.empty() ? said(words, "page.title") : first.title),
      paper_of(walls, style) == Paper::a4 ? "A4" : "letter", sheet_height(paper_of(walls, style)),
      embedded(coldbay_sheet_css_begin, coldbay_sheet_css_end),
      embedded(coldbay_viewer_css_begin, coldbay_viewer_css_end));
}

}  // namespace

Paper paper_of(const std::vector<HandoutWall>& walls, const HandoutStyle& style) {
  return style.paper.value_or(walls.front().c.units == UnitSystem::metric ? Paper::a4 : Paper::letter);
}

std::size_t sheets_of(const std::vector<HandoutWall>& walls, const Words& words, const HandoutStyle& style) {
  return numbers_of(walls, words, sheet_height(paper_of(walls, style))).sheets;
}

std::string handout_html(const std::vector<HandoutWall>& walls, const Words& words,
                         const HandoutStyle& style) {
  const SharedScales scales = shared_scales(walls, words);
  std::vector<const Section*> sections;
  for (const HandoutWall& wall : walls)
    for (const FaultPage& page : wall.pages)
      if (page.section) sections.insert(sections.end(), {&page.section->built, &page.section->right});
  const HatchTable hatches = hatch_table(sections);
  const double height = sheet_height(paper_of(walls, style));
  const Numbered numbered = numbers_of(walls, words, height);
  const SheetMakers make{words, scales, style, hatches, numbered.of, numbered.sheets, height};
  std::string html = std::string(begins) + head(walls, words, style) + "<body>\n<main>\n";
  if (walls.size() > 1) html += front_sheets(walls, make);
  for (const HandoutWall& wall : walls) {
    html += wall_sheets(wall, make, numbered.of.at(wall.id));
    for (const FaultPage& page : wall.pages) html += fault_sheet(wall, page, make, numbered.of.at(page.id));
  }
  html += "</main>\n<script type=\"application/json\" id=\"views\">";
  html += script_text(views_json(walls, words, scales, style));
  html += "</script>\n<script>\n";
  html += embedded(coldbay_viewer_fields_js_begin, coldbay_viewer_fields_js_end);
  html += "</script>\n<script>\n";
  html += embedded(coldbay_viewer_js_begin, coldbay_viewer_js_end);
  return html + "</script>\n</body>\n</html>\n";
}

bool is_handout(const std::vector<std::uint8_t>& bytes) {
  return bytes.size() >= begins.size() && std::equal(begins.begin(), begins.end(), bytes.begin());
}

}  // namespace coldbay
