#pragma once

#include <vector>

#include "geometry/section.hpp"

namespace coldbay {

/// What a line between two materials is, and so how thick it is drawn.
enum class BorderKind {
  face,  ///< where the wall ends
  cut,   ///< between two materials
  joint  ///< between two pieces of one: the lumps of scraps
};

/// A stretch of such a line, in the section's metres.
struct Border {
  Point from, to;
  BorderKind kind = BorderKind::cut;
};

/// Every line that shows in a stretch of the first axis, each once, pieces in one line joined: where the
/// materials painted last on either side go by different names. Circles are taken as polygons.
std::vector<Border> borders(const Section& section, Span shown);

}  // namespace coldbay
