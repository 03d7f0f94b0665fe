#pragma once

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// Heat flowing into the section through each of its faces, and from what is held within it [W per metre of
/// wall height], from the same conductances as the matrix. What takes heat away counts negative.
struct HeatFlows {
  double inside = 0.0, outside = 0.0, left = 0.0, right = 0.0;
  double held = 0.0;        ///< from all that is held: what it gives less what it takes
  double held_takes = 0.0;  ///< the part of `held` where it takes heat, <= 0: two pipes may cancel

  /// Half the sum of magnitudes: the heat that passes [W/m].
  double passing() const;

  /// |sum| / the heat that passes, the balance that [ISO10211] asks to be below 1e-4.
  double imbalance() const;
};

HeatFlows heat_flows(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field);

}  // namespace coldbay
