#pragma once

#include <limits>

namespace coldbay {

/// Stefan-Boltzmann constant [W/(m2 K4)] (CODATA 2018).
inline constexpr double stefan_boltzmann = 5.670374e-8;

/// A still, unventilated air space with heat flowing level through its thickness, as in a wall.
struct AirSpace {
  double thickness = 0.0;                                  ///< in the direction of heat flow [m]
  double width = std::numeric_limits<double>::infinity();  ///< across the heat flow [m]
  double emissivity_warm = 0.9;
  double emissivity_cold = 0.9;
  double mean_temperature = 10.0;  ///< [degC]
  double difference = 5.0;         ///< between its warm and cold faces [K]
};

/// Thermal resistance [m2 K/W] of an air space for level heat flow.
///
///     R = 1 / (ha + hr)
///     ha = max(1.25, 0.025 / d), with 0.73 dT^(1/3) for 1.25 where dT > 5 K
///     hr = E 4 sigma Tm^3,  E = 1 / (1/e1 + 1/e2 - 1)                       for a layer, b >= 10 d
///     hr = E 4 sigma Tm^3 (1 + sqrt(1 + (d/b)^2) - d/b) / 2                 for a small space, b < 10 d
///
/// Source: [ISO6946], the annex on airspaces (2007 Annex B, 2017 Annex D); clause numbers from
/// memory. Throws ModelError where a size is not positive or an emissivity not in (0, 1].
double air_space_resistance(const AirSpace& space);

}  // namespace coldbay
