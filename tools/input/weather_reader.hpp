#pragma once

#include <vector>

#include "solver/results/weather.hpp"
#include "tools/input/input_error.hpp"

namespace coldbay {

/// A weather file, read, and what is worth telling of it: columns that are not used.
struct WeatherFile {
  Weather weather;
  std::vector<InputError> notes;
};

/// Reads hourly weather from separated values (RFC 4180).
///
///     time,temperature [°C],wind [m/s],sun [W/m2],rain [mm]
///     2026-01-14T05:00,-3.5,1.2,0,0
///
/// Fields are separated by a tab, a semicolon or a comma, whichever of them stands in the header, looked for
/// in that order. Columns in any order; time (local, on the hour, with a T or a blank before it) and
/// temperature must be there. Units of temperature °C, °F; of wind m/s, km/h, mph, knots; of sun W/m2; of
/// rain mm, in. Decimals stand after a point, or all of them after a comma where the separator is none.
/// UTF-8, with a byte order mark or not; lines end in LF or CRLF; empty ones are passed over. Independent of
/// the locale.
///
/// Throws InputErrors for all that is wrong, most_errors at most: an empty file, no header, a column that is
/// missing, there twice or in an unknown unit, another separator than the header's, a line with too few or
/// too many fields, what is no time or no number, weather that cannot be, hours that are missing, there
/// twice, or out of order. No hour is guessed.
WeatherFile read_weather(const SourceText& source);

}  // namespace coldbay
