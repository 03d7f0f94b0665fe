#include "tools/report/colour_scale.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>

#include "tools/report/labels.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

constexpr std::size_t ramp_size = 2049;  // finer than 8-bit steps of any channel; odd, for a middle
constexpr double label_gap = 10.0;       // between neighbouring tick labels

/// Multiples of `step` from `from` to `to`, both included where rounding leaves doubt.
Ticks multiples(double from, double to, double step, int decimals) {
  Ticks ticks{{}, step, decimals};
  constexpr double doubt = 1e-9;
  const double first = std::ceil(from / step - doubt);
  const double last = std::floor(to / step + doubt);
  for (double n = first; n <= last; n += 1.0) ticks.values.push_back(n * step);
  return ticks;
}

/// 1, 2 or 5 times ten to a power. Negative powers divide, so that 0.2 is the double nearest to 0.2.
double round_step(int factor, int power) {
  const double ten = std::pow(10.0, std::abs(power));
  return power < 0 ? factor / ten : factor * ten;
}

double next_inch_step(double inches) { return inches == 16.0 ? 48.0 : 2.0 * inches; }

constexpr double smallest_inch_step = 1.0 / 64.0;

int decimals_of_inches(double step) {
  int decimals = 0;
  for (double s = step; s != std::floor(s) && decimals < 6; s *= 10.0) ++decimals;
  return decimals;
}

/// How far a count lies outside what is wanted. A step too few leaves more to guess than one too many.
int excess(int count, int fewest, int most) {
  return count < fewest ? 2 * (fewest - count) : count > most ? count - most : 0;
}

}  // namespace

Ticks round_ticks(double from, double to, int fewest, int most) {
  const double span = to - from;
  const int around = static_cast<int>(std::floor(std::log10(span)));
  Ticks best;
  int least_excess = std::numeric_limits<int>::max();
  // From coarse to fine, so that of two that are equally near the calmer one wins.
  for (int power = around + 1; power >= around - 2; --power)
    for (const int factor : {5, 2, 1}) {
      const double step = round_step(factor, power);
      if (span / step > 50.0) return best;
      Ticks ticks = multiples(from, to, step, std::max(0, -power));
      const int off = excess(static_cast<int>(ticks.values.size()), fewest, most);
      if (off >= least_excess) continue;
      least_excess = off;
      best = std::move(ticks);
    }
  return best;
}

Ticks length_ticks(double metres, LengthUnit unit, int most) {
  return length_ticks(Span{0.0, metres}, unit, most);
}

Ticks length_ticks(const Span& stretch, LengthUnit unit, int most) {
  const double from = in_length_unit(stretch.from, unit), to = in_length_unit(stretch.to, unit);
  if (unit == LengthUnit::millimetre) return round_ticks(from, to, std::max(2, most / 2), most);
  double step = smallest_inch_step;
  while ((to - from) / step + 1.0 > most) step = next_inch_step(step);
  return multiples(from, to, step, decimals_of_inches(step));
}

double round_length(double metres, LengthUnit unit) {
  const double length = in_length_unit(metres, unit);
  double best = 0.0;
  if (unit == LengthUnit::millimetre) {
    const int power = static_cast<int>(std::floor(std::log10(length)));
    best = round_step(1, power);
    for (const int factor : {2, 5})
      if (round_step(factor, power) <= length) best = round_step(factor, power);
  } else {
    best = smallest_inch_step;
    while (next_inch_step(best) <= length) best = next_inch_step(best);
  }
  return best * metres_per(unit);
}

ColourScale::ColourScale(const TemperatureScale& scale, const PictureStyle& style)
    : ColourScale(std::min(scale.coldest, scale.warmest), std::max(scale.coldest, scale.warmest), scale.stamp,
                  style, false) {}

ColourScale ColourScale::of_differences(double end, std::string stamp, const PictureStyle& style) {
  return {-std::abs(end), std::abs(end), std::move(stamp), style, true};
}

ColourScale::ColourScale(double coldest, double warmest, std::string stamp, const PictureStyle& style,
                         bool differences)
    : coldest_(coldest),
      warmest_(warmest),
      differences_(differences),
      stamp_(std::move(stamp)),
      style_(style),
      ramp_(differences ? plumb_ramp(ramp_size) : colour_ramp(style.palette, ramp_size)) {
  constexpr double no_extent = 1e-3;  // [K], below any camera and any printed digit
  if (warmest_ - coldest_ < no_extent) {
    const double middle = 0.5 * (coldest_ + warmest_);
    coldest_ = middle - 0.5;
    warmest_ = middle + 0.5;
  }
  const double zero = differences || style.temperature == TemperatureUnit::celsius ? 0.0 : 32.0;
  const double per_kelvin = style.temperature == TemperatureUnit::fahrenheit ? 1.8 : 1.0;
  ticks_ = round_ticks(zero + per_kelvin * coldest_, zero + per_kelvin * warmest_, 5, 8);
  for (const double value : ticks_.values) levels_.push_back((value - zero) / per_kelvin);
}

std::string_view ColourScale::unit() const {
  return differences_ && style_.temperature == TemperatureUnit::celsius ? "K" : symbol(style_.temperature);
}

std::string ColourScale::number(double value, int decimals) const {
  if (!differences_) return fixed_number(degrees(value, style_.temperature), decimals);
  std::string text =
      fixed_number(style_.temperature == TemperatureUnit::fahrenheit ? 1.8 * value : value, decimals);
  const bool positive = text.find_first_of("123456789") != std::string::npos && !text.starts_with("−");
  return positive ? "+" + text : text;
}

std::string ColourScale::text(double value, int decimals) const {
  return fmt::format("{} {}", number(value, decimals), unit());
}

Rgb ColourScale::colour(double celsius) const {
  const double t = std::clamp(place(celsius), 0.0, 1.0);
  return ramp_[static_cast<std::size_t>(std::lround(t * (ramp_size - 1)))];
}

int ColourScale::beyond(double celsius) const {
  const double t = place(celsius);
  constexpr double invisible = 0.5 / 255.0;
  return t < -invisible ? -1 : t > 1.0 + invisible ? 1 : 0;
}

std::string ColourScale::words() const {
  // Two decimals only where one would hide the extent of a narrow scale.
  const int decimals = std::max(1, ticks_.decimals);
  const std::string range =
      fmt::format("{} to {} {}", number(coldest_, decimals), number(warmest_, decimals), unit());
  return stamp_.empty() ? range : fmt::format("{}, {}", range, stamp_);
}

void draw_bar_across(Picture& picture, const ColourScale& scale, const Box& bar) {
  for (int x = static_cast<int>(bar.left); x < static_cast<int>(bar.right); ++x) {
    const double t = (x + 0.5 - bar.left) / bar.width();
    fill(picture, {static_cast<double>(x), bar.top, x + 1.0, bar.bottom},
         scale.colour(scale.coldest() + t * scale.span()));
  }
  frame(picture, bar, 1.0, ink::outline);
  const Ticks& ticks = scale.ticks();
  const double baseline = bar.bottom + 8.0 + text_size::small;
  double taken = -1e9;
  for (std::size_t i = 0; i < ticks.values.size(); ++i) {
    const double x = std::round(bar.left + scale.place(scale.levels()[i]) * bar.width() - 0.5) + 0.5;
    fill(picture, {x - 0.5, bar.bottom, x + 0.5, bar.bottom + 7.0}, ink::outline);
    const std::string number = scale.number(scale.levels()[i], ticks.decimals);
    const std::string label =
        i + 1 == ticks.values.size() ? fmt::format("{} {}", number, scale.unit()) : number;
    const double left = x - 0.5 * text_width(number, text_size::small);
    if (left < taken + label_gap) continue;
    draw_text(picture, {left, baseline}, Align::left, label, text_size::small);
    taken = left + text_width(label, text_size::small);
  }
}

void draw_bar_upright(Picture& picture, const ColourScale& scale, const Box& bar) {
  for (int y = static_cast<int>(bar.top); y < static_cast<int>(bar.bottom); ++y) {
    const double t = (bar.bottom - y - 0.5) / bar.height();
    fill(picture, {bar.left, static_cast<double>(y), bar.right, y + 1.0},
         scale.colour(scale.coldest() + t * scale.span()));
  }
  frame(picture, bar, 1.0, ink::outline);
  const Ticks& ticks = scale.ticks();
  double taken = 1e9;
  for (std::size_t i = 0; i < ticks.values.size(); ++i) {
    const double y = std::round(bar.bottom - scale.place(scale.levels()[i]) * bar.height() - 0.5) + 0.5;
    fill(picture, {bar.right, y - 0.5, bar.right + 7.0, y + 0.5}, ink::outline);
    if (y + text_size::small > taken) continue;
    std::string label = scale.number(scale.levels()[i], ticks.decimals);
    if (i + 1 == ticks.values.size()) label += fmt::format(" {}", scale.unit());
    draw_text(picture, {bar.right + 12.0, y + 0.36 * text_size::small}, Align::left, label, text_size::small);
    taken = y;
  }
}

}  // namespace coldbay
