#include "materials/air_space.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "materials/air_properties.hpp"
#include "materials/model_error.hpp"

namespace coldbay {
namespace {

void require_emissivity(double e) {
  if (!(e > 0.0 && e <= 1.0))
    throw ModelError("", fmt::format("an emissivity of {} is not above 0 and at most 1", e));
}

double convection_of_layer(const AirSpace& space) {
  const double d = space.thickness, dT = std::abs(space.difference);
  const bool gentle = dT <= 5.0;
  double c = 0.0;
  switch (space.flow) {
    case HeatFlow::level:
      c = gentle ? 1.25 : 0.73 * std::cbrt(dT);
      break;
    case HeatFlow::up:
      c = gentle ? 1.95 : 1.14 * std::cbrt(dT);
      break;
    case HeatFlow::down:
      c = (gentle ? 0.12 : 0.09 * std::pow(dT, 0.187)) * std::pow(d, -0.44);
      break;
  }
  return std::max(c, still_air_conductivity / d);
}

double convection_of_cavity(const AirSpace& space) {
  if (space.flow != HeatFlow::level)
    throw ModelError("", "the rule for frame cavities is for heat that flows level");
  const double still = still_air_conductivity / space.thickness;
  return space.width < 0.005 ? still : std::max(still, 0.73 * std::cbrt(std::abs(space.difference)));
}

}  // namespace

double radiative_coefficient(const AirSpace& space, AirRule rule) {
  const double d = space.thickness, b = space.width;
  if (!(d > 0.0 && b > 0.0)) throw ModelError("", "an air space needs a thickness and a width above zero");
  require_emissivity(space.emissivity_warm);
  require_emissivity(space.emissivity_cold);
  const double E = 1.0 / (1.0 / space.emissivity_warm + 1.0 / space.emissivity_cold - 1.0);
  const double T = space.mean_temperature + 273.15;
  const double aspect = d / b;
  const bool is_layer = rule == AirRule::layer && b >= 10.0 * d;
  const double F = is_layer ? 1.0 : 0.5 * (1.0 + std::sqrt(1.0 + aspect * aspect) - aspect);
  return E * 4.0 * stefan_boltzmann * T * T * T * F;
}

double air_space_resistance(const AirSpace& space, AirRule rule) {
  const double h_r = radiative_coefficient(space, rule);
  const double h_a = rule == AirRule::layer ? convection_of_layer(space) : convection_of_cavity(space);
  return 1.0 / (h_a + h_r);
}

}  // namespace coldbay
