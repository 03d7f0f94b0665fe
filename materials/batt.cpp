#include "materials/batt.hpp"

#include <fmt/core.h>

#include <cmath>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr double a = 0.02271, b = 2.353e-4, c = 0.150;
constexpr double air_0 = 0.0241, air_per_K = 7.5e-5, air_24 = 0.0259;  // [W/(m K)]; from memory
constexpr double zero = 273.15, at_24 = 297.15;                        // [K]

}  // namespace

double fibre_conductivity(double density, double celsius) {
  const double air = (air_0 + air_per_K * celsius) / air_24,
               radiation = std::pow((celsius + zero) / at_24, 3);
  return a * air + b * density + c * radiation / density;
}

double label_density(const Batt& batt) {
  // b rho^2 - (k - a A) rho + c B = 0
  const double T = batt.label_temperature;
  const double p = batt.conductivity - a * (air_0 + air_per_K * T) / air_24;
  const double radiation = c * std::pow((T + zero) / at_24, 3), discriminant = p * p - 4.0 * b * radiation;
  if (!(p > 0.0 && discriminant > 0.0)) return std::sqrt(radiation / b);
  return (p - std::sqrt(discriminant)) / (2.0 * b);
}

double squeezed_density(const Batt& batt, double thickness) {
  const double share = thickness / batt.thickness;
  if (!(share <= 1.0 + 1e-9 && share >= least_thickness_share))
    throw ModelError("", fmt::format("a batt of {:.1f} mm cannot be reckoned at {:.1f} mm",
                                     1e3 * batt.thickness, 1e3 * thickness));
  return label_density(batt) / share;
}

double squeezed_resistivity(double of_label, double squeezed) { return of_label * std::pow(squeezed, 1.42); }

TemperatureLaw batt_law(const Batt& batt, double density) {
  const double scale = batt.conductivity / fibre_conductivity(label_density(batt), batt.label_temperature);
  // (T + zero)^3 written out
  const double air = scale * a / air_24, radiation = scale * c / density / (at_24 * at_24 * at_24);
  TemperatureLaw law;
  law.k0 = air * air_0 + scale * b * density + radiation * zero * zero * zero;
  law.k1 = air * air_per_K + radiation * 3.0 * zero * zero;
  law.k2 = radiation * 3.0 * zero;
  law.k3 = radiation;
  law.from = -40.0;
  law.to = 80.0;
  return law;
}

}  // namespace coldbay
