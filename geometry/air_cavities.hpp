#pragma once

#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/rasterise.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// The air spaces of a painting.
struct AirSpaces {
  std::vector<AirCavity> cavities;
  std::vector<int> of_cell;  ///< index into cavities for each cell that holds any air, else -1
};

/// Finds the connected regions of air-space material (cells that are at least half air, joined by
/// their faces) and gives each the equivalent conductivity of the smallest rectangle round it.
/// The emissivities are those of the air-space materials: of the surfaces that bound the space.
AirSpaces find_air_spaces(const Section& section, const Painting& painting);

}  // namespace coldbay
