#include "solver/results/radiometry.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr double zero_celsius = 273.15;                                                   // [K], exact
constexpr double planck = 6.62607015e-34, light = 299792458.0, boltzmann = 1.380649e-23;  // SI, exact
constexpr double pi = std::numbers::pi;
constexpr double second_constant = planck * light / boltzmann;  // [m K]
/// 2 pi k^4 / (h^3 c^2): the front of Planck's law over x = hc/(lkT). Times pi^4/15 it is sigma.
constexpr double front = 2.0 * pi * (boltzmann / planck) * (boltzmann / planck) * (boltzmann / planck) *
                         boltzmann / (light * light);
constexpr double sigma = front * pi * pi * pi * pi / 15.0;    // 5.670374e-8 W/(m2 K4)
constexpr double room = 293.15;                               // [K]
constexpr double shortest_wave = 8e-6, longest_wave = 14e-6;  // [m]

/// Integral of t^3/(e^t - 1) from x on, term by term of 1/(e^t - 1) = sum of e^-nt:
/// sum of e^-nx (x^3/n + 3 x^2/n^2 + 6 x/n^3 + 6/n^4). A textbook series; at 20 degC ten terms are enough.
double tail(double x) {
  const double e = std::exp(-x);
  double power = e, sum = 0.0;
  for (int n = 1; n < 200; ++n, power *= e) {
    const double i = 1.0 / n;
    const double term = power * i * (x * x * x + 3.0 * i * (x * x + 2.0 * i * (x + i)));
    sum += term;
    if (term < 1e-15 * sum) break;
  }
  return sum;
}

struct Value {
  double radiance, slope;
};

/// d/dT of T^4 (tail(x_longest) - tail(x_shortest)) needs no second series, since x ~ 1/T.
Value in_band(double T) {
  const double x1 = second_constant / (longest_wave * T), x2 = second_constant / (shortest_wave * T);
  const auto edge = [](double x) { return x * x * x * x / std::expm1(x); };
  const double cube = front * T * T * T, integral = tail(x1) - tail(x2);
  return {cube * T * integral, cube * (4.0 * integral + edge(x1) - edge(x2))};
}

Value value_at(double celsius, Band band) {
  const double T = celsius + zero_celsius;
  if (T <= 0.0) return {0.0, 0.0};
  if (band == Band::all) return {sigma * T * T * T * T, 4.0 * sigma * T * T * T};
  return in_band(T);
}

}  // namespace

void require_emissivity(double emissivity) {
  if (!(emissivity > 0.0 && emissivity <= 1.0))
    throw ModelError("camera.emissivity",
                     fmt::format("an emissivity of {} is not above 0 and at most 1", emissivity));
}

double radiance(double celsius, Band band) { return value_at(celsius, band).radiance; }

double radiance_slope(double celsius, Band band) { return value_at(celsius, band).slope; }

double radiant_temperature(double radiance, Band band) {
  if (!(radiance > 0.0)) return radiance == 0.0 ? -zero_celsius : std::numeric_limits<double>::quiet_NaN();
  const double of_all = std::sqrt(std::sqrt(radiance / sigma));
  if (band == Band::all) return of_all - zero_celsius;
  // The logarithm is nearly straight over 1/T (one wavelength's would be quite), so Newton's steps are taken
  // there: the first from 20 degC, which is known, then one or two.
  static const Value at_room = in_band(room);
  const double wanted = std::log(radiance);
  double T = room;
  Value here = at_room;
  for (int i = 0; i < 100; ++i) {
    const double step = (wanted - std::log(here.radiance)) * here.radiance / (here.slope * T);
    const double next = T / std::max(1.0 - step, 0.1);
    const bool settled = std::abs(next - T) < 1e-4;  // what is left is its square over T, times less than 1
    T = next;
    if (settled) break;
    here = in_band(T);
  }
  return T - zero_celsius;
}

double received(double surface, double emissivity, double reflected, Band band) {
  require_emissivity(emissivity);
  return emissivity * radiance(surface, band) + (1.0 - emissivity) * radiance(reflected, band);
}

double apparent_temperature(double surface, double emissivity, double reflected, Band band) {
  return radiant_temperature(received(surface, emissivity, reflected, band), band);
}

double surface_behind(double apparent, double emissivity, double reflected, Band band) {
  require_emissivity(emissivity);
  const double own = radiance(apparent, band) - (1.0 - emissivity) * radiance(reflected, band);
  return radiant_temperature(own / emissivity, band);
}

}  // namespace coldbay
