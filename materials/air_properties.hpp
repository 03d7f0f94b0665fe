#pragma once

namespace coldbay {

/// Dry air at sea level, at one temperature.
struct AirProperties {
  double density = 0.0;        ///< [kg/m3]
  double viscosity = 0.0;      ///< dynamic [Pa s]
  double conductivity = 0.0;   ///< [W/(m K)]
  double specific_heat = 0.0;  ///< at constant pressure [J/(kg K)]
  double expansion = 0.0;      ///< by volume, at constant pressure [1/K]
};

/// What conducts in a gap where the air stands still, in the rule for air spaces (materials/air_space.hpp)
/// and so wherever a moving layer has to agree with a still one [W/(m K)]; [ISO6946].
inline constexpr double still_air_conductivity = 0.025;

inline constexpr double gravity = 9.80665;       ///< standard, by definition [m/s2]
inline constexpr double rounded_gravity = 9.81;  ///< as the estimate's check values take it [m/s2]

/// Air at a temperature [degC], T in kelvin:
///
///   density        p / (R T), p = 101325 Pa, R = 287.05 J/(kg K)
///   expansion      1 / T
///   viscosity      1.716e-5 (T/273)^1.5 (273 + 111)/(T + 111)      [Sutherland1893], constants of
///   [White1991] conductivity   0.0241 (T/273)^1.5 (273 + 194)/(T + 194)        the same specific heat  1006
///
/// All from memory; within 1 % of a handbook's table between 250 and 300 K. Moisture, and height above the
/// sea, change each by a few per cent at most (2 km up: the density by a fifth). Throws ModelError at or
/// below absolute zero.
AirProperties dry_air(double celsius);

/// How easily air gets through a porous material [m2]: viscosity over airflow resistivity [Pa s/m2] (Darcy's
/// law; the definition of airflow resistivity in ISO 9053-1, from memory). Throws ModelError where the
/// resistivity is not positive.
double permeability(double airflow_resistivity, const AirProperties& air);

}  // namespace coldbay
