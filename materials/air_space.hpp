#pragma once

#include <limits>

namespace coldbay {

/// Stefan-Boltzmann constant [W/(m2 K4)] (CODATA 2018).
inline constexpr double stefan_boltzmann = 5.670374e-8;

/// Which way the heat goes through an air space: level in a wall.
enum class HeatFlow { level, up, down };

/// Whose rule for still air: [ISO6946] for layers and small spaces in walls, or [ISO10077] for the
/// cavities of frames. They differ below 5 K, where the first takes no less convection than at 5 K.
enum class AirRule { layer, cavity };

/// A still, unventilated air space.
struct AirSpace {
  double thickness = 0.0;                                  ///< in the direction of heat flow, d [m]
  double width = std::numeric_limits<double>::infinity();  ///< across the heat flow, b [m]
  double emissivity_warm = 0.9;
  double emissivity_cold = 0.9;
  double mean_temperature = 10.0;  ///< [degC]
  double difference = 5.0;         ///< between its warm and cold faces [K]
  HeatFlow flow = HeatFlow::level;
};

/// Thermal resistance [m2 K/W] of an air space:  R = 1 / (ha + hr).
///
/// hr = E 4 sigma Tm^3 F,  E = 1 / (1/e1 + 1/e2 - 1),  F = (1 + sqrt(1 + (d/b)^2) - d/b) / 2
///
/// AirRule::layer, [ISO6946], the annex on airspaces (2007 Annex B, 2017 Annex D), dT the difference:
///   ha = max(0.025/d, c)                      dT <= 5 K          dT > 5 K
///   level                                c =  1.25               0.73 dT^(1/3)
///   up                                   c =  1.95               1.14 dT^(1/3)
///   down                                 c =  0.12 d^-0.44       0.09 dT^0.187 d^-0.44
///   F = 1 for a layer, b >= 10 d
/// AirRule::cavity, [ISO10077] 6.3 (2003 and 2012), single equivalent conductivity, level flow only:
///   ha = max(0.025/d, 0.73 dT^(1/3)),  0.025/d alone where b < 5 mm
///
/// Clause numbers and constants from memory; the tests reproduce the standards' own tables. Throws ModelError
/// where a size is not positive, an emissivity not in (0, 1], or the cavity rule is asked for flow up or
/// down.
double air_space_resistance(const AirSpace& space, AirRule rule = AirRule::layer);

/// The part of radiation in that, hr [W/(m2 K)].
double radiative_coefficient(const AirSpace& space, AirRule rule = AirRule::layer);

}  // namespace coldbay
