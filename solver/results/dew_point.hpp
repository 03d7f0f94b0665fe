#pragma once

namespace coldbay {

/// Water vapour pressure at saturation [Pa] over water (at 0 degC and above) or ice (below):
///
///     p = 610.5 exp(17.269 T / (237.3 + T)),   610.5 exp(21.875 T / (265.5 + T)),   T in degC.
///
/// Source: [ISO13788] Annex E (annex letter from memory).
double saturation_pressure(double celsius);

/// Temperature [degC] at which air of this temperature and relative humidity (0 to 1, above 0) begins to
/// condense: the inverse of the above.
double dew_point(double celsius, double relative_humidity);

}  // namespace coldbay
