#include "tools/report/wall_panel.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "tools/report/labels.hpp"
#include "tools/report/temperature_map.hpp"

namespace coldbay {
namespace {

constexpr int clipped_spacing = 8;
constexpr double clipped_strength = 0.55;

double near_line(int phase, int spacing, double thickness) {
  const int wrapped = (phase % spacing + spacing) % spacing;
  const double off = std::min(wrapped, spacing - wrapped);
  return std::clamp(0.5 * thickness + 0.5 - off, 0.0, 1.0);
}

/// Hatching of the n-th threshold: falling lines, level ones, upright ones; beyond the scale they rise.
double threshold_hatch(std::size_t n, int x, int y) {
  constexpr int spacing = 14;
  switch (n % 3) {
    case 0:
      return near_line(x - y, spacing, 1.2);
    case 1:
      return near_line(y, 9, 1.0);
    default:
      return near_line(x, 9, 1.0);
  }
}

/// What no wall is seen on: paper, crossed both ways.
Rgb no_wall(int x, int y) {
  constexpr Rgb line{168, 170, 174};
  const double strength = std::max(near_line(x - y, 12, 1.0), near_line(x + y, 12, 1.0));
  Rgb colour{};
  for (std::size_t c = 0; c < 3; ++c)
    colour[c] = static_cast<std::uint8_t>(std::lround(ink::paper[c] + strength * (line[c] - ink::paper[c])));
  return colour;
}

/// The map at the middle of every pixel of its plot.
TemperatureMap on_screen(const ThermalMap& map, const Box& plot) {
  TemperatureMap screen{static_cast<int>(plot.width()), static_cast<int>(plot.height()), {}};
  screen.celsius.reserve(static_cast<std::size_t>(screen.width) * static_cast<std::size_t>(screen.height));
  for (int y = 0; y < screen.height; ++y)
    for (int x = 0; x < screen.width; ++x)
      screen.celsius.push_back(value_at(map, map.across.from + (x + 0.5) / screen.width * map.across.length(),
                                        map.up.to - (y + 0.5) / screen.height * map.up.length()));
  return screen;
}

Spot on_plot(const Box& plot, const ThermalMap& map, const FacePlace& at) {
  return {plot.left + (at.across - map.across.from) / map.across.length() * plot.width(),
          plot.bottom - (at.up - map.up.from) / map.up.length() * plot.height()};
}

/// Where neighbours of a plot are on either side of something: lines of single pixels along the steps.
template <class Inside>
std::vector<float> border_of(int width, int height, Inside inside) {
  std::vector<float> border(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 0.0F);
  std::size_t at = 0;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x, ++at)
      if (inside(x, y) && ((x > 0 && !inside(x - 1, y)) || (x + 1 < width && !inside(x + 1, y)) ||
                           (y > 0 && !inside(x, y - 1)) || (y + 1 < height && !inside(x, y + 1))))
        border[at] = 1.0F;
  return border;
}

/// The outline of all rectangles together.
std::vector<float> framing_lines(const Box& plot, const ThermalMap& map,
                                 const std::vector<FaceRectangle>& framing) {
  const int width = static_cast<int>(plot.width()), height = static_cast<int>(plot.height());
  std::vector<std::uint8_t> frame(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 0);
  for (const FaceRectangle& part : framing) {
    const Spot low = on_plot(plot, map, {part.across.from, part.up.from});
    const Spot high = on_plot(plot, map, {part.across.to, part.up.to});
    const auto pixel = [](double place, double start, int limit) {
      return static_cast<int>(std::lround(std::clamp(place - start, 0.0, static_cast<double>(limit))));
    };
    for (int y = pixel(high.y, plot.top, height); y < pixel(low.y, plot.top, height); ++y)
      for (int x = pixel(low.x, plot.left, width); x < pixel(high.x, plot.left, width); ++x)
        frame[static_cast<std::size_t>(x) + static_cast<std::size_t>(width) * static_cast<std::size_t>(y)] =
            1;
  }
  return border_of(width, height, [&](int x, int y) {
    return frame[static_cast<std::size_t>(x) +
                 static_cast<std::size_t>(width) * static_cast<std::size_t>(y)] != 0;
  });
}

std::vector<float> threshold_line(const TemperatureMap& screen, const ThermalMap& map, double celsius,
                                  double span) {
  constexpr double thickness = 2.0;
  if (map.smooth) return isotherm_coverage(screen, {celsius}, span, thickness);
  return border_of(screen.width, screen.height, [&](int x, int y) { return screen.at(x, y) < celsius; });
}

void draw_thresholds(Picture& picture, const Box& plot, const TemperatureMap& screen, const WallPanel& panel,
                     const WallSheet& sheet, const ColourScale& scale) {
  for (std::size_t n = 0; n < sheet.thresholds.size(); ++n) {
    const double celsius = sheet.thresholds[n].celsius;
    const std::vector<float> line = threshold_line(screen, panel.map, celsius, scale.span());
    std::size_t at = 0;
    for (int y = 0; y < screen.height; ++y)
      for (int x = 0; x < screen.width; ++x, ++at) {
        const int px = static_cast<int>(plot.left) + x, py = static_cast<int>(plot.top) + y;
        const double here = screen.celsius[at];
        if (here < celsius)
          blend(picture, px, py, contrasting(scale, here), 0.42 * threshold_hatch(n, px, py));
        blend(picture, px, py, contrasting(scale, celsius), 0.95 * static_cast<double>(line[at]));
      }
  }
}

void draw_plus_or_minus(Picture& picture, Spot at, bool plus, Rgb colour, double alpha) {
  const double x = std::floor(at.x), y = std::floor(at.y);
  constexpr double arm = 3.0;
  fill(picture, {x - arm, y, x + arm + 1.0, y + 1.0}, colour, alpha);
  if (!plus) return;
  fill(picture, {x, y - arm, x + 1.0, y}, colour, alpha);
  fill(picture, {x, y + 1.0, x + 1.0, y + arm + 1.0}, colour, alpha);
}

/// Small signs of plus and minus wherever a difference is more than a twelfth of either end.
void draw_signs(Picture& picture, const Box& plot, const TemperatureMap& screen, const ColourScale& scale) {
  constexpr int apart = 28;
  constexpr double worth_a_sign = 1.0 / 12.0;
  for (int row = 0, y = apart / 2; y < screen.height; y += apart, ++row)
    for (int x = row % 2 == 0 ? apart / 2 : apart; x < screen.width - 4; x += apart) {
      const double t = 2.0 * scale.place(screen.at(x, y)) - 1.0;
      if (!(std::abs(t) > worth_a_sign)) continue;
      draw_plus_or_minus(picture, {plot.left + x, plot.top + y}, t > 0.0, contrasting(scale, screen.at(x, y)),
                         0.7);
    }
}

void draw_stamp(Drawing& drawing, const Box& plot) {
  const std::vector<std::string> lines =
      wrapped("scaled to itself: do not compare", text_size::small, plot.width() - 24.0, 4);
  double width = 0.0;
  for (const std::string& text : lines) width = std::max(width, text_width(text, text_size::small));
  const double height = line_height(text_size::small) * static_cast<double>(lines.size());
  const Box box{plot.right - width - 18.0, plot.top + 6.0, plot.right - 6.0, plot.top + height + 12.0};
  fill(drawing.picture, box, ink::paper, 0.92);
  frame(drawing.picture, box, 1.0, ink::outline);
  letter_lines(drawing, {box.left + 6.0, box.top + 3.0 + text_size::small}, lines, text_size::small);
}

void draw_cross(Picture& picture, Spot at) {
  const double x = std::floor(at.x) + 0.5, y = std::floor(at.y) + 0.5;
  for (const auto& [thickness, arm, colour] :
       {std::tuple{4.0, 9.0, ink::white}, std::tuple{1.6, 8.0, ink::outline}}) {
    line(picture, {x - arm, y}, {x + arm, y}, thickness, colour);
    line(picture, {x, y - arm}, {x, y + arm}, thickness, colour);
  }
}

bool within(const ThermalMap& map, const FacePlace& at) {
  return at.across >= map.across.from && at.across <= map.across.to && at.up >= map.up.from &&
         at.up <= map.up.to;
}

/// A line of the wall with short ends across it.
void draw_reading_line(Picture& picture, Spot from, Spot to) {
  const double length = std::max(1e-9, std::hypot(to.x - from.x, to.y - from.y));
  const Spot across{-(to.y - from.y) / length, (to.x - from.x) / length};
  for (const auto& [thickness, arm, colour] :
       {std::tuple{4.4, 7.0, ink::white}, std::tuple{1.8, 6.0, ink::outline}}) {
    line(picture, from, to, thickness, colour);
    for (const Spot end : {from, to})
      line(picture, {end.x - arm * across.x, end.y - arm * across.y},
           {end.x + arm * across.x, end.y + arm * across.y}, thickness, colour);
  }
}

}  // namespace

Rgb contrasting(const ColourScale& scale, double value) {
  constexpr double halfway = 0.45;  // where the lightness of both palettes is
  constexpr double dark = 0.6;      // either side of plumb
  const double t = scale.place(value);
  if (scale.is_of_differences()) return std::abs(2.0 * t - 1.0) > dark ? ink::white : ink::outline;
  return t < halfway ? ink::white : ink::outline;
}

Clipped clipped(const ThermalMap& map, const ColourScale& scale) {
  Clipped all;
  for (const double value : map.celsius) {
    if (std::isnan(value)) continue;
    ++all.known;
    const int beyond = scale.beyond(value);
    if (beyond < 0) ++all.colder;
    if (beyond > 0) ++all.warmer;
  }
  return all;
}

std::string share_text(double share) {
  const double percent = 100.0 * share;
  if (percent > 0.0 && percent < 0.05) return "less than 0.1 %";
  if (percent < 100.0 && percent >= 99.95) return "more than 99.9 %";
  return fmt::format("{} %", short_number(percent, 1));
}

std::string panel_note(const ThermalMap& map, const ColourScale& scale) {
  const std::optional<Extent> all = extent(map);
  if (!all) return "no wall is seen";
  const int decimals = std::max(1, scale.ticks().decimals);
  const Clipped beyond = clipped(map, scale);
  std::string words =
      fmt::format("{} to {}; ", scale.number(all->least, decimals), scale.text(all->greatest, decimals));
  if (!beyond.any()) return words + fmt::format("none of {} pixels beyond the scale", beyond.known);
  std::string counts;
  for (const auto& [n, which] : {std::pair{beyond.colder, "colder"}, {beyond.warmer, "warmer"}})
    if (n > 0)
      counts += fmt::format("{}{} {} ({})", counts.empty() ? "" : ", ", n, which,
                            share_text(static_cast<double>(n) / static_cast<double>(beyond.known)));
  return words + fmt::format("of {} pixels beyond the scale: {}", beyond.known, counts);
}

void draw_map(Drawing& drawing, const Box& plot, const WallPanel& panel, const WallSheet& sheet,
              const ColourScale& scale) {
  Picture& picture = drawing.picture;
  const TemperatureMap screen = on_screen(panel.map, plot);
  const std::vector<float> framing = framing_lines(plot, panel.map, sheet.framing);
  std::size_t at = 0;
  for (int y = 0; y < screen.height; ++y)
    for (int x = 0; x < screen.width; ++x, ++at) {
      const int px = static_cast<int>(plot.left) + x, py = static_cast<int>(plot.top) + y;
      const double value = screen.celsius[at];
      if (std::isnan(value)) {
        blend(picture, px, py, no_wall(px, py), 1.0);
        continue;
      }
      const Rgb contrast = contrasting(scale, value);
      blend(picture, px, py, scale.colour(value), 1.0);
      if (scale.beyond(value) != 0)
        blend(picture, px, py, contrast, clipped_strength * hatch(px, py, clipped_spacing));
      blend(picture, px, py, contrast, 0.42 * static_cast<double>(framing[at]));
    }
  if (panel.is_difference)
    draw_signs(picture, plot, screen, scale);
  else
    draw_thresholds(picture, plot, screen, panel, sheet, scale);
  frame(picture, plot, 1.0, ink::outline);
}

void draw_marks(Drawing& drawing, const Box& plot, const WallPanel& panel, const WallSheet& sheet,
                bool own_scale) {
  if (own_scale) draw_stamp(drawing, plot);
  // Lines before crosses, names after both: a number is never crossed out.
  for (const LineReading& reading : sheet.lines)
    if (within(panel.map, reading.from) && within(panel.map, reading.to))
      draw_reading_line(drawing.picture, on_plot(plot, panel.map, reading.from),
                        on_plot(plot, panel.map, reading.to));
  for (const SpotReading& reading : sheet.spots)
    if (within(panel.map, reading.at)) draw_cross(drawing.picture, on_plot(plot, panel.map, reading.at));
  for (std::size_t i = 0; i < sheet.spots.size(); ++i)
    if (within(panel.map, sheet.spots[i].at))
      letter_beside(drawing, on_plot(plot, panel.map, sheet.spots[i].at), 7.0, plot,
                    fmt::format("{}", i + 1));
  for (std::size_t i = 0; i < sheet.lines.size(); ++i)
    if (within(panel.map, sheet.lines[i].from) && within(panel.map, sheet.lines[i].to))
      letter_beside(drawing, on_plot(plot, panel.map, sheet.lines[i].from), 10.0, plot,
                    fmt::format("line {}", i + 1));
}

void draw_axes(Drawing& drawing, const Box& plot, const ThermalMap& map, LengthUnit unit) {
  constexpr double per_label_across = 96.0, per_label_up = 60.0, tick = 7.0;
  const auto most = [](double length, double each) {
    return std::clamp(static_cast<int>(length / each), 2, 12);
  };
  Picture& picture = drawing.picture;
  Ticks across = length_ticks(map.across, unit, most(plot.width(), per_label_across));
  constexpr int enough = 6;  // a bay a little narrower than its module would show 0 alone
  for (int n = 3; across.values.size() < 2 && n <= enough; ++n) across = length_ticks(map.across, unit, n);
  for (const double value : across.values) {
    const double place = on_plot(plot, map, {value * metres_per(unit), 0.0}).x;
    const double x = std::round(place - 0.5) + 0.5;
    fill(picture, {x - 0.5, plot.bottom, x + 0.5, plot.bottom + tick}, ink::outline);
    const std::string number = fixed_number(value, across.decimals);
    const std::string label =
        value == across.values.back() ? fmt::format("{} {}", number, symbol(unit)) : number;
    letter(drawing, {x - 0.5 * text_width(number, text_size::small), plot.bottom + 10.0 + text_size::small},
           Align::left, label, text_size::small);
  }
  const Ticks up = length_ticks(map.up, unit, most(plot.height(), per_label_up));
  for (const double value : up.values) {
    const double y = std::round(on_plot(plot, map, {0.0, value * metres_per(unit)}).y - 0.5) + 0.5;
    fill(picture, {plot.left - tick, y - 0.5, plot.left, y + 0.5}, ink::outline);
    std::string label = fixed_number(value, up.decimals);
    if (value == up.values.back()) label += fmt::format(" {}", symbol(unit));
    letter(drawing, {plot.left - tick - 4.0, y + 0.36 * text_size::small}, Align::right, label,
           text_size::small);
  }
}

void draw_bays(Drawing& drawing, const Box& plot, const ThermalMap& map,
               const std::vector<NamedStretch>& bays) {
  constexpr double border = 6.0;
  const double top = plot.bottom + axis_below, bottom = top + bays_below - 4.0;
  double line_before = -1e9;
  for (const NamedStretch& bay : bays) {
    const double from = std::max(bay.across.from, map.across.from),
                 to = std::min(bay.across.to, map.across.to);
    if (!(to > from)) continue;
    const double left = on_plot(plot, map, {from, 0.0}).x, right = on_plot(plot, map, {to, 0.0}).x;
    for (const double place : {left, right}) {
      const double x = std::floor(place) + 0.5;
      if (x - line_before > 1.5) fill(drawing.picture, {x - 0.5, top, x + 0.5, bottom}, ink::separator);
      line_before = x;
    }
    const double room = right - left - 2.0 * border;
    const std::string last = bay.name.substr(bay.name.rfind(' ') + 1);  // all of it where there is no space
    for (const std::string& name : {bay.name, last})
      if (text_width(name, text_size::small) <= room) {
        letter(drawing, {0.5 * (left + right), top + text_size::small}, Align::centre, name, text_size::small,
               ink::quiet_text);
        break;
      }
  }
}

void draw_sign(Picture& picture, const Box& box, Sign sign) {
  const int middle = static_cast<int>(0.5 * (box.left + box.right));
  if (sign == Sign::colder) {
    fill(picture, {box.left, box.top, middle + 0.0, box.bottom}, plumb_colour(-0.5));
    fill(picture, {middle + 0.0, box.top, box.right, box.bottom}, plumb_colour(0.5));
    const double y = 0.5 * (box.top + box.bottom);
    draw_plus_or_minus(picture, {0.5 * (box.left + middle), y}, false, ink::outline, 0.9);
    draw_plus_or_minus(picture, {0.5 * (middle + box.right), y}, true, ink::outline, 0.9);
  }
  for (int y = static_cast<int>(box.top); y < static_cast<int>(box.bottom); ++y)
    for (int x = static_cast<int>(box.left); x < static_cast<int>(box.right); ++x) {
      if (sign == Sign::no_wall) blend(picture, x, y, no_wall(x, y), 1.0);
      if (sign == Sign::beyond) {
        blend(picture, x, y, colour(Palette::slate, x < middle ? 0.0 : 1.0), 1.0);
        blend(picture, x, y, x < middle ? ink::white : ink::outline,
              clipped_strength * hatch(x, y, clipped_spacing));
      }
    }
  if (sign == Sign::framing) {
    fill(picture, box, colour(Palette::slate, 0.8));
    const double left = box.left + std::floor(0.35 * box.width()), right = box.right - (left - box.left);
    for (const double x : {left, right}) fill(picture, {x, box.top, x + 1.0, box.bottom}, ink::outline, 0.55);
  }
  frame(picture, box, 1.0, ink::outline, 0.7);
}

void draw_threshold_sign(Picture& picture, const Box& box, std::size_t n) {
  fill(picture, box, colour(Palette::slate, 0.8));
  const double line_at = std::floor(box.right - 0.3 * box.width());
  for (int y = static_cast<int>(box.top); y < static_cast<int>(box.bottom); ++y)
    for (int x = static_cast<int>(box.left); x < static_cast<int>(line_at); ++x)
      blend(picture, x, y, ink::outline, 0.5 * threshold_hatch(n, x, y));
  fill(picture, {line_at, box.top, line_at + 2.0, box.bottom}, ink::outline);
  frame(picture, box, 1.0, ink::outline, 0.7);
}

void draw_bar_signs(Picture& picture, const Box& bar, const ColourScale& scale) {
  const double x = 0.5 * (bar.left + bar.right);
  for (const double share : {0.1, 0.25, 0.75, 0.9}) {
    const double value = scale.coldest() + share * scale.span();
    draw_plus_or_minus(picture, {x, bar.bottom - share * bar.height()}, share > 0.5,
                       contrasting(scale, value), 0.8);
  }
}

}  // namespace coldbay
