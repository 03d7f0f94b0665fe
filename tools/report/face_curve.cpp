#include "tools/report/face_curve.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <array>
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
constexpr Rgb still_ink{58, 112, 98};

/// Which temperatures the axis runs between [degC].
struct Range {
  double low = 0.0;
  double high = 1.0;
};

/// The curve with room to breathe, at least a kelvin so that rounding does not look like weather, and
/// the dew point where it lies within 3 K.
Range axis_range(const FaceCurve& curve, std::optional<double> dew_point, bool mark_warmest) {
  const SurfaceProfile& profile = *curve.profile;
  if (profile.celsius.empty()) return {};
  const auto [low, high] = std::minmax_element(profile.celsius.begin(), profile.celsius.end());
  Range range{*low, *high};
  for (const SurfaceProfile* beside : {curve.right, curve.still}) {
    if (!beside) continue;
    for (const double celsius : beside->celsius) {
      range.low = std::min(range.low, celsius);
      range.high = std::max(range.high, celsius);
    }
  }
  constexpr double near = 3.0;  // [K]
  if (dew_point && *dew_point >= range.low - near && *dew_point <= range.high + near) {
    range.low = std::min(range.low, *dew_point);
    range.high = std::max(range.high, *dew_point);
  }
  constexpr double least = 1.0;  // [K]
  const double missing = std::max(0.0, least - (range.high - range.low));
  // The label of the coldest place stands below it, that of the warmest above it, hence more room there.
  const double span = range.high - range.low + missing;
  const double below = mark_warmest ? 0.08 : 0.16, above = mark_warmest ? 0.16 : 0.08;
  return {range.low - 0.5 * missing - below * span, range.high + 0.5 * missing + above * span};
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

/// What is written beside the curve, and where the place it speaks of is.
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

/// True where one of the curves runs through a box.
bool crosses(const FaceCurve& curve, const Range& range, const Box& plot, const Box& box) {
  for (const SurfaceProfile* one : {curve.profile, curve.right, curve.still}) {
    if (!one) continue;
    for (double x = box.left; x <= box.right; x += 2.0) {
      const double y = height_of(celsius_at(*one, (x - plot.left) / plot.width() * curve.width), range, plot);
      if (y >= box.top && y <= box.bottom) return true;
    }
  }
  return false;
}

/// A place for words where they cover neither a curve nor what is written: the first of the two heights, from
/// the left, that is free; empty where none is. `heights_at` gives the baselines to try at x.
template <class Heights>
std::optional<Spot> free_spot(const Box& plot, const FaceCurve& curve, const Range& range,
                              const std::vector<Box>& taken, const std::string& text, Heights heights_at) {
  const double last = plot.right - text_width(text, text_size::small) - 12.0;
  for (double x = plot.left + 12.0; x <= last; x += 20.0)
    for (const double baseline : heights_at(x)) {
      const Box box = label_box({x, baseline}, text);
      if (box.top >= plot.top && box.bottom <= plot.bottom &&
          std::none_of(taken.begin(), taken.end(), [&](const Box& b) { return overlap(b, box); }) &&
          !crosses(curve, range, plot, box))
        return Spot{x, baseline};
    }
  return std::nullopt;
}

/// The ring and the words for the coldest place; returns the box of the words.
Box draw_coldest(Picture& picture, const Box& plot, const FaceCurve& curve, const Range& range,
                 const PictureStyle& style) {
  const auto [text, at, is_one_place] = coldest_words(plot, curve, range, style);
  const double width = text_width(text, text_size::small);
  // Below the place, that of the warmest above it, where that is free of the curve, or beside it.
  const double baseline = style.mark_warmest ? std::max(at.y - 14.0, plot.top + text_size::small + 8.0)
                                             : std::min(at.y + 12.0 + text_size::small, plot.bottom - 8.0);
  Spot label{};
  for (const double shift : {0.5, 0.02, 0.98, 0.5}) {
    label = {std::clamp(at.x - shift * width, plot.left + 8.0, plot.right - width - 8.0), baseline};
    if (!crosses(curve, range, plot, label_box(label, text))) break;
  }
  draw_label(picture, label, text, ink::text);
  if (is_one_place) {
    disc(picture, at, 5.0, ink::white);
    ring(picture, at, 5.0, 2.0, curve_ink);
  }
  return label_box(label, text);
}

/// The dashed line, and its label: tried from the left, below the line before above it.
void draw_dew_point(Picture& picture, const Box& plot, const FaceCurve& curve, double dew_point,
                    const Range& range, const std::vector<Box>& taken, const PictureStyle& style) {
  const double y = height_of(dew_point, range, plot);
  dashed_level(picture, plot.left, plot.right, y, 1.6, dew_ink);
  const std::string text = fmt::format("dew point {}", temperature_text(dew_point, style.temperature, 1));
  const double below = y + 8.0 + text_size::small;
  const double above = y - 9.0;
  const Spot anyhow{plot.left + 12.0, below + 8.0 > plot.bottom ? above : below};
  const auto best = free_spot(plot, curve, range, taken, text, [&](double) {
    return std::array{below, above};
  });
  draw_label(picture, best.value_or(anyhow), text, dew_ink);
}

/// A line through all points in dashes.
void dashed(Picture& picture, const std::vector<Spot>& points, double thickness, Rgb colour) {
  constexpr double dash = 10.0, pause = 7.0;
  std::vector<Spot> now;
  double done = 0.0;  // of the dash or the pause
  bool drawing = true;
  for (std::size_t i = 1; i < points.size(); ++i) {
    Spot from = points[i - 1];
    const Spot to = points[i];
    if (drawing && now.empty()) now.push_back(from);
    for (double left = std::hypot(to.x - from.x, to.y - from.y); left > 0.0;) {
      const double step = std::min(left, (drawing ? dash : pause) - done);
      from = {from.x + step / left * (to.x - from.x), from.y + step / left * (to.y - from.y)};
      left -= step;
      done += step;
      if (drawing) now.push_back(from);
      if (done < (drawing ? dash : pause)) continue;
      if (drawing) polyline(picture, now, thickness, colour);
      drawing = !drawing;
      done = 0.0;
      now.clear();
      if (drawing) now.push_back(from);
    }
  }
  if (drawing && now.size() > 1) polyline(picture, now, thickness, colour);
}

/// What the dashed curve is, close to it; below the other it stands below, above it above.
Box label_still(Picture& picture, const Box& plot, const FaceCurve& curve, const Range& range,
                const std::vector<Box>& taken) {
  const std::string text = "air standing still";
  const double width = text_width(text, text_size::small);
  const auto best = free_spot(plot, curve, range, taken, text, [&](double x) {
    double top = plot.bottom, bottom = plot.top;  // of the dashed curve, over the width of the words
    for (double along = x; along <= x + width; along += 4.0) {
      const double y =
          height_of(celsius_at(*curve.still, (along - plot.left) / plot.width() * curve.width), range, plot);
      top = std::min(top, y);
      bottom = std::max(bottom, y);
    }
    return std::array{top - 9.0, bottom + 6.0 + text_size::small};
  });
  if (!best) return {};  // the words above the strip say it, too
  draw_label(picture, *best, text, still_ink);
  return label_box(*best, text);
}

}  // namespace

void draw_curve(Picture& picture, const Box& plot, const FaceCurve& curve, std::optional<double> dew_point,
                const PictureStyle& style) {
  const Range range = axis_range(curve, dew_point, style.mark_warmest);
  draw_temperature_axis(picture, plot, range, style.temperature);
  draw_length_axis(picture, plot, curve.width, style.length);
  frame(picture, plot, 1.0, ink::outline);

  const auto points = [&](const SurfaceProfile& profile) {
    std::vector<Spot> spots;
    spots.reserve(profile.across.size() + 2);
    const auto add = [&](double across) {
      spots.push_back({plot.left + across / curve.width * plot.width(),
                       height_of(celsius_at(profile, across), range, plot)});
    };
    add(0.0);
    for (const double across : profile.across) add(across);
    add(curve.width);
    return spots;
  };
  if (curve.right) polyline(picture, points(*curve.right), 1.6, right_ink);
  if (curve.still) dashed(picture, points(*curve.still), 1.6, still_ink);
  polyline(picture, points(*curve.profile), 2.4, curve_ink);

  std::vector<Box> taken{draw_coldest(picture, plot, curve, range, style)};
  if (curve.still) taken.push_back(label_still(picture, plot, curve, range, taken));
  if (dew_point && *dew_point >= range.low && *dew_point <= range.high)
    draw_dew_point(picture, plot, curve, *dew_point, range, taken, style);
}

}  // namespace coldbay
