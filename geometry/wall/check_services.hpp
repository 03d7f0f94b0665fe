#pragma once

#include <vector>

#include "geometry/wall/fill.hpp"

namespace coldbay {

/// What cannot stand in a bay, or run through it, as described: things outside the bay, over each other, or
/// with no room for what is to lie behind or beside them. Adds to `problems`.
///
/// `members` are pieces of the frame within the bay.
void check_services(const Bay& bay, const Region& space, const std::vector<Region>& members,
                    std::vector<Problem>& problems);

}  // namespace coldbay
