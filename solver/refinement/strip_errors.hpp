#pragma once

#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/section.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// What the size of the cells costs, strip by strip: an estimate of the share of the heat flow that each
/// strip across, and each strip in depth, has wrong [-].
///
/// Within a cell the scheme knows one flux along a direction, that of either face on its half. Where the two
/// differ, by dq, the cell's true dissipation differs by about dq^2 h V / (12 k): the energy of a flux that
/// varies evenly over a cell of size h and volume V. The heat flow times the difference of temperature is
/// the dissipation, so these are parts of its error. In a cell crossed by a slanted edge the conductivity is
/// the mean of two bounds, and a tenth of what lies between them counts as error too. (Indicators of our own,
/// to tell where cells are missed; how large the error is, nested grids tell.)
struct StripErrors {
  std::vector<double> across, depth;
};
StripErrors strip_errors(const ConductivityGrid& grid, const Surroundings& air,
                         const TemperatureField& field);

double sum(const StripErrors& errors);

/// The lines with those strips halved that together hold the given share of the error, or 70 % if that is
/// less, the worst for their number of cells first.
GridLines refined(const GridLines& lines, const StripErrors& errors, double share);

}  // namespace coldbay
