#include "tools/report/lettering.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

namespace coldbay {

Box text_box(Spot at, Align align, std::string_view text, double size) {
  const double width = text_width(text, size);
  const double left = at.x - (align == Align::left ? 0.0 : align == Align::centre ? 0.5 * width : width);
  return {left, at.y - 0.76 * size, left + width, at.y + 0.24 * size};
}

void letter(Drawing& drawing, Spot at, Align align, std::string_view text, double size, Rgb colour) {
  if (text.empty()) return;
  draw_text(drawing.picture, at, align, text, size, colour);
  drawing.texts.push_back({text_box(at, align, text, size), std::string(text)});
}

double letter_lines(Drawing& drawing, Spot at, const std::vector<std::string>& lines, double size,
                    Rgb colour) {
  for (const std::string& text : lines) {
    letter(drawing, at, Align::left, text, size, colour);
    at.y += line_height(size);
  }
  return at.y;
}

bool overlap(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

void letter_beside(Drawing& drawing, Spot place, double reach, const Box& bounds, std::string_view text) {
  constexpr double size = text_size::small, border = 4.0;
  const double width = text_width(text, size) + 2.0 * border, height = size + 2.0 * border - 2.0;
  constexpr std::array<std::pair<double, double>, 8> sides{
      {{1, -1}, {-1, -1}, {1, 1}, {-1, 1}, {1, 0}, {-1, 0}, {0, -1}, {0, 1}}};
  std::optional<Box> chosen;
  for (const auto& [across, down] : sides) {
    const double left = place.x + across * reach + 0.5 * (across - 1.0) * width;
    const double top = place.y + down * reach + 0.5 * (down - 1.0) * height;
    const Box box{std::round(left), std::round(top), std::round(left) + width, std::round(top) + height};
    if (box.left < bounds.left || box.right > bounds.right || box.top < bounds.top ||
        box.bottom > bounds.bottom)
      continue;
    const bool taken = std::any_of(drawing.texts.begin(), drawing.texts.end(),
                                   [&](const Lettered& other) { return overlap(other.box, box); });
    if (!chosen || !taken) chosen = box;
    if (!taken) break;
  }
  if (!chosen) return;
  fill(drawing.picture, *chosen, ink::paper, 0.88);
  draw_text(drawing.picture, {chosen->left + border, chosen->bottom - border - 1.0}, Align::left, text, size);
  drawing.texts.push_back({*chosen, std::string(text)});
}

}  // namespace coldbay
