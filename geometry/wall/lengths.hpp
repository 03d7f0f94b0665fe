#pragma once

#include <fmt/core.h>

#include <string>

namespace coldbay {

inline constexpr double same_place = 1e-9;    ///< rounding of sums of metres [m]
inline constexpr double same_measure = 1e-6;  ///< rounding of inches and millimetres as people write them [m]

/// "12.7 mm", for messages.
inline std::string mm(double metres) { return fmt::format("{:.1f} mm", 1e3 * metres); }

}  // namespace coldbay
