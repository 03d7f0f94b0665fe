#pragma once

#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "tools/report/handout/hatching.hpp"
#include "tools/report/handout/measures.hpp"
#include "tools/report/handout/svg_drawing.hpp"

namespace coldbay {

/// A cut to be drawn, and the words at it. All borrowed things outlive the drawing.
///
///     plan      first axis to the right, outside above; cut off by a break line at both ends
///     vertical  first axis up, outside on the left, the room on the right; a break line where the wall goes
///     on
struct SectionView {
  const Section* section = nullptr;
  Span shown;                           ///< stretch of the section's first axis [m]
  double width_mm = 90.0;               ///< of the whole drawing; an upright one may be narrower
  const HatchTable* hatches = nullptr;  ///< of the page; materials it lacks are drawn white
  std::vector<Measure> measures = {};
  std::string id;  ///< letters, digits and hyphens: the beginning of every id, one of a kind in its page
  std::string title, description;  ///< for those who do not see it
  std::string outside = "outside", room = "room";
  Translate material = {};
};

/// The drawing, true to scale, with a name for every material that shows.
SvgDrawing section_svg(const SectionView& view);

/// Two cuts to be compared: of one scale, and level where they stand side by side.
struct SectionPair {
  SvgDrawing wrong, right;
};
SectionPair section_pair(const SectionView& wrong, const SectionView& right);

}  // namespace coldbay
