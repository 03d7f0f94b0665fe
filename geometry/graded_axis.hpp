#pragma once

#include <vector>

#include "geometry/axis.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// Edges closer than this are one edge: far below anything a person can cut or measure [m].
inline constexpr double merge_distance = 1e-6;

/// A stretch of an axis on which cells may not exceed `size`.
struct Cap {
  Span on;
  double size;
};

/// What is to be drawn asks of one axis.
struct LineWishes {
  std::vector<double> lines;  ///< [m]
  std::vector<Cap> caps;
  std::vector<double> fine = {};   ///< those of the lines with cells a quarter as large
  std::vector<double> plain = {};  ///< those that need no small cells at all
};

/// How large cells are: at a line where there is room, and at most. In between they grow by `growth` per
/// length walked away from a line.
struct CellSizes {
  double at_line, largest;  ///< [m]
  double growth = 0.3;
  int least = 2;  ///< cells between two lines
};

/// Lines sorted, those outside left out, near-coincident ones merged; the ends stay where they are.
std::vector<double> tidy(std::vector<double> lines, Span on);

/// An axis with an edge on every line, graded between them. Takes little memory: gives up, returning too many
/// edges, once past `most` cells.
Axis graded_axis(const LineWishes& wishes, Span on, const CellSizes& sizes, Index most);

}  // namespace coldbay
