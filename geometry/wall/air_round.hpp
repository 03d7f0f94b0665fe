#pragma once

#include "geometry/wall/fill.hpp"
#include "geometry/wall/wall.hpp"

namespace coldbay {

/// The air on the two faces of a bay's fill, and where it is joined, as far as the fill itself leaves it.
///
/// Units   metres.
/// Not in  voids, boxes and runs; air that gets through the fill; rows of blocking, which part a bay.
struct AirRoundFill {
  double room = 0.0, sheathing = 0.0;  ///< deepest on each face; 0 where it touches
  bool top = false, bottom = false, left = false, right = false;
  bool on_both_faces() const { return room > 0.0 && sheathing > 0.0; }
};

/// A strip under a stretched flange joins nothing: the facing closes it off from the room side. What is less
/// deep than 1 µm touches. All 0 and false for an empty bay.
AirRoundFill air_round(const Bay& bay, const Region& bay_space);

}  // namespace coldbay
