#include "tools/report/wall_readings.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "tools/report/labels.hpp"
#include "tools/report/wall_panel.hpp"

namespace coldbay {
namespace {

constexpr double sign_width = 34.0, sign_height = 16.0, sign_gap = 12.0;
constexpr double reading_gap = 5.0;
constexpr double table_row = 24.0;
constexpr double number_column = 30.0;
constexpr double value_column = 150.0, least_value_column = 84.0;
constexpr double least_name_column = 160.0, widest_name_column = 460.0;

constexpr double plot_height = 170.0, plot_left = 84.0, plot_gap = 48.0, plot_right = 48.0;
constexpr double plot_above = 56.0, plot_below = 34.0;
constexpr double wide_enough_for_two = 1240.0, widest_plot = 1400.0;

// The first picture's curve as that of a section's face; those after it fall behind.
constexpr std::array<Rgb, 4> curve_inks{{{40, 62, 112}, {148, 140, 124}, {120, 74, 84}, {86, 128, 118}}};
constexpr std::array<double, 4> curve_widths{2.4, 1.6, 1.6, 1.6};

std::string threshold_words(const WallSheet& sheet, const Threshold& threshold, const ColourScale& scale) {
  std::string words = fmt::format("{}, {}: below it", threshold.name, scale.text(threshold.celsius, 1));
  bool first = true;
  for (const WallPanel& panel : sheet.panels) {
    if (panel.is_difference) continue;
    words += fmt::format("{} {} {}", first ? "" : ",", share_text(share_below(panel.map, threshold.celsius)),
                         panel.name);
    first = false;
  }
  return words;
}

/// Places along a line, and what a picture shows there.
std::vector<double> along(const LineReading& reading, const ThermalMap& map, std::size_t n) {
  std::vector<double> values;
  values.reserve(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double t = static_cast<double>(i) / static_cast<double>(n - 1);
    values.push_back(value_at(map, reading.from.across + t * (reading.to.across - reading.from.across),
                              reading.from.up + t * (reading.to.up - reading.from.up)));
  }
  return values;
}

struct Curve {
  const WallPanel* panel = nullptr;
  std::vector<double> values;
};

std::vector<Curve> curves_of(const WallSheet& sheet, const LineReading& reading, std::size_t n) {
  std::vector<Curve> curves;
  for (const WallPanel& panel : sheet.panels)
    if (!panel.is_difference) curves.push_back({&panel, along(reading, panel.map, n)});
  return curves;
}

/// Which temperatures the plot runs between [degC]: at least a kelvin, so that rounding does not look like
/// weather.
Extent plot_range(const std::vector<Curve>& curves) {
  std::optional<Extent> all;
  for (const Curve& curve : curves)
    for (const double value : curve.values) {
      if (std::isnan(value)) continue;
      if (!all) all = Extent{value, value};
      all->least = std::min(all->least, value);
      all->greatest = std::max(all->greatest, value);
    }
  if (!all) return {0.0, 1.0};
  const double missing = std::max(0.0, 1.0 - (all->greatest - all->least));
  const double room = 0.08 * (all->greatest - all->least + missing);
  return {all->least - 0.5 * missing - room, all->greatest + 0.5 * missing + room};
}

double height_of(const Box& plot, const Extent& range, double celsius) {
  return plot.bottom - (celsius - range.least) / (range.greatest - range.least) * plot.height();
}

void draw_plot_axes(Drawing& drawing, const Box& plot, const Extent& range, double length,
                    const PictureStyle& style) {
  Picture& picture = drawing.picture;
  const TemperatureUnit unit = style.temperature;
  const Ticks ticks = round_ticks(degrees(range.least, unit), degrees(range.greatest, unit), 4, 6);
  for (const double value : ticks.values) {
    const double celsius = unit == TemperatureUnit::fahrenheit ? (value - 32.0) / 1.8 : value;
    const double y = std::round(height_of(plot, range, celsius) - 0.5) + 0.5;
    fill(picture, {plot.left, y - 0.5, plot.right, y + 0.5}, ink::grid);
    std::string label = fixed_number(value, ticks.decimals);
    if (value == ticks.values.back()) label += fmt::format(" {}", symbol(unit));
    letter(drawing, {plot.left - 10.0, y + 0.36 * text_size::small}, Align::right, label, text_size::small);
  }
  const Ticks places = length_ticks(length, style.length, std::max(2, static_cast<int>(plot.width() / 96.0)));
  for (const double value : places.values) {
    const double share = value * metres_per(style.length) / length;
    const double x = std::round(plot.left + share * plot.width() - 0.5) + 0.5;
    if (x > plot.left + 1.0 && x < plot.right - 1.0)
      fill(picture, {x - 0.5, plot.top, x + 0.5, plot.bottom}, ink::grid);
    fill(picture, {x - 0.5, plot.bottom, x + 0.5, plot.bottom + 7.0}, ink::outline);
    const std::string number = fixed_number(value, places.decimals);
    const std::string label =
        value == places.values.back() ? fmt::format("{} {}", number, symbol(style.length)) : number;
    letter(drawing, {x - 0.5 * text_width(number, text_size::small), plot.bottom + 10.0 + text_size::small},
           Align::left, label, text_size::small);
  }
}

void draw_curve(Picture& picture, const Box& plot, const Extent& range, const Curve& curve, std::size_t n) {
  const double last = static_cast<double>(curve.values.size() - 1);
  std::vector<Spot> points;
  const auto finish = [&] {
    polyline(picture, points, curve_widths[n % curve_widths.size()], curve_inks[n % curve_inks.size()]);
    points.clear();
  };
  for (std::size_t i = 0; i < curve.values.size(); ++i) {
    if (std::isnan(curve.values[i]))
      finish();
    else
      points.push_back({plot.left + static_cast<double>(i) / last * plot.width(),
                        height_of(plot, range, curve.values[i])});
  }
  finish();
}

/// Which curve is which, on one line; what does not fit is left out.
void draw_key(Drawing& drawing, const Box& plot, double baseline, const std::vector<Curve>& curves) {
  double x = plot.left;
  for (std::size_t n = 0; n < curves.size(); ++n) {
    const std::string name = shortened(curves[n].panel->name, text_size::small, 280.0);
    const double next = x + 32.0 + text_width(name, text_size::small) + 24.0;
    if (next - 24.0 > plot.right) return;
    const double y = baseline - 0.35 * text_size::small;
    line(drawing.picture, {x + 1.0, y}, {x + 24.0, y}, curve_widths[n % curve_widths.size()],
         curve_inks[n % curve_inks.size()]);
    letter(drawing, {x + 32.0, baseline}, Align::left, name, text_size::small, ink::quiet_text);
    x = next;
  }
}

int plots_beside(const WallSheet& sheet, double width) {
  return sheet.lines.size() > 1 && width >= wide_enough_for_two ? 2 : 1;
}

}  // namespace

Legend legend_of(const WallSheet& sheet, const SheetScales& scales, double width) {
  Legend legend;
  const auto add = [&](int threshold, int sign, const std::string& words) {
    legend.rows.push_back(
        {threshold, sign, wrapped(words, text_size::small, width - sign_width - sign_gap, 3)});
  };
  for (std::size_t n = 0; n < sheet.thresholds.size(); ++n)
    add(static_cast<int>(n), -1, threshold_words(sheet, sheet.thresholds[n], scales.temperatures));
  bool beyond = false, no_wall = false, differs = false;
  for (const WallPanel& panel : sheet.panels) {
    beyond = beyond || clipped(panel.map, scales.of(panel)).any();
    no_wall = no_wall || std::any_of(panel.map.celsius.begin(), panel.map.celsius.end(),
                                     [](double value) { return std::isnan(value); });
    differs = differs || panel.is_difference;
  }
  if (beyond) add(-1, static_cast<int>(Sign::beyond), "beyond the scale: colder, warmer");
  if (differs) add(-1, static_cast<int>(Sign::colder), "of a difference: colder, warmer");
  if (!sheet.framing.empty()) add(-1, static_cast<int>(Sign::framing), "framing");
  if (no_wall) add(-1, static_cast<int>(Sign::no_wall), "no wall is seen here");
  return legend;
}

double legend_height(const Legend& legend) {
  double height = legend.rows.empty() ? 0.0 : 10.0;
  for (const Legend::Row& row : legend.rows)
    height += line_height(text_size::small) * static_cast<double>(row.lines.size()) + reading_gap;
  return height;
}

void draw_legend(Drawing& drawing, Spot at, const Legend& legend) {
  double baseline = at.y + text_size::small;
  for (const Legend::Row& row : legend.rows) {
    const double top = std::round(baseline - 0.36 * text_size::small - 0.5 * sign_height);
    const Box box{at.x, top, at.x + sign_width, top + sign_height};
    if (row.threshold >= 0)
      draw_threshold_sign(drawing.picture, box, static_cast<std::size_t>(row.threshold));
    else
      draw_sign(drawing.picture, box, static_cast<Sign>(row.sign));
    baseline =
        letter_lines(drawing, {box.right + sign_gap, baseline}, row.lines, text_size::small) + reading_gap;
  }
}

double spots_height(const WallSheet& sheet) {
  return sheet.spots.empty() ? 0.0 : table_row * static_cast<double>(sheet.spots.size() + 1) + 14.0;
}

void draw_spots(Drawing& drawing, const Box& box, const WallSheet& sheet, const SheetScales& scales) {
  if (sheet.spots.empty()) return;
  const auto n_panels = static_cast<double>(sheet.panels.size());
  double names = least_name_column;
  for (const SpotReading& spot : sheet.spots)
    names = std::max(names, text_width(spot.name, text_size::small) + 20.0);
  names = std::min(names, widest_name_column);
  double column = value_column;
  for (const WallPanel& panel : sheet.panels)
    column = std::max(column, std::min(260.0, text_width(panel.name, text_size::small) + 24.0));
  // Where it gets narrow, the headings give way to the numbers and the names of the spots to both.
  column = std::max(least_value_column,
                    std::min(column, (box.width() - number_column - least_name_column) / n_panels));
  names = std::max(60.0, std::min(names, box.width() - number_column - n_panels * column));
  const double right = box.left + number_column + names + n_panels * column;
  double baseline = box.top + text_size::small;
  for (std::size_t p = 0; p < sheet.panels.size(); ++p)
    letter(drawing, {box.left + number_column + names + column * static_cast<double>(p + 1), baseline},
           Align::right, shortened(sheet.panels[p].name, text_size::small, column - 16.0), text_size::small,
           ink::quiet_text);
  for (std::size_t i = 0; i < sheet.spots.size(); ++i) {
    const double line_at = std::round(baseline + 8.0);
    fill(drawing.picture, {box.left, line_at, right, line_at + 1.0}, ink::grid);
    baseline += table_row;
    letter(drawing, {box.left, baseline}, Align::left, fmt::format("{}", i + 1), text_size::small);
    letter(drawing, {box.left + number_column, baseline}, Align::left,
           shortened(sheet.spots[i].name, text_size::small, names - 16.0), text_size::small);
    for (std::size_t p = 0; p < sheet.panels.size(); ++p) {
      const WallPanel& panel = sheet.panels[p];
      const double value = value_at(panel.map, sheet.spots[i].at.across, sheet.spots[i].at.up);
      letter(drawing, {box.left + number_column + names + column * static_cast<double>(p + 1), baseline},
             Align::right, std::isnan(value) ? "not seen" : scales.of(panel).text(value, 1),
             text_size::small);
    }
  }
}

double lines_height(const WallSheet& sheet, double width) {
  const auto beside = static_cast<double>(plots_beside(sheet, width));
  return std::ceil(static_cast<double>(sheet.lines.size()) / beside) *
         (plot_above + plot_height + plot_below + 12.0);
}

void draw_lines(Drawing& drawing, const Box& box, const WallSheet& sheet, const PictureStyle& style) {
  const int beside = plots_beside(sheet, box.width());
  const double each =
      std::min((box.width() - plot_gap * (beside - 1)) / beside, plot_left + widest_plot + plot_right);
  for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
    const LineReading& reading = sheet.lines[i];
    const std::size_t row_of = i / static_cast<std::size_t>(beside);
    const double column = static_cast<double>(i % static_cast<std::size_t>(beside)),
                 row = static_cast<double>(row_of);
    const double left = std::round(box.left + column * (each + plot_gap));
    const double top = std::round(box.top + row * (plot_above + plot_height + plot_below + 12.0));
    const Box plot{left + plot_left, top + plot_above, std::round(left + each - plot_right),
                   top + plot_above + plot_height};
    const double length =
        std::max(1e-6, std::hypot(reading.to.across - reading.from.across, reading.to.up - reading.from.up));
    const std::vector<Curve> curves =
        curves_of(sheet, reading, static_cast<std::size_t>(std::max(2.0, 2.0 * plot.width())));
    const Extent range = plot_range(curves);
    letter(drawing, {plot.left, top + text_size::body}, Align::left,
           shortened(fmt::format("line {}: {}", i + 1, reading.name), text_size::body, plot.width()),
           text_size::body);
    draw_key(drawing, plot, plot.top - 12.0, curves);
    draw_plot_axes(drawing, plot, range, length, style);
    frame(drawing.picture, plot, 1.0, ink::outline);
    for (std::size_t n = curves.size(); n-- > 0;) draw_curve(drawing.picture, plot, range, curves[n], n);
  }
}

}  // namespace coldbay
