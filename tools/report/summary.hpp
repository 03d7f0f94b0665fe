#pragma once

#include <string>

#include "solver/forecast.hpp"
#include "tools/input/case.hpp"

namespace coldbay {

/// What a person reads first about one section: U and R in both systems, the two limits, what the room
/// face shows, bay by bay, the evidence, and what is not modelled.
std::string summary(const Case& c, const Section& section, const Forecast& forecast);

}  // namespace coldbay
