#pragma once

#include <cstddef>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// The temperature at the middle of every pixel of a picture of a section.
///
/// Shape  celsius[x + width * y] [degC], y from the top (the outside face).
struct TemperatureMap {
  int width = 0;
  int height = 0;
  std::vector<double> celsius;

  double at(int x, int y) const {
    return celsius[static_cast<std::size_t>(x) +
                   static_cast<std::size_t>(width) * static_cast<std::size_t>(y)];
  }
};

/// `temperature_at` at the edges and middles of the cells, no closer than a pixel, and linear either
/// way between them. Between cells that differ, temperature_at itself has small steps, which would
/// show as teeth on every isotherm.
TemperatureMap temperature_map(const ConductivityGrid& grid, const Surroundings& air,
                               const TemperatureField& field, int width, int height);

/// How strongly each pixel lies on an isotherm at one of the levels [degC], 0 to 1.
std::vector<float> isotherm_coverage(const TemperatureMap& map, const std::vector<double>& levels,
                                     double span, double thickness);

}  // namespace coldbay
