#pragma once

#include "solver/results/face_map.hpp"

// Where a wall's face is cold enough for mould or for dew. Relative humidities from 0 to 1.

namespace coldbay {

/// Relative humidity at a surface above which mould may grow, where it lasts for days ([ISO13788]).
inline constexpr double mould_humidity = 0.8;

/// Relative humidity of the room's air where it has come down to a surface's temperature: its vapour over
/// what the air there can hold. Above 1 where dew falls.
double humidity_at_surface(double surface, double air, double humidity);

/// The surface temperature [degC] at which the humidity there is `critical`; the dew point where that is 1:
///
///     p_sat(T) = humidity p_sat(air) / critical                                  [ISO13788].
double critical_surface_temperature(double air, double humidity, double critical = mould_humidity);

/// fRsi = (T_surface - T_outside) / (T_inside - T_outside) [ISO13788]. Inside and outside must differ.
double temperature_factor(double surface, double inside, double outside);

/// The least fRsi with which a surface stays below the critical humidity, fRsi,min of [ISO13788]; for an
/// inside warmer than outside. 0 or less where even a surface as cold as outside stays below it.
double required_temperature_factor(double inside, double humidity, double outside,
                                   double critical = mould_humidity);

/// A part of the face that is at risk.
struct AreaBelow {
  double area = 0.0;   ///< [m2]
  double share = 0.0;  ///< of the face
};

/// The part of the face colder than a threshold [degC]. The temperature is bilinear between the middles of
/// the cells, as temperature_on has it, and the area is that of its isotherm exactly, to 1e-9 of the face;
/// how far the isotherm is from the true one is a matter of the map.
AreaBelow area_below(const FaceMap& face, double threshold);

/// The coldest point of the face, the first of them from the left and from the floor where several are equal:
/// a bilinear map has its extremes in the middles of cells.
struct ColdestPoint {
  double celsius = 0.0, across = 0.0, up = 0.0;  ///< [degC], [m]
};
ColdestPoint coldest_point(const FaceMap& face);

}  // namespace coldbay
