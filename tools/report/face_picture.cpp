#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "tools/report/colour_scale.hpp"
#include "tools/report/cut_words.hpp"
#include "tools/report/face_curve.hpp"
#include "tools/report/labels.hpp"
#include "tools/report/section_picture.hpp"
#include "tools/report/section_sheet.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

constexpr double plot_width = 1400.0;
constexpr double strip_height = 170.0;
constexpr double curve_height = 300.0;
constexpr double axis_width = 76.0;   // labels left of the curve
constexpr double side_gap = 30.0;     // between strip and colour bar
constexpr double side_width = 210.0;  // colour bar, its labels and the words under it
constexpr std::size_t label_lines = 3;
constexpr double narrowest_label = 60.0;  // in less, words break into pieces

/// A part's words under the axis, broken to its width.
struct PartWords {
  double left = 0.0;
  double right = 0.0;
  std::string name;
  std::vector<std::string> label;
};

/// The name, or where bays are narrow its last word: "12" of "bay 12" tells more than "b…".
std::string name_that_fits(const std::string& name, double room) {
  if (text_width(name, text_size::body) <= room) return name;
  const std::string last = name.substr(name.rfind(' ') + 1);  // all of it where there is no space
  return shortened(last, text_size::body, room);
}

std::vector<PartWords> part_words(const Section& section, const Box& curve) {
  std::vector<PartWords> all;
  for (const FacePart& part : section.parts) {
    const auto x = [&](double across) {
      return curve.left + std::clamp(across / section.width, 0.0, 1.0) * curve.width();
    };
    PartWords words{x(part.across.from), x(part.across.to), {}, {}};
    const double room = words.right - words.left - 12.0;
    words.name = name_that_fits(part.name, room);
    if (room >= narrowest_label) words.label = wrapped(part.label, text_size::small, room, label_lines);
    all.push_back(std::move(words));
  }
  return all;
}

double part_words_height(const std::vector<PartWords>& parts) {
  if (parts.empty()) return 0.0;
  std::size_t most = 0;
  for (const PartWords& part : parts) most = std::max(most, part.label.size());
  return 14.0 + line_height(text_size::body) + line_height(text_size::small) * static_cast<double>(most);
}

/// Where a part begins or ends, each once, in the middle of a pixel.
std::vector<double> borders(const std::vector<PartWords>& parts) {
  std::vector<double> all;
  for (const PartWords& part : parts)
    for (const double x : {part.left, part.right}) all.push_back(std::floor(x) + 0.5);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end(), [](double a, double b) { return b - a < 1.5; }), all.end());
  return all;
}

void draw_parts(Picture& picture, const std::vector<PartWords>& parts, double top, double height) {
  for (const double x : borders(parts)) fill(picture, {x - 0.5, top, x + 0.5, top + height}, ink::separator);
  for (const PartWords& part : parts) {
    const double middle = 0.5 * (part.left + part.right);
    double baseline = top + 8.0 + text_size::body;
    draw_text(picture, {middle, baseline}, Align::centre, part.name, text_size::body);
    for (const std::string& text : part.label) {
      baseline += line_height(text_size::small);
      draw_text(picture, {middle, baseline}, Align::centre, text, text_size::small, ink::quiet_text);
    }
  }
}

/// What the strip shows. A plan knows nothing of other heights, a vertical cut nothing of other places
/// across.
std::string strip_words(const Section& section, LengthUnit unit, const FaceShown& face) {
  std::string words =
      fmt::format("the {} face {}", face.outer ? "outer" : "room",
                  section.cut == CutKind::vertical ? "from floor to top, drawn lying down and out sideways"
                                                   : "at this cut, drawn out upward");
  if (!section.stands_for.empty())
    words += fmt::format("; the cut stands for {}", stretches_text(section, unit));
  if (face.right) words += "; thin line below: built right";
  if (face.still) words += fmt::format("; {}dashed: air standing still", face.right ? "" : "below, ");
  return words;
}

void draw_strip(Picture& picture, const Box& strip, const FaceCurve& curve, const ColourScale& scale,
                const std::vector<PartWords>& parts, const std::string& words) {
  bool clipped = false;
  for (int x = static_cast<int>(strip.left); x < static_cast<int>(strip.right); ++x) {
    const double celsius = celsius_at(*curve.profile, (x + 0.5 - strip.left) / strip.width() * curve.width);
    fill(picture, {static_cast<double>(x), strip.top, x + 1.0, strip.bottom}, scale.colour(celsius));
    if (scale.beyond(celsius) == 0) continue;
    clipped = true;
    const Rgb contrast = scale.beyond(celsius) < 0 ? ink::white : ink::outline;
    for (int y = static_cast<int>(strip.top); y < static_cast<int>(strip.bottom); ++y)
      blend(picture, x, y, contrast, 0.55 * hatch(x, y, 8));
  }
  frame(picture, strip, 1.0, ink::outline);
  for (const double x : borders(parts))
    if (x > strip.left + 1.0 && x < strip.right - 1.0)
      for (const double y : {strip.top, strip.bottom - 8.0})  // ticks, not lines: the strip is data
        fill(picture, {x - 0.5, y, x + 0.5, y + 8.0}, ink::outline);
  const std::string note = clipped ? fmt::format("{} (hatched: beyond the scale)", words) : words;
  draw_text(picture, {strip.left, strip.top - 9.0}, Align::left,
            shortened(note, text_size::small, strip.width()), text_size::small, ink::quiet_text);
}

/// Colour bar beside the strip, its words below.
void draw_side(Picture& picture, const Box& strip, double bottom, const ColourScale& scale) {
  const double left = strip.right + side_gap;
  draw_bar_upright(picture, scale, {left, strip.top, left + 24.0, strip.bottom});
  double baseline = strip.bottom + 14.0;
  const auto most_lines =
      static_cast<std::size_t>(std::max(1.0, (bottom - baseline) / line_height(text_size::small)));
  for (const std::string& text : wrapped(scale.words(), text_size::small, side_width, most_lines)) {
    baseline += line_height(text_size::small);
    draw_text(picture, {left, baseline}, Align::left, text, text_size::small, ink::quiet_text);
  }
}

}  // namespace

Picture face_picture(const Section& section, const FaceShown& face, const TemperatureScale& scale,
                     const PictureStyle& style) {
  const ColourScale colours(scale, style);
  const FaceCurve curve{section.width, face.profile, section.cut == CutKind::vertical, face.right,
                        face.still};
  const EndWords ends = end_words(section);
  const double left = sheet_margin + axis_width;
  const double strip_top = sheet_margin + heading_height(style) + 34.0;
  const Box strip{left, strip_top, left + plot_width, strip_top + strip_height};
  const Box plot{left, strip.bottom + 26.0, strip.right, strip.bottom + 26.0 + curve_height};
  const std::vector<PartWords> parts = part_words(section, plot);
  const double ends_height = ends.any() ? line_height(text_size::small) : 0.0;
  const double parts_top = plot.bottom + length_axis_height + ends_height;
  const double parts_height = part_words_height(parts);
  const double right_edge = strip.right + side_gap + side_width;

  Picture picture =
      blank_picture(static_cast<int>(std::ceil(right_edge + sheet_margin)),
                    static_cast<int>(std::ceil(parts_top + parts_height + sheet_margin - 10.0)));
  draw_heading(picture, sheet_margin, right_edge, style);
  draw_strip(picture, strip, curve, colours, parts, strip_words(section, style.length, face));
  draw_side(picture, strip, plot.bottom, colours);
  for (const double x : borders(parts))
    if (x > plot.left + 1.0 && x < plot.right - 1.0)
      fill(picture, {x - 0.5, plot.top, x + 0.5, plot.bottom}, ink::separator);
  draw_curve(picture, plot, curve, face.dew_point, style);
  if (ends.any()) draw_ends(picture, plot, parts_top - 8.0, ends, text_size::small);
  draw_parts(picture, parts, parts_top, parts_height);
  return picture;
}

}  // namespace coldbay
