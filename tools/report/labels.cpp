#include "tools/report/labels.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <cmath>

#include "tools/input/quantity.hpp"

namespace coldbay {
namespace {

// Exact by definition of the inch, the pound and the international table Btu:
// 1 W/(m K) = 6.93347 Btu in/(h ft2 F), 1 m2 K/W = 5.67826 h ft2 F/Btu.
constexpr double square_metres_per_square_foot = 144.0 * metres_per_inch * metres_per_inch;
constexpr double watts_per_btu_per_hour = joules_per_btu / 3600.0;
constexpr double inch_pound_per_si_conductivity =
    square_metres_per_square_foot * kelvin_per_degree_fahrenheit / (watts_per_btu_per_hour * metres_per_inch);
constexpr double inch_pound_per_si_resistance =
    watts_per_btu_per_hour / (square_metres_per_square_foot * kelvin_per_degree_fahrenheit);

std::string_view conductivity_unit(LengthUnit unit) {
  return unit == LengthUnit::inch ? "Btu·in/h·ft²·°F" : "W/mK";
}

double in_conductivity_unit(double conductivity, LengthUnit unit) {
  return unit == LengthUnit::inch ? conductivity * inch_pound_per_si_conductivity : conductivity;
}

/// `digits` significant digits, and no exponent for anything that conducts heat.
std::string significant(double value, int digits) {
  if (!(value > 0.0) || !std::isfinite(value)) return fixed_number(value, 3);
  const int magnitude = static_cast<int>(std::floor(std::log10(value)));
  return fixed_number(value, std::clamp(digits - 1 - magnitude, 0, 6));
}

/// Three digits, as libraries give conductivities; a fourth decimal only where it says something.
std::string conductivity_number(double value) {
  std::string text = significant(value, 3);
  if (value < 0.1 && text.size() == std::string_view("0.0350").size() && text.back() == '0') text.pop_back();
  return text;
}

}  // namespace

std::string fixed_number(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.front() != '-') return text;
  text.erase(0, 1);
  const bool is_zero = text.find_first_not_of("0.") == std::string::npos;
  return is_zero ? text : "−" + text;
}

std::string short_number(double value, int most_decimals) {
  std::string text = fixed_number(value, most_decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

double degrees(double celsius, TemperatureUnit unit) {
  return unit == TemperatureUnit::fahrenheit ? 1.8 * celsius + 32.0 : celsius;
}

std::string_view symbol(TemperatureUnit unit) { return unit == TemperatureUnit::fahrenheit ? "°F" : "°C"; }

std::string temperature_text(double celsius, TemperatureUnit unit, int decimals) {
  return fmt::format("{} {}", fixed_number(degrees(celsius, unit), decimals), symbol(unit));
}

double metres_per(LengthUnit unit) { return unit == LengthUnit::inch ? metres_per_inch : 0.001; }

double in_length_unit(double metres, LengthUnit unit) { return metres / metres_per(unit); }

std::string_view symbol(LengthUnit unit) { return unit == LengthUnit::inch ? "in" : "mm"; }

std::string length_text(double metres, LengthUnit unit) {
  const int decimals = unit == LengthUnit::inch ? 1 : 0;
  return fmt::format("{} {}", short_number(in_length_unit(metres, unit), decimals), symbol(unit));
}

std::string conductivity_text(double conductivity, LengthUnit unit) {
  return fmt::format("{} {}", conductivity_number(in_conductivity_unit(conductivity, unit)),
                     conductivity_unit(unit));
}

std::string conductivity_text(double lowest, double highest, LengthUnit unit) {
  const std::string low = conductivity_number(in_conductivity_unit(lowest, unit));
  const std::string high = conductivity_number(in_conductivity_unit(highest, unit));
  if (low == high) return conductivity_text(lowest, unit);
  return fmt::format("{} to {} {}", low, high, conductivity_unit(unit));
}

std::string air_conductivities_text(std::vector<double> conductivities, LengthUnit unit) {
  constexpr std::size_t most = 3;
  std::sort(conductivities.begin(), conductivities.end());
  std::vector<std::string> different;
  for (const double conductivity : conductivities) {
    std::string text = significant(in_conductivity_unit(conductivity, unit), 2);
    if (different.empty() || text != different.back()) different.push_back(std::move(text));
  }
  if (different.empty()) return "by its size";
  if (different.size() > most)
    return fmt::format("{} to {} {}", different.front(), different.back(), conductivity_unit(unit));
  std::string list;
  for (std::size_t i = 0; i < different.size(); ++i) {
    const bool closes = i + 1 == different.size();
    list += (i == 0 ? "" : closes ? " and " : ", ") + different[i];
  }
  return fmt::format("{} {}", list, conductivity_unit(unit));
}

std::string exchange_text(std::string_view side, const Exchange& exchange, const PictureStyle& style) {
  const std::string temperature = fmt::format(
      "{} {}", short_number(degrees(exchange.temperature, style.temperature), 1), symbol(style.temperature));
  if (exchange.film == 0.0) return fmt::format("{}: surface held at {}", side, temperature);
  const bool inch_pound = style.length == LengthUnit::inch;
  const double film = inch_pound ? exchange.film * inch_pound_per_si_resistance : exchange.film;
  return fmt::format("{} {}, film {} {}", side, temperature, short_number(film, 3),
                     inch_pound ? "h·ft²·°F/Btu" : "m²K/W");
}

}  // namespace coldbay
