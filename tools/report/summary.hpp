#pragma once

#include <string>

#include <cstddef>

#include "tools/outcome.hpp"

namespace coldbay {

/// What a person reads first about one section: U and R in both systems, the two limits, what the room
/// face shows, bay by bay, what it costs against the same section built right, the evidence, and what is not
/// modelled.
std::string summary(const Case& c, std::size_t index, const Outcome& outcome);

}  // namespace coldbay
