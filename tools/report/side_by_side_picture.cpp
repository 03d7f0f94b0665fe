#include "tools/report/side_by_side_picture.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "tools/report/colour_scale.hpp"
#include "tools/report/labels.hpp"
#include "tools/report/section_sheet.hpp"

namespace coldbay {
namespace {

constexpr double widest_strip = 1500.0, strips_height = 84.0, scale_height = 26.0;
constexpr double words_height = 40.0, between = 24.0, below_heading = 12.0;
constexpr Rgb mark_ink{40, 62, 112};

/// From the coldest of all faces to the warmest room or face, rounded outward to half a kelvin or a degree.
TemperatureScale shared(const SideBySide& all, TemperatureUnit unit) {
  double coldest = all.cases.front().inside, warmest = coldest;
  for (const SideCase& c : all.cases) {
    const auto& celsius = c.sections[c.leading].face.celsius;
    const auto [low, high] = std::minmax_element(celsius.begin(), celsius.end());
    coldest = std::min({coldest, c.inside, *low});
    warmest = std::max({warmest, c.inside, *high});
  }
  const bool metric = unit == TemperatureUnit::celsius;
  const double step = metric ? 0.5 : 5.0 / 9.0, zero = metric ? 0.0 : -160.0 / 9.0, rounding = 1e-9;
  return {zero + step * std::floor((coldest - zero) / step + rounding),
          zero + step * std::ceil((warmest - zero) / step - rounding),
          fmt::format("one scale for the {} cases", all.cases.size())};
}

std::string strip_words(const SideBySide& all, std::size_t i, const PictureStyle& style) {
  const SideCase& c = all.cases[i];
  const SideSection& s = c.sections[c.leading];
  std::string words = fmt::format("{}. {}", all.ranks[i], c.name);
  if (!s.name.empty()) words += ", " + s.name;
  if (c.sections.size() > 1) words += fmt::format(" (1 of {} sections)", c.sections.size());
  words += fmt::format(": coldest {}", temperature_text(s.coldest.value, style.temperature, 1));
  if (s.factor) words += fmt::format(", temperature factor {}", fixed_number(s.factor->value, 3));
  if (!all.same_airs)
    words += fmt::format(", airs {} and {}", temperature_text(c.inside, style.temperature, 1),
                         temperature_text(c.outside, style.temperature, 1));
  return words;
}

/// The face drawn out upwards, and a tick above and below at its coldest place.
void draw_strip(Picture& picture, const Box& strip, const SideSection& s, const ColourScale& scale) {
  for (double x = strip.left; x < strip.right; x += 1.0) {
    const double celsius = celsius_at(s.face, (x + 0.5 - strip.left) / strip.width() * s.width);
    fill(picture, {x, strip.top, std::min(x + 1.0, strip.right), strip.bottom}, scale.colour(celsius));
  }
  frame(picture, strip, 1.0, ink::outline);
  const double at = strip.left + s.face.across[coldest_place(s.face)] / s.width * strip.width();
  for (const double y : {strip.top - 9.0, strip.bottom + 1.0})
    fill(picture, {at - 1.5, y, at + 1.5, y + 8.0}, mark_ink);
}

}  // namespace

WallDrawing side_by_side_picture(const SideBySide& all, const PictureStyle& style) {
  const ColourScale scale(shared(all, style.temperature), style);
  double widest = 0.0;
  for (const SideCase& c : all.cases) widest = std::max(widest, c.sections[c.leading].width);
  const double pixels = widest_strip / widest;  // per metre
  const double heading = heading_height(style) + line_height(text_size::body) + below_heading;
  const double rows = static_cast<double>(all.cases.size()) * (words_height + strips_height + between);
  const double height =
      2.0 * sheet_margin + heading + rows + scale_height + bar_below + line_height(text_size::small);
  const double right = sheet_margin + widest_strip;
  Drawing drawing{blank_picture(static_cast<int>(right + sheet_margin), static_cast<int>(std::ceil(height))),
                  {}};
  std::vector<Box> strips;
  strips.reserve(all.cases.size());
  draw_heading(drawing.picture, sheet_margin, right, style);
  double y = sheet_margin + heading - below_heading - 4.0;
  letter(
      drawing, {sheet_margin, y}, Align::left,
      shortened(fmt::format("room faces drawn out upward or, of vertical cuts, sideways; one length scale, "
                            "the longest {}; ticks: coldest place{}",
                            length_text(widest, style.length),
                            all.same_airs ? "" : "; the airs differ, and with them the temperatures"),
                text_size::small, widest_strip),
      text_size::small, ink::quiet_text);
  y += below_heading;
  for (std::size_t i = 0; i < all.cases.size(); ++i) {
    const SideSection& s = all.cases[i].sections[all.cases[i].leading];
    y += words_height;
    letter(drawing, {sheet_margin, y - 17.0}, Align::left,
           shortened(strip_words(all, i, style), text_size::body, widest_strip), text_size::body);
    strips.push_back({sheet_margin, y, sheet_margin + std::round(s.width * pixels), y + strips_height});
    draw_strip(drawing.picture, strips.back(), s, scale);
    y += strips_height + between;
  }
  const double bar_width = 0.5 * widest_strip;
  draw_bar_across(drawing.picture, scale, {sheet_margin, y, sheet_margin + bar_width, y + scale_height});
  letter(drawing, {sheet_margin + bar_width + 60.0, y + 0.75 * scale_height}, Align::left,
         shortened(scale.words(), text_size::small, widest_strip - bar_width - 60.0), text_size::small,
         ink::quiet_text);
  return {std::move(drawing), std::move(strips)};
}

}  // namespace coldbay
