#pragma once

#include <vector>

#include "geometry/wall/fill.hpp"

namespace coldbay {

/// What cannot stand in a bay, or run through it, as described: things outside the bay, over each other, or
/// with no room for what is to lie behind or beside them. Adds to `problems`.
void check_services(const Bay& bay, const Region& space, std::vector<Problem>& problems);

}  // namespace coldbay
