#pragma once

#include <cstddef>
#include <string>

#include "tools/outcome.hpp"

namespace coldbay {

/// What the workmanship of one section costs against the same section built right, bay by bay; nothing where
/// it shows no fault.
std::string effect_rows(const Case& c, std::size_t index, const Outcome& o);

/// The wall as a whole: framing, U, extra heat, and how much of it is badly filled against the reader's
/// limits. Nothing for a drawn section.
std::string wall_summary(const Case& c, const Outcomes& all);

}  // namespace coldbay
