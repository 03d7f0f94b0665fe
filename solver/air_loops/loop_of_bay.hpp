#pragma once

#include <cstddef>
#include <vector>

#include "geometry/section.hpp"
#include "geometry/wall/pieces.hpp"
#include "geometry/wall/wall.hpp"
#include "solver/air_loops/bay_loop.hpp"

namespace coldbay {

/// The ways of air round the fill of a bay, one for each space between its plates and blocking that holds
/// some, bottom to top. Empty for a bay without fill, and for one of stuffed scraps, which have no faces.
///
/// Strips are what most of the height of a space shows between lining and sheathing: gaps, pockets and
/// shoulders in the steps that they are drawn in. What is open from face to face is a joint of the side it is
/// nearer to; not where a flange is stretched over it. Slots are what the ends leave open. A cable, a box or
/// a fold is left out unless it goes on along the height. Air gets through the fill as its airflow
/// resistivity says, and not at all through one that is faced.
std::vector<BayLoop> loops_of_bay(const Wall& wall, const BuiltWall& built, std::size_t bay,
                                  const Surroundings& air);

}  // namespace coldbay
