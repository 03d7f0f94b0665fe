#pragma once

#include <string>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/rasterise.hpp"
#include "geometry/section.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// Where a section goes beyond what its models know, one sentence each:
///
/// - an air space deeper than 0.3 m, beyond the range of the airspace rules ([ISO6946], from memory);
/// - metal that bridges half of the section's depth or more, for which the mean of the two simple
///   limits is not meant ([ISO6946]);
/// - a material at temperatures its source did not measure.
std::vector<std::string> warnings(const Section& section, const Painting& painting,
                                  const ConductivityGrid& grid, const TemperatureField& field);

}  // namespace coldbay
