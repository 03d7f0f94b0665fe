#pragma once

#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/handout/svg_drawing.hpp"

namespace coldbay {

/// A place where the dot of a leader may go, and how far the nearest line is [mm].
struct DotPlace {
  PaperPoint at;
  double clear = 0.0;
};

/// A name to be written beside a drawing, and the places of what it names.
struct LabelWish {
  std::string name;
  std::vector<DotPlace> places;  ///< at least one
};

/// A name that has found its place: the line runs from the dot over `bend` to the text.
struct PlacedLabel {
  Lettering text;
  PaperPoint dot, bend;
  double dot_radius = 0.0;  ///< [mm]; smaller on what is small, so that it still shows
};

/// Distance from one line of lettering to the next [mm].
inline constexpr double lettering_row = 3.5;

/// Names in rows above a drawing, each beside the upper end of an upright line to its dot: no text upon
/// another, no line through a text. Rows count upwards from `bottom` (the lowest baseline); texts keep within
/// `across`. A text without places (`unled`) goes wherever a row has room, the lowest first.
struct RowsOfLabels {
  std::vector<PlacedLabel> labels;
  std::vector<Lettering> unled;
  double height = 0.0;  ///< from the lowest baseline to the top of the highest text
};
RowsOfLabels labels_above(const std::vector<LabelWish>& wishes, const std::vector<std::string>& unled,
                          PaperBox across, double bottom);

/// Names in a column left of a drawing, ending at `right`, from `top` down; lines run level where they can.
/// `lowest` becomes the bottom of the last text.
std::vector<PlacedLabel> labels_beside(const std::vector<LabelWish>& wishes, double right, double widest,
                                       double top, double& lowest);

}  // namespace coldbay
