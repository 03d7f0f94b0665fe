#pragma once

#include "geometry/section.hpp"

namespace coldbay {

inline constexpr double touching = 1e-7;  ///< points this close are one [m]

/// A section with the shapes a draughtsman would draw in place of those the solver wants. A taper or a round
/// in steps becomes slants from step to step, of the same area but for a hollow round's, a tenth more; the
/// square of a hollow pipe or conduit becomes a circle of the same area, its wall as thick. Everything else,
/// and the order of painting, is as it was.
Section as_drawn(const Section& section);

/// The outline's corners, one after the other; a circle has 48, of the same area.
std::vector<Point> corners_of(const Outline& outline);

}  // namespace coldbay
