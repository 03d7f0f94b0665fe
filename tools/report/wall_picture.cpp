#include "tools/report/wall_picture.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <utility>

#include "tools/report/labels.hpp"
#include "tools/report/section_sheet.hpp"
#include "tools/report/wall_panel.hpp"
#include "tools/report/wall_readings.hpp"

namespace coldbay {
namespace {

constexpr double wanted_width = 1960.0, wanted_height = 1200.0;  // of all maps together
constexpr double most_pixels_across = 4000.0;
constexpr double least_scale = 200.0, greatest_scale = 400.0;  // pixels per metre: 1 and 2 for 5 mm
constexpr double least_words_width = 330.0;                    // for what stands above and under a narrow map
constexpr double least_content = 720.0;                        // for the title, the legend and the readings
constexpr double wall_gap = 28.0;
constexpr double row_gap = 26.0;
constexpr double bars_gap = 40.0, bars_width = 212.0, bar_width = 24.0;
constexpr double least_bar = 150.0, greatest_bar = 420.0;
constexpr double bar_heading = 26.0, words_below_bar = 16.0;
constexpr std::string_view own_stamp = "scaled to itself: do not compare";

/// How the panels lie on the sheet.
struct Layout {
  int columns = 1, rows = 1;
  double scale = least_scale;  ///< pixels per metre
};

double widest(const WallSheet& sheet) {
  double width = 0.0;
  for (const WallPanel& panel : sheet.panels) width = std::max(width, panel.map.across.length());
  return width;
}

double highest(const WallSheet& sheet) {
  double height = 0.0;
  for (const WallPanel& panel : sheet.panels) height = std::max(height, panel.map.up.length());
  return height;
}

/// Pixels per metre within the bounds above, and such that the pixels of a camera stay whole.
double whole_pixels(const WallSheet& sheet, double fits, double most) {
  const auto camera = std::find_if(sheet.panels.begin(), sheet.panels.end(),
                                   [](const WallPanel& panel) { return !panel.map.smooth; });
  if (camera == sheet.panels.end()) return std::min(std::clamp(fits, least_scale, greatest_scale), most);
  const double pixel = camera->map.pixel_across();
  const double times = std::max(1.0, std::floor(fits * pixel + 1e-9));
  return times / pixel <= most ? times / pixel : std::min(fits, most);
}

Layout layout_of(const WallSheet& sheet) {
  const int n = static_cast<int>(sheet.panels.size());
  const double width = widest(sheet), height = highest(sheet);
  Layout best;
  double best_fit = 0.0;
  for (int columns = n; columns >= 1; --columns) {  // of equals the one with the fewest rows
    if (sheet.columns > 0 && columns != std::min(sheet.columns, n)) continue;
    const int rows = (n + columns - 1) / columns;
    const double fits = std::min({wanted_width / (columns * width), wanted_height / (rows * height),
                                  wanted_width / (columns * least_words_width) * greatest_scale});
    const double counted = std::min(fits, greatest_scale);
    if (counted <= best_fit * (1.0 + 1e-9)) continue;
    best_fit = counted;
    best = {
        columns, rows,
        whole_pixels(sheet, fits,
                     std::min(most_pixels_across / (columns * width), most_pixels_across / (rows * height)))};
  }
  return best;
}

double lines_high(std::size_t n, double size) { return line_height(size) * static_cast<double>(n); }

std::string scale_words(const ColourScale& scale) {
  const int decimals = std::max(1, scale.ticks().decimals);
  const bool fahrenheit = scale.style().temperature == TemperatureUnit::fahrenheit;
  std::string words;
  if (scale.is_of_differences())
    words = fmt::format("0 in the middle, {} to {}", scale.number(scale.coldest(), decimals),
                        scale.text(scale.warmest(), decimals));
  else
    words = fmt::format(
        "level {}, span {} {}", scale.text(0.5 * (scale.coldest() + scale.warmest()), decimals),
        fixed_number(fahrenheit ? 1.8 * scale.span() : scale.span(), decimals), fahrenheit ? "°F" : "K");
  return scale.stamp().empty() ? words : fmt::format("{}, {}", words, scale.stamp());
}

/// The colour bars that are wanted.
std::vector<const ColourScale*> bars_of(const WallSheet& sheet, const SheetScales& scales) {
  std::vector<const ColourScale*> bars;
  for (const bool differences : {false, true})
    if (std::any_of(sheet.panels.begin(), sheet.panels.end(),
                    [&](const WallPanel& panel) { return panel.is_difference == differences; }))
      bars.push_back(differences ? &scales.differences : &scales.temperatures);
  return bars;
}

std::vector<std::string> bar_lines(const ColourScale& scale) {
  constexpr std::size_t most_lines = 8;
  return wrapped(scale_words(scale), text_size::small, bars_width, most_lines);
}

/// What stands over and under a bar.
double bar_words_height(const ColourScale& scale) {
  return bar_heading + words_below_bar + lines_high(bar_lines(scale).size(), text_size::small);
}

/// Where the bars stand: beside each other in the place that is left free in the last row where they fit
/// there, else one below the other right of all pictures. `each` is the height of a bar.
struct Bars {
  std::vector<const ColourScale*> scales;
  bool in_free_place = false;
  double each = least_bar;
};

Bars place_bars(const WallSheet& sheet, const SheetScales& scales, const Layout& layout, double block) {
  Bars bars{bars_of(sheet, scales)};
  const double beside = static_cast<double>(bars.scales.size()) * (bars_width + bars_gap) - bars_gap;
  bars.in_free_place =
      layout.columns * layout.rows > static_cast<int>(sheet.panels.size()) && beside <= block - axis_left;
  return bars;
}

/// Sets the height of the bars by that of the pictures from the top of their first map down.
void fit_bars(Bars& bars, double height) {
  double words = 0.0;
  for (const ColourScale* scale : bars.scales) words += bar_words_height(*scale) + row_gap;
  bars.each = std::round(
      std::clamp((height - words) / static_cast<double>(bars.scales.size()), least_bar, greatest_bar));
}

/// How far they reach down from the top of the map beside them.
double bars_height(const Bars& bars) {
  double height = -row_gap;
  for (const ColourScale* scale : bars.scales) height += bar_words_height(*scale) + bars.each + row_gap;
  return height - bar_heading;
}

/// The first bar's upper left corner is `at`.
void draw_bars(Drawing& drawing, Spot at, const Bars& bars) {
  for (const ColourScale* scale : bars.scales) {
    letter(drawing, {at.x, at.y - bar_heading + text_size::small}, Align::left,
           scale->is_of_differences() ? "difference" : "temperature", text_size::small, ink::quiet_text);
    const Box bar{at.x, at.y, at.x + bar_width, at.y + bars.each};
    draw_bar_upright(drawing.picture, *scale, bar);
    drawing.texts.push_back({{bar.left, bar.top - 5.0, bar.left + 100.0, bar.bottom + 5.0}, "colour bar"});
    if (scale->is_of_differences()) draw_bar_signs(drawing.picture, bar, *scale);
    letter_lines(drawing, {at.x, bar.bottom + words_below_bar + text_size::small}, bar_lines(*scale),
                 text_size::small, ink::quiet_text);
    if (bars.in_free_place)
      at.x += bars_width + bars_gap;
    else
      at.y += bars.each + bar_words_height(*scale) + row_gap;
  }
}

struct PanelWords {
  std::vector<std::string> name, words, note;
};

/// All that is known of a sheet before its picture is made.
struct Plan {
  Layout layout;
  Bars bars;
  double block = 0.0;  ///< width of a panel with its axis
  std::vector<PanelWords> words;
  std::vector<double> above, maps, below;  ///< heights of each row
  double pictures_width = 0.0, content = 0.0;
  std::vector<std::string> title, shown;
};

Plan plan_of(const WallSheet& sheet, const PictureStyle& style, const SheetScales& scales) {
  Plan plan;
  plan.layout = layout_of(sheet);
  const double map_width = std::max(1.0, std::round(widest(sheet) * plan.layout.scale));
  plan.block = axis_left + std::max(map_width + axis_beyond, least_words_width);
  plan.pictures_width = plan.layout.columns * plan.block + (plan.layout.columns - 1) * wall_gap;
  plan.bars = place_bars(sheet, scales, plan.layout, plan.block);
  plan.content =
      std::max(least_content, plan.pictures_width + (plan.bars.in_free_place ? 0.0 : bars_gap + bars_width));
  const double room = plan.block - axis_left;
  for (const WallPanel& panel : sheet.panels)
    plan.words.push_back({wrapped(panel.name, text_size::body, room, 1),
                          wrapped(panel.words, text_size::small, room, 3),
                          wrapped(panel_note(panel.map, scales.of(panel)), text_size::small, room, 3)});
  const auto n_rows = static_cast<std::size_t>(plan.layout.rows);
  plan.above.assign(n_rows, 0.0);
  plan.maps.assign(n_rows, 0.0);
  plan.below.assign(n_rows, 0.0);
  for (std::size_t i = 0; i < sheet.panels.size(); ++i) {
    const std::size_t row = i / static_cast<std::size_t>(plan.layout.columns);
    const PanelWords& words = plan.words[i];
    plan.above[row] = std::max(plan.above[row], lines_high(words.name.size(), text_size::body) +
                                                    lines_high(words.words.size(), text_size::small) + 8.0);
    plan.maps[row] = std::max(plan.maps[row],
                              std::max(1.0, std::round(sheet.panels[i].map.up.length() * plan.layout.scale)));
    plan.below[row] = std::max(plan.below[row], axis_below + (sheet.bays.empty() ? 6.0 : bays_below + 4.0) +
                                                    lines_high(words.note.size(), text_size::small));
  }
  plan.title = wrapped(style.title, text_size::title, plan.content, 2);
  plan.shown = wrapped(style.cut, text_size::body, plan.content, 2);
  return plan;
}

SheetScales scales_of(const WallSheet& sheet, const PictureStyle& style) {
  std::optional<Extent> temperatures;
  double end = 0.0;
  for (const WallPanel& panel : sheet.panels) {
    const std::optional<Extent> one = extent(panel.map);
    if (!one) continue;
    if (panel.is_difference) {
      end = std::max({end, std::abs(one->least), std::abs(one->greatest)});
    } else {
      if (!temperatures) temperatures = one;
      temperatures =
          Extent{std::min(temperatures->least, one->least), std::max(temperatures->greatest, one->greatest)};
    }
  }
  const Extent all = temperatures.value_or(Extent{});
  return {ColourScale(sheet.scale.value_or(TemperatureScale{all.least, all.greatest, std::string(own_stamp)}),
                      style),
          sheet.difference_scale
              ? ColourScale::of_differences(sheet.difference_scale->end, sheet.difference_scale->stamp, style)
              : ColourScale::of_differences(end, std::string(own_stamp), style),
          !sheet.scale, !sheet.difference_scale};
}

Box plot_of(const WallPanel& panel, const Plan& plan, double left, double top) {
  const double width = std::max(1.0, std::round(panel.map.across.length() * plan.layout.scale));
  const double height = std::max(1.0, std::round(panel.map.up.length() * plan.layout.scale));
  return {left, top, left + width, top + height};
}

void draw_panel(Drawing& drawing, const Box& plot, double top, const WallPanel& panel,
                const PanelWords& words, const WallSheet& sheet, const SheetScales& scales,
                const PictureStyle& style) {
  const double next = letter_lines(drawing, {plot.left, top + text_size::body}, words.name, text_size::body);
  letter_lines(drawing, {plot.left, next - 2.0}, words.words, text_size::small, ink::quiet_text);
  draw_map(drawing, plot, panel, sheet, scales.of(panel));
  draw_axes(drawing, plot, panel.map, style.length);
  draw_bays(drawing, plot, panel.map, sheet.bays);
  const double under = plot.bottom + axis_below + (sheet.bays.empty() ? 6.0 : bays_below + 4.0);
  letter_lines(drawing, {plot.left, under + text_size::small}, words.note, text_size::small, ink::quiet_text);
  draw_marks(drawing, plot, panel, sheet, scales.own(panel));
}

/// Where each part of the sheet begins, from top to bottom.
struct Heights {
  double pictures = 0.0, legend = 0.0, spots = 0.0, lines = 0.0, bottom = 0.0;
};

Heights heights_of(const WallSheet& sheet, Plan& plan, const Legend& legend, double under_width) {
  Heights heights;
  const double heading = lines_high(plan.title.size(), text_size::title) +
                         lines_high(plan.shown.size(), text_size::body) + (plan.title.empty() ? 0.0 : 18.0);
  heights.pictures = sheet_margin + heading;
  double pictures = 0.0;
  for (std::size_t row = 0; row < plan.maps.size(); ++row)
    pictures += plan.above[row] + plan.maps[row] + plan.below[row] + (row > 0 ? row_gap : 0.0);
  double side = 0.0;
  if (plan.bars.in_free_place) {
    plan.bars.each = std::clamp(plan.maps.back(), least_bar, greatest_bar);
    double longest = 0.0;
    for (const ColourScale* scale : plan.bars.scales) longest = std::max(longest, bar_words_height(*scale));
    side = pictures - plan.maps.back() - plan.below.back() + plan.bars.each + longest - bar_heading;
  } else {
    fit_bars(plan.bars, pictures - plan.above.front());
    side = plan.above.front() + bars_height(plan.bars);
  }
  heights.legend = std::round(heights.pictures + std::max(pictures, side) + 14.0);
  heights.spots = heights.legend + legend_height(legend);
  heights.lines = heights.spots + spots_height(sheet);
  heights.bottom = heights.lines + lines_height(sheet, under_width + axis_left);
  return heights;
}

void draw_heading(Drawing& drawing, const Plan& plan) {
  double next =
      letter_lines(drawing, {sheet_margin, sheet_margin + text_size::title}, plan.title, text_size::title);
  if (plan.title.empty()) next = sheet_margin + text_size::body;
  letter_lines(drawing, {sheet_margin, next - 4.0}, plan.shown, text_size::body, ink::quiet_text);
}

/// Returns where the maps lie.
std::vector<Box> draw_panels(Drawing& drawing, const WallSheet& sheet, const Plan& plan, double top,
                             const SheetScales& scales, const PictureStyle& style) {
  std::vector<Box> plots;
  const auto columns = static_cast<std::size_t>(plan.layout.columns);
  const auto left_of = [&](std::size_t i) {
    return sheet_margin + axis_left + (plan.block + wall_gap) * static_cast<double>(i % columns);
  };
  for (std::size_t i = 0; i < sheet.panels.size(); ++i) {
    const std::size_t row = i / columns;
    if (i > 0 && i % columns == 0)
      top += plan.above[row - 1] + plan.maps[row - 1] + plan.below[row - 1] + row_gap;
    plots.push_back(plot_of(sheet.panels[i], plan, left_of(i), std::round(top + plan.above[row])));
    draw_panel(drawing, plots.back(), std::round(top), sheet.panels[i], plan.words[i], sheet, scales, style);
  }
  if (plan.bars.in_free_place)
    draw_bars(drawing, {left_of(sheet.panels.size()), plots.back().top}, plan.bars);
  else
    draw_bars(drawing, {std::round(sheet_margin + plan.pictures_width + bars_gap), plots.front().top},
              plan.bars);
  return plots;
}

}  // namespace

WallDrawing wall_drawing(const WallSheet& sheet, const PictureStyle& style) {
  assert(!sheet.panels.empty());
  const SheetScales scales = scales_of(sheet, style);
  Plan plan = plan_of(sheet, style, scales);
  // What stands under the pictures begins where their maps do.
  const double left = sheet_margin + axis_left, right = sheet_margin + plan.content;
  const Legend legend = legend_of(sheet, scales, right - left);
  const Heights heights = heights_of(sheet, plan, legend, right - left);
  WallDrawing all{{blank_picture(static_cast<int>(std::ceil(right + sheet_margin)),
                                 static_cast<int>(std::ceil(heights.bottom + sheet_margin - 10.0))),
                   {}},
                  {}};
  draw_heading(all.drawing, plan);
  all.plots = draw_panels(all.drawing, sheet, plan, heights.pictures, scales, style);
  draw_legend(all.drawing, {left, heights.legend}, legend);
  draw_spots(all.drawing, {left, heights.spots, right, heights.lines}, sheet, scales);
  draw_lines(all.drawing, {sheet_margin, heights.lines, right, heights.bottom}, sheet, style);
  return all;
}

Picture wall_picture(const WallSheet& sheet, const PictureStyle& style) {
  return wall_drawing(sheet, style).drawing.picture;
}

Picture camera_picture(const ThermalMap& ideal, const ThermalMap& recorded, const TemperatureScale& scale,
                       const PictureStyle& style) {
  WallSheet sheet;
  sheet.panels = {{"as an ideal camera would see it", "", ideal, false},
                  {"as the camera records it", "", recorded, false}};
  sheet.scale = scale;
  sheet.columns = 2;
  return wall_picture(sheet, style);
}

TemperatureScale shared_scale(std::span<const WallPanel> panels, TemperatureUnit unit, std::string stamp) {
  std::optional<Extent> all;
  for (const WallPanel& panel : panels) {
    const std::optional<Extent> one = panel.is_difference ? std::nullopt : extent(panel.map);
    if (!one) continue;
    if (!all) all = one;
    all = Extent{std::min(all->least, one->least), std::max(all->greatest, one->greatest)};
  }
  const double least = degrees(all.value_or(Extent{}).least, unit),
               greatest = degrees(all.value_or(Extent{}).greatest, unit);
  constexpr double wide = 4.0, rounding = 1e-9;
  const double step = greatest - least > wide ? 1.0 : 0.5;
  const auto celsius = [&](double degrees_of_unit) {
    return unit == TemperatureUnit::fahrenheit ? (degrees_of_unit - 32.0) / 1.8 : degrees_of_unit;
  };
  return {celsius(step * std::floor(least / step + rounding)),
          celsius(step * std::ceil(greatest / step - rounding)), std::move(stamp)};
}

DifferenceScale shared_difference_scale(std::span<const WallPanel> panels, TemperatureUnit unit,
                                        std::string stamp) {
  constexpr double least = 0.5;  // [K]
  const double per_kelvin = unit == TemperatureUnit::fahrenheit ? 1.8 : 1.0;
  double end = least;
  for (const WallPanel& panel : panels)
    if (const auto one = panel.is_difference ? extent(panel.map) : std::nullopt)
      end = std::max({end, std::abs(one->least), std::abs(one->greatest)});
  const double wanted = per_kelvin * end, ten = std::pow(10.0, std::floor(std::log10(wanted)));
  for (const double factor : {1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0})
    if (factor * ten >= wanted * (1.0 - 1e-9)) return {factor * ten / per_kelvin, std::move(stamp)};
  return {end, std::move(stamp)};
}

}  // namespace coldbay
