#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "tools/report/colour_scale.hpp"
#include "tools/report/handout/svg_drawing.hpp"

namespace coldbay {

/// One figure of a study's page in the making. Lengths are millimetres of the print; what the classes look
/// like is said in study.css.
struct Figure {
  double width = 90.0, height = 0.0;
  std::string body = {};
};

inline constexpr double figure_lettering = 2.7;  ///< [mm]
/// Where a figure of rows ends [mm]: with its axis, title and note it is still on one page of 252 mm.
inline constexpr double tallest_rows = 190.0;
inline constexpr double figure_line_height = 3.6;  ///< from one baseline to the next [mm]

/// What a text takes in a figure [mm], a little generous: a browser's font is not ours.
double figure_text_width(std::string_view text);

/// As much of a text as keeps within a width, with an ellipsis where something was left out.
std::string figure_fitted(std::string_view text, double width_mm);

/// Broken at spaces, and after the dots of paths, into lines that keep within a width; the last is fitted
/// where more is left over.
std::vector<std::string> figure_lines(std::string_view text, double width_mm, std::size_t most_lines);

void write(Figure& figure, PaperPoint at, Anchor anchor, std::string_view text, std::string_view css = {});

/// The name of an axis, with its unit in brackets at the end: where it is too long it is shortened in the
/// middle, the unit stays, and the whole of it is told where somebody points at it.
void write_name(Figure& figure, PaperPoint at, Anchor anchor, std::string_view name, double width_mm);
void draw_path(Figure& figure, std::string_view css, std::string_view path);
void draw_line(Figure& figure, std::string_view css, PaperPoint from, PaperPoint to);
void draw_box(Figure& figure, std::string_view css, const PaperBox& box);
void draw_dot(Figure& figure, std::string_view css, PaperPoint at, double radius);

/// The whole element, with a name for those who do not see it.
std::string svg_of(const Figure& figure, std::string_view name);

/// A range of numbers laid on a stretch of paper.
struct PaperAxis {
  double low = 0.0, high = 1.0;   ///< what lies at either end
  double start = 0.0, end = 1.0;  ///< where [mm]; an axis upward starts at the greater one
  Ticks ticks = {};
  double at(double value) const { return start + (value - low) / (high - low) * (end - start); }
};

/// An axis over a range, with some room at either end, or exactly from 0 where that is asked for and nothing
/// is below. A range without extent is opened.
PaperAxis axis_over(double least, double greatest, bool from_zero, double start, double end, int most_ticks);

/// "0.35", "−12", "1.2e−7": as a tick says it, and to four digits.
std::string tick_text(const Ticks& ticks, double value);
std::string shown_number(double value);

/// Texts one after the other, parted by ", ", or by "; " where one of them has a comma itself.
std::string joined_texts(const std::vector<std::string>& texts);

/// "100,000"
std::string grouped(std::size_t n);

/// Thin lines across `from` to `to` at each tick, and numbers below; `name` in the middle under them, where
/// there is one. Of numbers that would touch every second is left out. Takes paper_axis_below under `to`.
void draw_axis_below(Figure& figure, const PaperAxis& axis, double from, double to, std::string_view name);
inline constexpr double paper_axis_below = 9.0;

/// Thin lines across `from` to `to` and numbers to the left of them.
void draw_axis_left(Figure& figure, const PaperAxis& axis, double from, double to);
double axis_left_width(const PaperAxis& axis);

}  // namespace coldbay
