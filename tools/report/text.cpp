#define STB_TRUETYPE_IMPLEMENTATION
#define STBTT_STATIC
#include <stb/stb_truetype.h>

#include "tools/report/text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

// The font, embedded by the build so that a picture is the same on every machine.
extern "C" const unsigned char coldbay_font_begin[];

namespace coldbay {
namespace {

constexpr char32_t replacement = 0xFFFD;
constexpr std::string_view ellipsis = "…";

const stbtt_fontinfo& font() {
  static const stbtt_fontinfo loaded = [] {
    stbtt_fontinfo info{};
    if (stbtt_InitFont(&info, coldbay_font_begin, 0) == 0)
      throw std::runtime_error("the font built into the program cannot be read");
    return info;
  }();
  return loaded;
}

/// One character of UTF-8: its code and how many bytes it took.
struct Decoded {
  char32_t code = replacement;
  std::size_t bytes = 1;
};

// The shortest form, the surrogates and the upper limit are all checked: RFC 3629, section 3. A bad
// byte costs one replacement and the next byte starts afresh.
Decoded decode(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(at);
  if (lead < 0x80) return {lead < 0x20 || lead == 0x7F ? U' ' : static_cast<char32_t>(lead), 1};
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || at + length > text.size()) return {};
  char32_t code = lead & (0x7FU >> length);
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(at + i) & 0xC0U) != 0x80U) return {};
    code = (code << 6) | (byte(at + i) & 0x3FU);
  }
  constexpr std::array<char32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
  if (code < least[length] || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF)) return {};
  if (code < 0xA0) code = U' ';  // the second block of control characters
  return {code, length};
}

int glyph_of(char32_t code) { return stbtt_FindGlyphIndex(&font(), static_cast<int>(code)); }

double scale_of(double size) { return stbtt_ScaleForMappingEmToPixels(&font(), static_cast<float>(size)); }

double advance(int glyph, int next, double scale) {
  int width = 0;
  int bearing = 0;
  stbtt_GetGlyphHMetrics(&font(), glyph, &width, &bearing);
  const int kern = next == 0 ? 0 : stbtt_GetGlyphKernAdvance(&font(), glyph, next);
  return scale * (width + kern);
}

void draw_glyph(Picture& picture, int glyph, double x, double baseline, double scale, Rgb colour) {
  const double whole_x = std::floor(x);
  const double whole_y = std::floor(baseline);
  int width = 0;
  int height = 0;
  int left = 0;
  int top = 0;
  const auto s = static_cast<float>(scale);
  unsigned char* bitmap = stbtt_GetGlyphBitmapSubpixel(&font(), s, s, static_cast<float>(x - whole_x),
                                                       static_cast<float>(baseline - whole_y), glyph, &width,
                                                       &height, &left, &top);
  if (bitmap == nullptr) return;  // a space has no shape
  for (int row = 0; row < height; ++row)
    for (int column = 0; column < width; ++column)
      blend(picture, static_cast<int>(whole_x) + left + column, static_cast<int>(whole_y) + top + row, colour,
            bitmap[row * width + column] / 255.0);
  stbtt_FreeBitmap(bitmap, nullptr);
}

/// Bytes of the longest beginning of the text that is no wider than `width`.
std::size_t bytes_that_fit(std::string_view text, double size, double width) {
  const double scale = scale_of(size);
  double x = 0.0;
  std::size_t at = 0;
  while (at < text.size()) {
    const Decoded now = decode(text, at);
    const std::size_t after = at + now.bytes;
    const int glyph = glyph_of(now.code);
    if (x + advance(glyph, 0, scale) > width) return at;
    x += advance(glyph, after < text.size() ? glyph_of(decode(text, after).code) : 0, scale);
    at = after;
  }
  return at;
}

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

}  // namespace

std::u32string characters(std::string_view text) {
  std::u32string all;
  for (std::size_t at = 0; at < text.size();) {
    const Decoded now = decode(text, at);
    all += now.code;
    at += now.bytes;
  }
  return all;
}

double text_width(std::string_view text, double size) {
  const double scale = scale_of(size);
  const std::u32string all = characters(text);
  double x = 0.0;
  for (std::size_t i = 0; i < all.size(); ++i)
    x += advance(glyph_of(all[i]), i + 1 < all.size() ? glyph_of(all[i + 1]) : 0, scale);
  return x;
}

void draw_text(Picture& picture, Spot at, Align align, std::string_view text, double size, Rgb colour) {
  const double scale = scale_of(size);
  double x = at.x;
  if (align != Align::left) x -= text_width(text, size) * (align == Align::centre ? 0.5 : 1.0);
  const std::u32string all = characters(text);
  // A picture is never this wide in letters: what lies beyond its right edge cannot show.
  for (std::size_t i = 0; i < all.size() && x < picture.width; ++i) {
    const int glyph = glyph_of(all[i]);
    draw_glyph(picture, glyph, x, at.y, scale, colour);
    x += advance(glyph, i + 1 < all.size() ? glyph_of(all[i + 1]) : 0, scale);
  }
}

std::string shortened(std::string_view text, double size, double width) {
  const std::string_view whole = trimmed(text);
  if (bytes_that_fit(whole, size, width) == whole.size()) return std::string(whole);
  const double room = width - text_width(ellipsis, size);
  if (room < 0.0) return {};
  const std::string_view kept = trimmed(whole.substr(0, bytes_that_fit(whole, size, room)));
  return std::string(kept) + std::string(ellipsis);
}

namespace {

/// Just behind the last hyphen before `end` that a word may be parted at ("face-stapled", not "R-13"); `end`
/// where there is none.
std::size_t hyphen_before(std::string_view text, std::size_t end) {
  for (std::size_t i = end; i-- > 1;)
    if (text[i] == '-' && i + 1 < text.size() && !(text[i + 1] >= '0' && text[i + 1] <= '9')) return i + 1;
  return end;
}

}  // namespace

std::vector<std::string> wrapped(std::string_view text, double size, double width, std::size_t max_lines) {
  std::vector<std::string> lines;
  std::string_view rest = trimmed(text);
  while (!rest.empty() && lines.size() < max_lines) {
    const std::size_t fits = bytes_that_fit(rest, size, width);
    if (fits == rest.size() || lines.size() + 1 == max_lines) {
      std::string last = shortened(rest, size, width);
      if (!last.empty()) lines.push_back(std::move(last));
      return lines;
    }
    // A word longer than the line is broken where the line ends; the space just behind a line that is
    // exactly full is a break too.
    std::size_t end = rest.rfind(' ', fits);
    if (end == std::string_view::npos || end == 0) end = hyphen_before(rest, fits);
    if (end == 0) return lines;  // not one letter fits
    lines.emplace_back(trimmed(rest.substr(0, end)));
    rest = trimmed(rest.substr(end));
  }
  return lines;
}

double line_height(double size) { return std::round(1.3 * size); }

}  // namespace coldbay
