#pragma once

#include <string>
#include <string_view>

#include "tools/input/quantity.hpp"

namespace coldbay {

/// 1 Btu/(h ft2 F) in W/(m2 K), from the International Table Btu, the foot and the degree Fahrenheit.
inline constexpr double ip_transmittance = 5.678263337;

inline bool is_metric(UnitSystem units) { return units == UnitSystem::metric; }
inline UnitSystem other(UnitSystem units) {
  return is_metric(units) ? UnitSystem::inch_pound : UnitSystem::metric;
}

/// Numbers as people of either system write them, from SI.
std::string heat_text(double W_per_m, UnitSystem units);     ///< "12.3 W per metre", "12.8 Btu/h per foot"
std::string length_text(double metres, UnitSystem units);    ///< "406 mm", "16.0 in"
std::string distance_text(double metres, UnitSystem units);  ///< as people pace it out: "2.5 m", "8 ft"
std::string temperature_text(double celsius, UnitSystem units, int decimals = 1);  ///< "17.2 °C", "63.0 °F"
std::string difference_text(double kelvin, UnitSystem units);                      ///< "0.9 K", "1.6 °F"
std::string u_value_text(double U, UnitSystem units);                              ///< "0.412 W/m2K"
std::string per_kelvin_text(double W_per_K, UnitSystem units);                     ///< "0.123 W/K"
std::string r_value_text(double U, UnitSystem units);  ///< of a U-value: "2.43 m2K/W"

/// "+15 %", "+1.5 %": a share, with no more digits than mean something.
std::string signed_percent(double share);

/// One line of a summary: what it is about, and what is said of it.
std::string row(std::string_view name, std::string_view text);

}  // namespace coldbay
