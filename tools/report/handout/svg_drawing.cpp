#include "tools/report/handout/svg_drawing.hpp"

#include <fmt/core.h>

#include <cmath>
#include <cstddef>

#include "tools/report/handout/markup.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

/// Letters from here on are broad ones of the far east, and pictures: a square, and more than that.
constexpr char32_t first_broad = 0x2E80, first_picture = 0x1F000;

double width_of(char32_t code) {
  if (code >= first_picture) return 1.4 * lettering_mm;
  if (code >= first_broad) return 1.1 * lettering_mm;
  return text_width(utf8(std::u32string_view(&code, 1)), lettering_mm);
}

}  // namespace

std::string mm(double value) {
  std::string text = fmt::format("{:.2f}", std::abs(value) < 0.005 ? 0.0 : value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

bool overlap(const PaperBox& a, const PaperBox& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

double lettering_width(std::string_view text) {
  double width = 0.0;
  for (const char32_t code : characters(text)) width += width_of(code);
  return width;
}

std::string fitted(std::string_view text, double width_mm) {
  const std::u32string all = characters(text);
  const double dots = width_of(U'…');
  double width = 0.0;
  std::size_t kept = 0;  // characters that leave room for the ellipsis
  for (std::size_t i = 0; i < all.size(); ++i) {
    width += width_of(all[i]);
    if (width > width_mm) {
      while (kept > 0 && all[kept - 1] == U' ') --kept;
      return utf8(std::u32string_view(all).substr(0, kept)) + "…";
    }
    if (width + dots <= width_mm) kept = i + 1;
  }
  return utf8(all);
}

PaperBox box_of(const Lettering& lettering) {
  // From the height of an accent on a capital to the depth of a descender, of DejaVu Sans.
  constexpr double above = 0.95 * lettering_mm, below = 0.24 * lettering_mm;
  const double width = lettering_width(lettering.text);
  const double before = lettering.anchor == Anchor::start    ? 0.0
                        : lettering.anchor == Anchor::middle ? 0.5 * width
                                                             : width;
  const PaperPoint at = lettering.at;
  if (lettering.upwards) return {at.x - above, at.y - (width - before), at.x + below, at.y + before};
  return {at.x - before, at.y - above, at.x - before + width, at.y + below};
}

std::string text_element(const Lettering& lettering) {
  const PaperPoint at = lettering.at;
  std::string element = fmt::format("<text unicode-bidi=\"isolate\" x=\"{}\" y=\"{}\"", mm(at.x), mm(at.y));
  if (lettering.anchor == Anchor::middle) element += " text-anchor=\"middle\"";
  if (lettering.anchor == Anchor::end) element += " text-anchor=\"end\"";
  if (lettering.upwards) element += fmt::format(" transform=\"rotate(-90 {} {})\"", mm(at.x), mm(at.y));
  element += '>';
  if (!lettering.full.empty()) element += "<title>" + escaped(lettering.full) + "</title>";
  return element + escaped(lettering.text) + "</text>";
}

std::string svg_opening(std::string_view id, double width_mm, double height_mm, std::string_view title,
                        std::string_view description) {
  const std::string w = mm(width_mm), h = mm(height_mm), name = escaped(id);
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\" "
      "role=\"img\" direction=\"ltr\" aria-labelledby=\"{2}-t {2}-d\" "
      "font-family=\"Arial,Helvetica,'Liberation "
      "Sans',sans-serif\" "
      "font-size=\"{3}\" fill=\"#000\">"
      "<title id=\"{2}-t\">{4}</title><desc id=\"{2}-d\">{5}</desc>",
      w, h, name, mm(lettering_mm), escaped(title), escaped(description));
}

}  // namespace coldbay
