#pragma once

#include <array>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// Temperatures of the cells of a finer grid [degC], as the coarser one has them there: linear from the
/// middle of a cell to its faces. Every cell of the finer grid is a cell of the coarser one, or what is left
/// of it after one to three halvings, along any axis. To start a solve from.
std::vector<double> carried_over(const ConductivityGrid& coarse, const Surroundings& air,
                                 const TemperatureField& field, const std::array<Axis, 3>& fine);

/// The same of a section.
std::vector<double> carried_over(const ConductivityGrid& coarse, const Surroundings& air,
                                 const TemperatureField& field, const Axis& across, const Axis& depth);

}  // namespace coldbay
