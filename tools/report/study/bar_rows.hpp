#pragma once

#include <string>

#include "tools/report/study/figure.hpp"

namespace coldbay {

/// Rows of a figure of bars: a label, with what it comes to at the right end of its first line, and below it
/// a bar. Lengths are millimetres.
inline constexpr double bar_height = 3.2, row_gap = 2.0;
inline constexpr std::size_t most_bar_rows = 24;  ///< what a page holds

/// Writes label and value below `y`; returns the baseline of the last line.
double write_row(Figure& figure, double y, const std::string& label, const std::string& value);

/// A line from `low` to `high` with a stroke at either end; none at an end that lies beyond the axis, where
/// the line is cut.
void draw_whisker(Figure& figure, const PaperAxis& x, double low, double high, double middle);

}  // namespace coldbay
