#pragma once

#include "geometry/wall/wall.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// What a reader of a bay must know of its wall: the frame and layers are read before the bays.
struct BaySpace {
  double usual_width = 0.0;  ///< between the studs [m]
  double height = 0.0;       ///< between the plates [m]
  double frame_depth = 0.0;  ///< [m]
  double frame_from = 0.0;   ///< of the frame's room side, from the room face [m]
};

/// One bay: what it is filled with, how that sits, and what stands in it or runs through it. What cannot be
/// built is left to check(Wall).
Bay read_bay(const Node& node, const BaySpace& space, Reading& in);

/// A length that may be zero, as a series may begin there.
double read_amount(const Node& node, Reading& in);

}  // namespace coldbay
