#pragma once

#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "tools/input/quantity.hpp"

namespace coldbay {

/// A length to be written beside a drawing: of what lies at `span` on one axis of the section and at `beside`
/// on the other [m].
struct Measure {
  bool in_depth = false;  ///< `span` runs in depth, else along the first axis
  Span span, beside;
  std::string text;
};

/// A length as a tape shows it: "3/4 in", "14-1/2 in" where the nearest sixteenth is within 0.3 mm of it,
/// else "0.31 in"; "368 mm", below 20 mm "12.7 mm".
std::string tape_text(double metres, UnitSystem units);

/// What a drawing of `section` should give the size of, within a stretch of its first axis: the clear width
/// of the bays, the depth of the frame, and every plain rectangle of air in the frame that `right`, the same
/// cut built right, has not got: its width where it takes all of the frame's depth, else its depth. For the
/// drawing of what is right, hand over the same section twice.
std::vector<Measure> measures_of(const Section& section, const Section& right, Span shown, UnitSystem units);

/// Where two cuts of a wall differ, on the first axis [m]: from the first place to the last. Empty, from ==
/// to, where they show the same.
Span difference_of(const Section& wrong, const Section& right);

/// The stretch to show. In a plan the bay and most of the posts beside it (`bay` is FacePart::clear). In a
/// vertical cut what differs and 250 mm on either side, at most 0.6 m of it; `bay` does not count there.
Span window_for(const Section& wrong, const Section& right, Span bay);

}  // namespace coldbay
