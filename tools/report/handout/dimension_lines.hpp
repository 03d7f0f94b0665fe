#pragma once

#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/handout/svg_drawing.hpp"

namespace coldbay {

/// A length on the paper: between two places along the line it will be written at, and where the thin lines
/// that lead out to it begin [mm].
struct PaperMeasure {
  Span span;
  double begins = 0.0;
  std::string text;
};

/// Dimension lines with an oblique stroke at either end: the path of all lines, and what is written at them.
struct Dimensions {
  std::string path;
  std::vector<Lettering> texts;
  std::vector<Span> first_row = {};  ///< what the row closest to the edge below takes of it [mm]
  double reach = 0.0;  ///< how far they take up the paper, from the edge that they stand at [mm]
};

/// Below an edge at `y`: short ones first, in rows; those whose text is wider than they are have it beside
/// them, within `limits` in x.
Dimensions dimensions_below(std::vector<PaperMeasure> measures, double y, Span limits);

/// Right of an edge at `x`, or left of it. Texts are read from the right where they fit so, else level.
Dimensions dimensions_beside(std::vector<PaperMeasure> measures, double x, bool leftwards);

}  // namespace coldbay
