#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/discretisation.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// Temperatures along the room face (depth 0), left to right, one at the middle of each cell.
struct SurfaceProfile {
  std::vector<double> across;     ///< [m]
  std::vector<double> width;      ///< of the cell, for means [m]
  std::vector<double> celsius;    ///< [degC]
  std::vector<double> heat_flux;  ///< from the room into the wall [W/m2]
};

SurfaceProfile room_face(const ConductivityGrid& grid, const Surroundings& air,
                         const TemperatureField& field);

/// The same along the outside face; its flux from the wall outward.
SurfaceProfile outer_face(const ConductivityGrid& grid, const Surroundings& air,
                          const TemperatureField& field);

/// The same along a plane inside the wall, on the grid line nearest to a depth [m]; its flux outward.
SurfaceProfile plane_at(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field,
                        double depth);

/// Temperature [degC] of a profile at one place [m]: linear between the middles of cells, level beyond the
/// outermost two.
double celsius_at(const SurfaceProfile& profile, double across);

/// Share of the width of a profile that is colder than a temperature [degC], cell by cell.
double share_below(const SurfaceProfile& profile, double celsius);

/// Temperature [degC] of the face of a cell towards an end of an axis: where the flux through both half
/// cells, or through half a cell and the film, is one. A held cell has its temperature throughout.
double face_temperature(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field,
                        const std::array<Index, 3>& ijk, Direction direction, End end);

/// Index of the coldest or warmest place of a profile: the first of them, left to right, where a symmetric
/// wall has several that differ by no more than rounding.
std::size_t coldest_place(const SurfaceProfile& profile);
std::size_t warmest_place(const SurfaceProfile& profile);

/// Temperature [degC] anywhere in or on the section, consistent with the fluxes: linear from a
/// cell's centre to its faces, where the face temperature is the one that makes the flux through
/// both half cells equal; in a cell crossed by a slanted edge, by the resistances passed on the way. On
/// an edge shared by cells, their conductivity-weighted mean.
double temperature_at(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field,
                      Point point);

}  // namespace coldbay
