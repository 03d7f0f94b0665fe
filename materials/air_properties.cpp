#include "materials/air_properties.hpp"

#include <fmt/core.h>

#include <cmath>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

/// What grows with temperature as in a gas of hard, faintly attracting molecules.
double sutherland(double at_273, double constant, double T) {
  return at_273 * std::pow(T / 273.0, 1.5) * (273.0 + constant) / (T + constant);
}

}  // namespace

AirProperties dry_air(double celsius) {
  const double T = celsius + 273.15;
  if (!(T > 0.0)) throw ModelError("", fmt::format("air cannot be at {} °C", celsius));
  AirProperties air;
  air.density = 101325.0 / (287.05 * T);
  air.viscosity = sutherland(1.716e-5, 111.0, T);
  air.conductivity = sutherland(0.0241, 194.0, T);
  air.specific_heat = 1006.0;
  air.expansion = 1.0 / T;
  return air;
}

double permeability(double airflow_resistivity, const AirProperties& air) {
  if (!(airflow_resistivity > 0.0))
    throw ModelError("", fmt::format("an airflow resistivity of {} is not above zero", airflow_resistivity));
  return air.viscosity / airflow_resistivity;
}

}  // namespace coldbay
