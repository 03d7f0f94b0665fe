#pragma once

#include <cstddef>
#include <vector>

#include "geometry/section.hpp"
#include "geometry/wall/faults.hpp"
#include "geometry/wall/wall.hpp"

namespace coldbay {

/// One bay by itself between its posts, cut where what is wrong with it shows best: as built and built right.
struct BaySection {
  Section built, right;
  double at = 0.0;  ///< height above the floor of a plan, distance from the left stud of a vertical cut [m]
};

/// A vertical cut for what is wrong along the height (an end cut short, folded, slumped; what crosses the bay
/// from stud to stud), else a plan: through the middle
/// of a box that is what is wrong, or of the places that show most of the faults the one nearest to the
/// middle. `right` is the same wall as built_right() gives it. Throws ModelError where the bay cannot be cut:
/// the U-value of its opening is not known.
BaySection bay_section(const Wall& wall, const Wall& right, std::size_t bay,
                       const std::vector<Fault>& faults);

}  // namespace coldbay
