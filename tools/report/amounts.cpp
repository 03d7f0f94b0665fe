#include "tools/report/amounts.hpp"

#include <fmt/core.h>

#include <cmath>

namespace coldbay {
namespace {

/// Never "-0.0".
std::string fixed(double value, int decimals) {
  const double least = 0.5 * std::pow(10.0, -decimals);
  return fmt::format("{:.{}f}", std::abs(value) < least ? 0.0 : value, decimals);
}

}  // namespace

std::string heat_text(double W_per_m, UnitSystem units) {
  // 1 W/m = 3.412142 Btu/h over 3.28084 ft, International Table
  return is_metric(units) ? fmt::format("{:.2f} W per metre", W_per_m)
                          : fmt::format("{:.2f} Btu/h per foot", W_per_m * 1.040021);
}

std::string length_text(double m, UnitSystem units) {
  return is_metric(units) ? fmt::format("{:.0f} mm", 1e3 * m) : fmt::format("{:.1f} in", m / 0.0254);
}

std::string temperature_text(double celsius, UnitSystem units, int decimals) {
  return is_metric(units) ? fixed(celsius, decimals) + " °C" : fixed(1.8 * celsius + 32.0, decimals) + " °F";
}

std::string difference_text(double kelvin, UnitSystem units) {
  return is_metric(units) ? fixed(kelvin, 1) + " K" : fixed(1.8 * kelvin, 1) + " °F";
}

std::string u_value_text(double U, UnitSystem units) {
  return is_metric(units) ? fmt::format("{:.4f} W/m2K", U)
                          : fmt::format("{:.4f} Btu/h·ft2·°F", U / ip_transmittance);
}

std::string distance_text(double metres, UnitSystem units) {
  return units == UnitSystem::metric ? fmt::format("{:.1f} m", metres)
                                     : fmt::format("{:.0f} ft", metres / 0.3048);
}

std::string per_kelvin_text(double W_per_K, UnitSystem units) {
  // 1 W/K = 1.895634 Btu/h F, International Table
  return units == UnitSystem::metric ? fmt::format("{:.3f} W/K", W_per_K)
                                     : fmt::format("{:.3f} Btu/h·°F", W_per_K * 1.895634);
}

std::string r_value_text(double U, UnitSystem units) {
  return is_metric(units) ? fmt::format("{:.3f} m2K/W", 1.0 / U)
                          : fmt::format("{:.2f} h·ft2·°F/Btu", ip_transmittance / U);
}

std::string signed_percent(double share) {
  const int decimals = std::abs(share) < 0.0995 ? 1 : 0;
  if (std::abs(share) < 0.0005) return "0.0 %";
  return fmt::format("{:+.{}f} %", 100.0 * share, decimals);
}

std::string row(std::string_view name, std::string_view text) {
  return fmt::format("  {:<19} {}\n", name, text);
}

}  // namespace coldbay
