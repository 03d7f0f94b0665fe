#include <fmt/core.h>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>

#include "tools/report/colour_scale.hpp"
#include "tools/report/labels.hpp"
#include "tools/report/lettering.hpp"
#include "tools/report/loop_arrows.hpp"
#include "tools/report/material_colours.hpp"
#include "tools/report/material_map.hpp"
#include "tools/report/section_picture.hpp"
#include "tools/report/section_sheet.hpp"
#include "tools/report/temperature_map.hpp"
#include "tools/report/text.hpp"
#include "tools/report/wall_panel.hpp"

namespace coldbay {
namespace {

constexpr double bar_height = 22.0;
constexpr double widest_bar = 620.0;

struct ClippedPixels {
  std::size_t colder = 0;
  std::size_t warmer = 0;
};

ClippedPixels count_clipped(const TemperatureMap& map, const ColourScale& scale) {
  ClippedPixels clipped;
  for (const double celsius : map.celsius) {
    const int beyond = scale.beyond(celsius);
    if (beyond < 0) ++clipped.colder;
    if (beyond > 0) ++clipped.warmer;
  }
  return clipped;
}

std::string clipped_words(const ClippedPixels& clipped, std::size_t n_pixels) {
  std::string words;
  if (clipped.colder > 0) words = fmt::format("{} colder", clipped.colder);
  if (clipped.warmer > 0) words += fmt::format("{}{} warmer", words.empty() ? "" : ", ", clipped.warmer);
  return fmt::format("Beyond the scale, hatched: {} of {} pixels", words, n_pixels);
}

/// What stands under the colour bar.
std::vector<std::string> panel_lines(const ColourScale& scale, const TemperatureMap& map, double width) {
  std::vector<std::string> lines = wrapped(scale.words(), text_size::small, width, 3);
  const ClippedPixels clipped = count_clipped(map, scale);
  if (clipped.colder + clipped.warmer > 0)
    for (std::string& line : wrapped(clipped_words(clipped, map.celsius.size()), text_size::small, width, 2))
      lines.push_back(std::move(line));
  return lines;
}

void draw_panel(Picture& picture, const Box& panel, const ColourScale& scale,
                const std::vector<std::string>& lines) {
  const double right = panel.left + std::min(panel.width() - 24.0, widest_bar);
  const Box bar{panel.left + 1.0, panel.top, std::round(right), panel.top + bar_height};
  draw_bar_across(picture, scale, bar);
  double baseline = bar.bottom + bar_below + 6.0;
  for (const std::string& text : lines) {
    baseline += line_height(text_size::small);
    draw_text(picture, {panel.left, baseline}, Align::left, text, text_size::small, ink::quiet_text);
  }
}

double panel_height(std::size_t n_lines) {
  return bar_height + bar_below + 12.0 + line_height(text_size::small) * static_cast<double>(n_lines);
}

/// One line keeps one ink from end to end: that of its level, not of the pixel beside it.
double nearest_level(const ColourScale& scale, double celsius) {
  return *std::min_element(scale.levels().begin(), scale.levels().end(),
                           [&](double a, double b) { return std::abs(a - celsius) < std::abs(b - celsius); });
}

void draw_temperatures(Picture& picture, const Box& plot, const TemperatureMap& map, const ColourScale& scale,
                       const std::vector<float>& outlines) {
  constexpr double isotherm_thickness = 1.2;
  const std::vector<float> isotherms =
      isotherm_coverage(map, scale.levels(), scale.span(), isotherm_thickness);
  std::size_t at = 0;
  for (int y = 0; y < map.height; ++y)
    for (int x = 0; x < map.width; ++x, ++at) {
      const int px = static_cast<int>(plot.left) + x;
      const int py = static_cast<int>(plot.top) + y;
      const double celsius = map.celsius[at];
      const Rgb contrast = contrasting(scale, celsius);
      blend(picture, px, py, scale.colour(celsius), 1.0);
      if (scale.beyond(celsius) != 0) blend(picture, px, py, contrast, 0.55 * hatch(px, py, 8));
      blend(picture, px, py, contrast, 0.38 * static_cast<double>(outlines[at]));
      if (isotherms[at] > 0.0F)
        blend(picture, px, py, contrasting(scale, nearest_level(scale, celsius)),
              0.80 * static_cast<double>(isotherms[at]));
    }
  frame(picture, plot, 1.0, ink::outline);
}

/// Each probe as a ring; its name beside it where there is room inside the section, in the first of
/// four corners that no other name has taken. Returns what rings and names take.
std::vector<Box> draw_probes(Picture& picture, const Box& plot, const Section& section) {
  std::vector<Box> taken, rings;
  for (const Probe& probe : section.probes) {
    const Spot at{plot.left + probe.at.across / section.width * plot.width(),
                  plot.bottom - probe.at.depth / section.depth * plot.height()};
    disc(picture, at, 4.5, ink::white);
    ring(picture, at, 4.5, 1.6, ink::outline);
    rings.push_back({at.x - 6.0, at.y - 6.0, at.x + 6.0, at.y + 6.0});
    const std::string name = shortened(probe.name, text_size::small, 160.0);
    const double width = text_width(name, text_size::small) + 8.0;
    const double height = text_size::small + 5.0;
    for (const auto& [side, over] : {std::pair{1.0, -1.0}, {-1.0, -1.0}, {1.0, 1.0}, {-1.0, 1.0}}) {
      const double left = side > 0.0 ? at.x + 8.0 : at.x - 8.0 - width;
      const double top = over < 0.0 ? at.y - 5.0 - height : at.y + 5.0;
      const Box box{left, top, left + width, top + height};
      const bool inside = box.left >= plot.left && box.right <= plot.right && box.top >= plot.top &&
                          box.bottom <= plot.bottom;
      if (!inside || std::any_of(taken.begin(), taken.end(), [&](const Box& b) { return overlap(b, box); }))
        continue;
      fill(picture, box, ink::paper, 0.85);
      draw_text(picture, {box.left + 4.0, box.bottom - 5.0}, Align::left, name, text_size::small);
      taken.push_back(box);
      break;
    }
  }
  taken.insert(taken.end(), rings.begin(), rings.end());
  return taken;
}

SheetWords words_around(const Section& section, const Surroundings& air, const PictureStyle& style) {
  SheetWords words{exchange_text("outside", air.outside, style),
                   {exchange_text("room", air.inside, style)},
                   end_words(section)};
  std::string sides;
  const bool upright = section.cut == CutKind::vertical;
  if (air.left) sides = exchange_text(upright ? "below the floor" : "left side", *air.left, style);
  if (air.right)
    sides += (sides.empty() ? "" : "; ") +
             exchange_text(upright ? "above the wall" : "right side", *air.right, style);
  if (!sides.empty()) words.below.push_back(sides);
  return words;
}

}  // namespace

Picture temperature_picture(const Section& section, const ConductivityGrid& grid, const Surroundings& air,
                            const TemperatureField& field, const TemperatureScale& scale,
                            const PictureStyle& style, const LoopFlow* loop) {
  const SheetPlan plan = plan_sheet(section);
  const ColourScale colours(scale, style);
  const TemperatureMap map = temperature_map(grid, air, field, plan.plot_width, plan.plot_height);
  const std::vector<float> outlines = outline_coverage(
      material_map(section, plan.plot_width, plan.plot_height), material_groups(section).group_of);
  const std::vector<std::string> lines = panel_lines(colours, map, plan.panel_width);

  Sheet sheet = draw_sheet(plan, words_around(section, air, style), panel_height(lines.size()), style);
  draw_temperatures(sheet.picture, sheet.plot, map, colours, outlines);
  const std::vector<Box> taken = draw_probes(sheet.picture, sheet.plot, section);
  if (loop) draw(sheet.picture, loop_arrows(*loop, section, sheet.plot, taken));
  draw_panel(sheet.picture, sheet.panel, colours, lines);
  return sheet.picture;
}

}  // namespace coldbay
