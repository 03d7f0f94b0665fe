#include "materials/alike.hpp"

#include <algorithm>
#include <cmath>

namespace coldbay {

bool nearly(double a, double b) {
  constexpr double rounding = 1e-9;
  return std::abs(a - b) <= rounding * std::max(std::abs(a), std::abs(b));
}

bool nearly(const std::optional<double>& a, const std::optional<double>& b) {
  return a.has_value() == b.has_value() && (!a || nearly(*a, *b));
}

bool conduct_alike(const Material& a, const Material& b) {
  if (a.law.has_value() != b.law.has_value()) return false;
  if (a.law) {
    const TemperatureLaw &x = *a.law, &y = *b.law;
    if (!nearly(x.k0, y.k0) || !nearly(x.k1, y.k1) || !nearly(x.k2, y.k2) || !nearly(x.k3, y.k3) ||
        x.from != y.from || x.to != y.to)
      return false;
  }
  return a.is_air_space == b.is_air_space && nearly(a.conductivity, b.conductivity) &&
         nearly(a.emissivity, b.emissivity) && nearly(a.along_grain, b.along_grain);
}

}  // namespace coldbay
