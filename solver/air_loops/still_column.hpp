#pragma once

#include <vector>

#include "geometry/section.hpp"
#include "geometry/wall/pieces.hpp"

namespace coldbay {

/// One layer on a straight way through a wall, as it is where nothing moves.
struct StillLayer {
  Span depth;
  const Piece* piece = nullptr;
  double resistance = 0.0;  ///< at its own temperature [m2 K/W]
  double celsius = 0.0;     ///< in its middle [degC]
  double radiation = 0.0;   ///< across it, of air [W/(m2 K)]

  bool is_air() const { return piece->material.is_air_space; }
};

/// The layers that a line through the wall meets, from the room's face outward, their temperatures and
/// resistances settled: conductivities at their own temperature, still air by the rule for layers
/// ([ISO6946], materials/air_space.hpp) at its own mean and difference. Air behind air is one layer, but
/// not across the faces of the frame. Ends before a well-ventilated layer.
std::vector<StillLayer> still_column(const std::vector<Met>& met, Span frame, const Exchange& inside,
                                     const Exchange& outside);

}  // namespace coldbay
