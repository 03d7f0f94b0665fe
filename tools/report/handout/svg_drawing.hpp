#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace coldbay {

/// A drawing to be put into a page as it is. Its viewBox is in millimetres of the print.
struct SvgDrawing {
  std::string svg;
  double width_mm = 0.0, height_mm = 0.0;
};

/// What a material is called in the page's language; empty: as it is called here.
using Translate = std::function<std::string(const std::string&)>;

/// A point of the paper [mm], x to the right, y down.
struct PaperPoint {
  double x = 0.0, y = 0.0;
};

/// "12.35", "-3": to a hundredth of a millimetre, without trailing zeros.
std::string mm(double value);

/// The size of all lettering [mm]: 2.4 mm is 6.8 point.
inline constexpr double lettering_mm = 2.4;

enum class Anchor { start, middle, end };

/// Written text, from its baseline. `full` is what was shortened; empty where nothing was.
struct Lettering {
  PaperPoint at;
  Anchor anchor = Anchor::start;
  std::string text;
  std::string full = {};
  bool upwards = false;  ///< turned about `at`, to be read from the right
};

/// A rectangle on the paper [mm].
struct PaperBox {
  double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;
};
bool overlap(const PaperBox& a, const PaperBox& b);

/// Generous, since a browser's font is not ours: no narrower than DejaVu Sans, and letters that it lacks are
/// taken as broad ones.
double lettering_width(std::string_view text);

/// As much of a text as keeps within the width, with an ellipsis where something was left out.
std::string fitted(std::string_view text, double width_mm);

PaperBox box_of(const Lettering& lettering);

/// The `<text>` element, kept apart from its neighbours whichever way it is read.
std::string text_element(const Lettering& lettering);

/// The opening of an `<svg>` with its name and description for those who do not see it.
std::string svg_opening(std::string_view id, double width_mm, double height_mm, std::string_view title,
                        std::string_view description);

}  // namespace coldbay
