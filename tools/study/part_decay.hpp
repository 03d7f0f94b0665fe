#pragma once

#include <cstddef>
#include <vector>

#include "geometry/section.hpp"

namespace coldbay {

/// How fast a difference along a section dies away: the longest length of any column between two places, as
/// decay_along() has it [m].
double slowest_decay(const Section& section, Span across, const Surroundings& air);

/// How far to go from the edge of a part for a difference to die away by exp(-lengths), each part on the way
/// letting it by its own length: from the beginning of part `at` to the left, or from its beginning, behind
/// the last part that changes, to the right. No cut lies within 50 mm of a stud; where the section ends
/// before, to its end [m].
double beside(const std::vector<FacePart>& parts, const std::vector<double>& decay, std::size_t at, bool left,
              double lengths);

}  // namespace coldbay
