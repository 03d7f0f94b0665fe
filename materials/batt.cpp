#include "materials/batt.hpp"

#include <fmt/format.h>

#include <cmath>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr double a = 0.02271, b = 2.353e-4, c = 0.150;

}  // namespace

double fibre_conductivity(double density) { return a + b * density + c / density; }

double label_density(const Batt& batt) {
  // b rho^2 - (k - a) rho + c = 0
  const double p = batt.conductivity - a, discriminant = p * p - 4.0 * b * c;
  if (!(p > 0.0 && discriminant > 0.0)) return std::sqrt(c / b);
  return (p - std::sqrt(discriminant)) / (2.0 * b);
}

double squeezed_conductivity(const Batt& batt, double thickness) {
  const double share = thickness / batt.thickness;
  if (!(share <= 1.0 + 1e-9 && share >= least_thickness_share))
    throw ModelError("", fmt::format("a batt of {:.1f} mm cannot be reckoned at {:.1f} mm",
                                     1e3 * batt.thickness, 1e3 * thickness));
  const double density = label_density(batt);
  return batt.conductivity * fibre_conductivity(density / share) / fibre_conductivity(density);
}

}  // namespace coldbay
