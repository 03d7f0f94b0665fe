#include "materials/air_space.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

void require_emissivity(double e) {
  if (!(e > 0.0 && e <= 1.0))
    throw ModelError("", fmt::format("an emissivity of {} is not above 0 and at most 1", e));
}

}  // namespace

double air_space_resistance(const AirSpace& space) {
  const double d = space.thickness, b = space.width;
  if (!(d > 0.0 && b > 0.0)) throw ModelError("", "an air space needs a thickness and a width above zero");
  require_emissivity(space.emissivity_warm);
  require_emissivity(space.emissivity_cold);
  const double dT = std::abs(space.difference);
  const double h_a = std::max(dT > 5.0 ? 0.73 * std::cbrt(dT) : 1.25, 0.025 / d);
  const double E = 1.0 / (1.0 / space.emissivity_warm + 1.0 / space.emissivity_cold - 1.0);
  const double T = space.mean_temperature + 273.15;
  const double h_r0 = 4.0 * stefan_boltzmann * T * T * T;
  const double aspect = d / b;
  const double view = b < 10.0 * d ? 0.5 * (1.0 + std::sqrt(1.0 + aspect * aspect) - aspect) : 1.0;
  return 1.0 / (h_a + E * h_r0 * view);
}

}  // namespace coldbay
