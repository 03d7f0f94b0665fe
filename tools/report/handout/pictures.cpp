#include "tools/report/handout/pictures.hpp"

#include <fmt/core.h>
#include <sodium.h>

#include <algorithm>
#include <cmath>

#include "tools/report/handout/markup.hpp"
#include "tools/report/labels.hpp"
#include "tools/report/png.hpp"
#include "tools/report/wall_panel.hpp"

namespace coldbay {
namespace {

constexpr double bar_width = 45.0, bar_height = 3.4, bar_side = 4.0, tick = 1.1, text_below = 3.6;  // [mm]

/// The colours of a scale from its cold end to its warm end, one pixel high.
std::string ramp_url(const ColourScale& scale) {
  constexpr int n = 256;
  Picture picture = blank_picture(n, 1);
  for (int x = 0; x < n; ++x)
    blend(picture, x, 0, scale.colour(scale.coldest() + scale.span() * (x + 0.5) / n), 1.0);
  const std::vector<std::uint8_t> png = encode_png(picture);
  return "data:image/png;base64," + base64(png.data(), png.size());
}

}  // namespace

ThermalMap part_of(const FaceMap& face, Span across, Span up, double pixel) {
  const int columns = std::max(1, static_cast<int>(std::lround(across.length() / pixel))),
            rows = std::max(1, static_cast<int>(std::lround(up.length() / pixel)));
  ThermalMap map{across, up, columns, rows, {}};
  map.celsius.reserve(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
  for (int row = 0; row < rows; ++row)
    for (int column = 0; column < columns; ++column)
      map.celsius.push_back(temperature_on(face, across.from + (column + 0.5) * map.pixel_across(),
                                           up.to - (row + 0.5) * map.pixel_up()));
  return map;
}

std::string picture_url(const ThermalMap& map, const ColourScale& scale, const PictureTexts& texts) {
  Drawing drawing{blank_picture(map.columns, map.rows), {}};
  const Box plot{0.0, 0.0, static_cast<double>(map.columns), static_cast<double>(map.rows)};
  draw_map(drawing, plot, {"", "", map, scale.is_of_differences()}, {}, scale);
  const std::vector<std::uint8_t> png = encode_png(drawing.picture, texts);
  return "data:image/png;base64," + base64(png.data(), png.size());
}

std::string scale_bar(const ColourScale& scale, const std::string& name) {
  std::string svg = fmt::format(
      "<svg class=\"bar\" role=\"img\" viewBox=\"0 0 {0} "
      "{1}\"><title>{2}</title>"
      "<image x=\"{3}\" y=\"0\" width=\"{4}\" height=\"{5}\" preserveAspectRatio=\"none\" href=\"{6}\"/>"
      "<rect x=\"{3}\" y=\"0\" width=\"{4}\" height=\"{5}\" class=\"edge\"/>",
      bar_width, bar_height + tick + text_below, escaped(name), bar_side, bar_width - 2.0 * bar_side,
      bar_height, ramp_url(scale));
  const double apart =
      scale.levels().size() < 2
          ? bar_width
          : (bar_width - 2.0 * bar_side) * (scale.place(scale.levels()[1]) - scale.place(scale.levels()[0]));
  constexpr double a_number = 6.5;  // with its sign and a space [mm]
  const std::size_t every = apart < a_number ? 2 : 1;
  for (std::size_t i = 0; i < scale.levels().size(); i += every) {
    const double x = bar_side + (bar_width - 2.0 * bar_side) * scale.place(scale.levels()[i]);
    svg += fmt::format(
        "<path d=\"M{0:.2f} {1:.2f}v{2}\" class=\"edge\"/><text x=\"{0:.2f}\" y=\"{3:.2f}\">{4}</text>", x,
        bar_height, tick, bar_height + tick + 2.8,
        escaped(scale.number(scale.levels()[i], scale.ticks().decimals)));
  }
  return svg + "</svg>";
}

std::string base64(const void* bytes, std::size_t size) {
  std::string out(sodium_base64_ENCODED_LEN(size, sodium_base64_VARIANT_ORIGINAL), '\0');
  sodium_bin2base64(out.data(), out.size(), static_cast<const unsigned char*>(bytes), size,
                    sodium_base64_VARIANT_ORIGINAL);
  out.pop_back();  // its zero byte
  return out;
}

}  // namespace coldbay
