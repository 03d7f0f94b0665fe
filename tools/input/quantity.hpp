#pragma once

#include <string>
#include <string_view>
#include <variant>

namespace coldbay {

// Exact by definition of the inch, the foot, the degree Fahrenheit and the International Table Btu.
inline constexpr double metres_per_inch = 0.0254;
inline constexpr double metres_per_foot = 0.3048;
inline constexpr double kelvin_per_degree_fahrenheit = 5.0 / 9.0;
inline constexpr double joules_per_btu = 1055.05585262;

/// The system a bare number is in, and the one answers are given in.
enum class UnitSystem { metric, inch_pound };

/// What a number measures. A temperature and a difference of temperatures are different things: a
/// difference of 18 °F is 10 K, a temperature of 18 °F is -7.8 °C.
enum class Quantity {
  length,                  ///< SI: m
  temperature,             ///< degC
  temperature_difference,  ///< K
  conductivity,            ///< W/(m K)
  resistance,              ///< m2 K/W
  transmittance,           ///< W/(m2 K)
  heat_per_length,         ///< W/m
  fraction,                ///< 0 to 1
  density,                 ///< kg/m3
  specific_heat,           ///< J/(kg K)
  airflow_resistivity,     ///< Pa s/m2
  degree_time,             ///< K s: degree days
  angle,                   ///< rad
  number                   ///< without a unit
};

/// Reads a number with an optional unit: `89 mm`, `3-1/2 in`, `8 ft 1-1/8 in`, `0.035 W/mK`,
/// `2.3 m2K/W`, `13 h·ft2·°F/Btu`, `R-13`, `-5 °C`, `35 %`, `45°`. A bare number takes the unit of the
/// system, an angle degrees, an airflow resistivity Pa s/m2:
///
///     metric       mm   °C   K    W/mK               m2K/W          W/m2K
///     inch-pound   in   °F   °F   Btu·in/h·ft2·°F    h·ft2·°F/Btu   Btu/h·ft2·°F
///
/// and degree days K day or °F day.
///
/// Independent of the locale; only decimal digits are numbers ("010" is ten, "0x10", "nan" and "inf"
/// are refused). Returns the value in SI, or in words what is wrong with the text.
std::variant<double, std::string> parse_quantity(std::string_view text, Quantity quantity, UnitSystem system);

/// What a quantity looks like when written right: "a length such as 89 mm or 3-1/2 in".
std::string example_of(Quantity quantity);

/// The unit behind a number as it was written: "in" for "3-1/2 in"; empty where there is none.
std::string unit_of(std::string_view number);

/// A unit as UDUNITS-2 writes it, the grammar of the CF conventions: "W m-2 K-1" for "W/m2K". Empty where it
/// is not known.
std::string udunits_of(std::string_view unit);

/// The part of `text` from the last stretch that reads as a quantity on, and the words before it:
/// "gypsum board 1/2 in" gives {"gypsum board", "1/2 in"}. The second is empty where there is none.
struct WordsAndNumber {
  std::string words, number;
};
WordsAndNumber split_number(std::string_view text);

}  // namespace coldbay
