#include "tools/report/face_curve.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <vector>

#include "tools/report/colour_scale.hpp"
#include "tools/report/labels.hpp"
#include "tools/report/lettering.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

constexpr Rgb curve_ink{40, 62, 112};
constexpr Rgb dew_ink{120, 74, 84};
constexpr Rgb right_ink{148, 140, 124};

/// Which temperatures the axis runs between [degC].
struct Range {
  double low = 0.0;
  double high = 1.0;
};

/// The curve with room to breathe, at least a kelvin so that rounding does not look like weather, and
/// the dew point where it lies within 3 K.
Range axis_range(const FaceCurve& curve, std::optional<double> dew_point) {
  const SurfaceProfile& profile = *curve.profile;
  if (profile.celsius.empty()) return {};
  const auto [low, high] = std::minmax_element(profile.celsius.begin(), profile.celsius.end());
  Range range{*low, *high};
  if (curve.right)
    for (const double celsius : curve.right->celsius) {
      range.low = std::min(range.low, celsius);
      range.high = std::max(range.high, celsius);
    }
  constexpr double near = 3.0;  // [K]
  if (dew_point && *dew_point >= range.low - near && *dew_point <= range.high + near) {
    range.low = std::min(range.low, *dew_point);
    range.high = std::max(range.high, *dew_point);
  }
  constexpr double least = 1.0;  // [K]
  const double missing = std::max(0.0, least - (range.high - range.low));
  // The label of the coldest place stands below it, hence more room there.
  const double span = range.high - range.low + missing;
  return {range.low - 0.5 * missing - 0.16 * span, range.high + 0.5 * missing + 0.08 * span};
}

double height_of(double celsius, const Range& range, const Box& plot) {
  return plot.bottom - (celsius - range.low) / (range.high - range.low) * plot.height();
}

void draw_temperature_axis(Picture& picture, const Box& plot, const Range& range, TemperatureUnit unit) {
  const Ticks ticks = round_ticks(degrees(range.low, unit), degrees(range.high, unit), 5, 8);
  for (const double value : ticks.values) {
    const double celsius = unit == TemperatureUnit::fahrenheit ? (value - 32.0) / 1.8 : value;
    const double y = std::round(height_of(celsius, range, plot) - 0.5) + 0.5;
    fill(picture, {plot.left, y - 0.5, plot.right, y + 0.5}, ink::grid);
    const bool last = value == ticks.values.back();
    const std::string label =
        fixed_number(value, ticks.decimals) + (last ? fmt::format(" {}", symbol(unit)) : "");
    draw_text(picture, {plot.left - 10.0, y + 0.36 * text_size::small}, Align::right, label,
              text_size::small);
  }
}

void draw_length_axis(Picture& picture, const Box& plot, double width, LengthUnit unit) {
  const Ticks ticks = length_ticks(width, unit, 12);
  const double baseline = plot.bottom + 12.0 + text_size::small;
  for (const double value : ticks.values) {
    const double x = std::round(plot.left + value * metres_per(unit) / width * plot.width() - 0.5) + 0.5;
    if (x > plot.left + 1.0 && x < plot.right - 1.0)
      fill(picture, {x - 0.5, plot.top, x + 0.5, plot.bottom}, ink::grid);
    fill(picture, {x - 0.5, plot.bottom, x + 0.5, plot.bottom + 7.0}, ink::outline);
    const std::string number = fixed_number(value, ticks.decimals);
    const bool last = value == ticks.values.back();
    const double left = x - 0.5 * text_width(number, text_size::small);
    draw_text(picture, {left, baseline}, Align::left,
              last ? fmt::format("{} {}", number, symbol(unit)) : number, text_size::small);
  }
}

Box label_box(Spot at, const std::string& text) {
  return {at.x - 5.0, at.y - text_size::small - 2.0, at.x + text_width(text, text_size::small) + 5.0,
          at.y + 6.0};
}

void draw_label(Picture& picture, Spot at, const std::string& text, Rgb colour) {
  fill(picture, label_box(at, text), ink::paper, 0.88);
  draw_text(picture, at, Align::left, text, text_size::small, colour);
}

/// What is written below the curve, and where the place it speaks of is.
struct ColdestWords {
  std::string text;
  Spot at;
  bool is_one_place = true;
};

ColdestWords coldest_words(const Box& plot, const FaceCurve& curve, const Range& range,
                           const PictureStyle& style) {
  const SurfaceProfile& profile = *curve.profile;
  const auto [low, high] = std::minmax_element(profile.celsius.begin(), profile.celsius.end());
  constexpr double no_difference = 1e-3;  // [K]
  if (*high - *low < no_difference)
    return {fmt::format("{} throughout", temperature_text(*low, style.temperature, 1)),
            {0.5 * (plot.left + plot.right), height_of(*low, range, plot)},
            false};
  const std::size_t i = style.mark_warmest ? warmest_place(profile) : coldest_place(profile);
  return {fmt::format("{} {} at {}{}", style.mark_warmest ? "warmest" : "coldest",
                      temperature_text(profile.celsius[i], style.temperature, 1),
                      length_text(profile.across[i], style.length), curve.upright ? " above the floor" : ""),
          {plot.left + profile.across[i] / curve.width * plot.width(),
           height_of(profile.celsius[i], range, plot)},
          true};
}

/// True where the curve runs through a box.
bool crosses(const FaceCurve& curve, const Range& range, const Box& plot, const Box& box) {
  for (double x = box.left; x <= box.right; x += 2.0) {
    const double y =
        height_of(temperature_of(curve, (x - plot.left) / plot.width() * curve.width), range, plot);
    if (y >= box.top && y <= box.bottom) return true;
  }
  return false;
}

/// The ring and the words for the coldest place; returns the box of the words.
Box draw_coldest(Picture& picture, const Box& plot, const FaceCurve& curve, const Range& range,
                 const PictureStyle& style) {
  const auto [text, at, is_one_place] = coldest_words(plot, curve, range, style);
  const double width = text_width(text, text_size::small);
  // Below the place where that is free of the curve, or beside it.
  Spot label{};
  for (const double shift : {0.5, 0.02, 0.98, 0.5}) {
    label = {std::clamp(at.x - shift * width, plot.left + 8.0, plot.right - width - 8.0),
             std::min(at.y + 12.0 + text_size::small, plot.bottom - 8.0)};
    if (!crosses(curve, range, plot, label_box(label, text))) break;
  }
  draw_label(picture, label, text, ink::text);
  if (is_one_place) {
    disc(picture, at, 5.0, ink::white);
    ring(picture, at, 5.0, 2.0, curve_ink);
  }
  return label_box(label, text);
}

/// The dashed line, and its label where it covers neither the curve nor the words for the coldest
/// place: tried from the left, below the line before above it.
void draw_dew_point(Picture& picture, const Box& plot, const FaceCurve& curve, double dew_point,
                    const Range& range, const Box& taken, const PictureStyle& style) {
  const double y = height_of(dew_point, range, plot);
  dashed_level(picture, plot.left, plot.right, y, 1.6, dew_ink);
  const std::string text = fmt::format("dew point {}", temperature_text(dew_point, style.temperature, 1));
  const double below = y + 8.0 + text_size::small;
  const double above = y - 9.0;
  Spot best{plot.left + 12.0, below + 8.0 > plot.bottom ? above : below};
  const double last = plot.right - text_width(text, text_size::small) - 12.0;
  const auto is_free = [&](Spot at) {
    const Box box = label_box(at, text);
    return box.top >= plot.top && box.bottom <= plot.bottom && !overlap(box, taken) &&
           !crosses(curve, range, plot, box);
  };
  bool placed = false;
  for (double x = plot.left + 12.0; x <= last && !placed; x += 20.0)
    for (const double baseline : {below, above})
      if (!placed && is_free({x, baseline})) {
        best = {x, baseline};
        placed = true;
      }
  draw_label(picture, best, text, dew_ink);
}

}  // namespace

double temperature_of(const FaceCurve& curve, double across) {
  assert(!curve.profile->across.empty());
  const std::vector<double>& x = curve.profile->across;
  const std::vector<double>& T = curve.profile->celsius;
  const auto above = std::upper_bound(x.begin(), x.end(), across);
  if (above == x.begin()) return T.front();
  if (above == x.end()) return T.back();
  const auto i = static_cast<std::size_t>(above - x.begin());
  return T[i - 1] + (across - x[i - 1]) / (x[i] - x[i - 1]) * (T[i] - T[i - 1]);
}

void draw_curve(Picture& picture, const Box& plot, const FaceCurve& curve, std::optional<double> dew_point,
                const PictureStyle& style) {
  const Range range = axis_range(curve, dew_point);
  draw_temperature_axis(picture, plot, range, style.temperature);
  draw_length_axis(picture, plot, curve.width, style.length);
  frame(picture, plot, 1.0, ink::outline);

  const auto draw = [&](const FaceCurve& one, double width, Rgb colour) {
    std::vector<Spot> points;
    const auto add = [&](double across) {
      points.push_back({plot.left + across / one.width * plot.width(),
                        height_of(temperature_of(one, across), range, plot)});
    };
    add(0.0);
    for (const double across : one.profile->across) add(across);
    add(one.width);
    polyline(picture, points, width, colour);
  };
  if (curve.right) draw({curve.width, curve.right}, 1.6, right_ink);
  draw(curve, 2.4, curve_ink);

  const Box taken = draw_coldest(picture, plot, curve, range, style);
  if (dew_point && *dew_point >= range.low && *dew_point <= range.high)
    draw_dew_point(picture, plot, curve, *dew_point, range, taken, style);
}

}  // namespace coldbay
