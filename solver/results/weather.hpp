#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace coldbay {

/// Weather outside, hour by hour, without a hole.
///
///     i   the hour that begins i hours after `start`; local time all through, with no clock put forward or
///     back
///
/// What the file does not give is an empty vector; the others have one value for each hour.
struct Weather {
  std::int64_t start = 0;           ///< hours since 1970-01-01 00:00, local
  std::vector<double> temperature;  ///< of the outside air [degC]
  std::vector<double> wind;         ///< [m/s]
  std::vector<double> sun;          ///< on a level surface, from the whole sky [W/m2]
  std::vector<double> rain;         ///< in the hour, of any kind [mm]

  std::size_t hours() const { return temperature.size(); }
  std::int64_t hour_at(std::size_t i) const { return start + static_cast<std::int64_t>(i); }
};

}  // namespace coldbay
