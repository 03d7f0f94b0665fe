#include "tools/report/amounts.hpp"

#include <fmt/format.h>

#include <cmath>

namespace coldbay {
namespace {

bool metric(UnitSystem units) { return units == UnitSystem::metric; }

/// One decimal, and never "-0.0".
std::string tenths(double value) { return fmt::format("{:.1f}", std::abs(value) < 0.05 ? 0.0 : value); }

}  // namespace

std::string length_text(double m, UnitSystem units) {
  return metric(units) ? fmt::format("{:.0f} mm", 1e3 * m) : fmt::format("{:.1f} in", m / 0.0254);
}

std::string temperature_text(double celsius, UnitSystem units) {
  return metric(units) ? tenths(celsius) + " °C" : tenths(1.8 * celsius + 32.0) + " °F";
}

std::string difference_text(double kelvin, UnitSystem units) {
  return metric(units) ? tenths(kelvin) + " K" : tenths(1.8 * kelvin) + " °F";
}

std::string u_value_text(double U, UnitSystem units) {
  return metric(units) ? fmt::format("{:.4f} W/m2K", U)
                       : fmt::format("{:.4f} Btu/h·ft2·°F", U / ip_transmittance);
}

std::string r_value_text(double U, UnitSystem units) {
  return metric(units) ? fmt::format("{:.3f} m2K/W", 1.0 / U)
                       : fmt::format("{:.2f} h·ft2·°F/Btu", ip_transmittance / U);
}

}  // namespace coldbay
