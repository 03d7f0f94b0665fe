#pragma once

#include <optional>
#include <string>

namespace coldbay {

/// Conductivity as a cubic in temperature:  k = k0 + k1 T + k2 T^2 + k3 T^3 [W/(m K)], T in degC, as its
/// source gives it, between the temperatures its source measured.
struct TemperatureLaw {
  double k0 = 0.0, k1 = 0.0, k2 = 0.0, k3 = 0.0;
  double from = -1e9, to = 1e9;  ///< [degC]
  bool operator==(const TemperatureLaw&) const = default;
};

/// What a piece of wall is made of.
struct Material {
  std::string name;           ///< as the reader knows it: "gypsum board", "batt R-13"
  double conductivity = 0.0;  ///< [W/(m K)]; across the grain where there is one; not used where is_air_space
  double emissivity = 0.9;    ///< hemispherical, of its surface [-]
  /// A still air space: its conductivity follows from the size of the connected region it fills and
  /// the temperatures round it (materials/air_space.hpp), so it is set per region.
  bool is_air_space = false;
  std::string source;  ///< standard, handbook or table; "common practice, no source"; "from memory"
  std::optional<double> along_grain = {};    ///< conductivity along the grain [W/(m K)]
  std::optional<TemperatureLaw> law = {};    ///< `conductivity` is its value at 10 degC then
  std::optional<double> density = {};        ///< [kg/m3]
  std::optional<double> specific_heat = {};  ///< [J/(kg K)]
  /// What it does to air driven through it, pressure drop over velocity and length [Pa s/m2]; empty: none
  /// gets through. Never of an air space.
  std::optional<double> airflow_resistivity = {};
  bool operator==(const Material&) const = default;
};

/// Conductivity across the grain at a temperature [degC]: by the law where there is one. Beyond the
/// range of its source the law is held at the end of that range.
double conductivity_at(const Material& material, double celsius);

/// True where a temperature lies outside the range that the source of the law measured.
bool beyond_source(const Material& material, double celsius);

}  // namespace coldbay
