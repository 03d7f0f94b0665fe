#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "tools/report/canvas.hpp"
#include "tools/report/picture.hpp"

namespace coldbay {

/// Sizes that stay legible when a page shows the picture at half its width.
namespace text_size {
inline constexpr double title = 24.0;
inline constexpr double body = 17.0;
inline constexpr double small = 15.0;
}  // namespace text_size

enum class Align { left, centre, right };

/// Width in pixels of a line of UTF-8 text in a font `size` pixels high, kerning included. Bytes that
/// are not UTF-8 count and draw as the replacement character; control characters as spaces.
double text_width(std::string_view text, double size);

/// Draws one line with its baseline at `at.y`, and at.x at its left end, middle or right end.
void draw_text(Picture& picture, Spot at, Align align, std::string_view text, double size,
               Rgb colour = ink::text);

/// As much of the text as fits, ending in an ellipsis where something was left out; empty where not
/// even that fits.
std::string shortened(std::string_view text, double size, double width);

/// The text broken at spaces into at most `max_lines` lines that fit; the last is shortened where
/// something is left over. No line is empty.
std::vector<std::string> wrapped(std::string_view text, double size, double width, std::size_t max_lines);

/// Distance from one baseline to the next.
double line_height(double size);

/// The characters of a UTF-8 text, as drawn: see text_width for what is replaced.
std::u32string characters(std::string_view text);

}  // namespace coldbay
