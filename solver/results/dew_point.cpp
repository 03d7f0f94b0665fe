#include "solver/results/dew_point.hpp"

#include <cmath>

namespace coldbay {

double saturation_pressure(double celsius) {
  const double T = celsius;
  return 610.5 * (T >= 0.0 ? std::exp(17.269 * T / (237.3 + T)) : std::exp(21.875 * T / (265.5 + T)));
}

double dew_point(double celsius, double relative_humidity) {
  const double x = std::log(relative_humidity * saturation_pressure(celsius) / 610.5);
  return x >= 0.0 ? 237.3 * x / (17.269 - x) : 265.5 * x / (21.875 - x);
}

}  // namespace coldbay
