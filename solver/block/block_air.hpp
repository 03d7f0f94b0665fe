#pragma once

#include <array>
#include <vector>

#include "geometry/block/air_spaces.hpp"
#include "geometry/block/painting.hpp"
#include "geometry/graded_axis.hpp"
#include "solver/air_loops/moving_air.hpp"

namespace coldbay {

/// Where air can loop in a painted block. The air is taken as it is halfway between inside and outside. Empty
/// paths where none can.
MovingAir moving_air(const Block& block, const BlockPainting& painting, const Surroundings& surroundings);

/// How large cells may be where air loops: half a gap across it, and 50 mm along it ([Patankar1980]: heat
/// that is taken from where it comes from spreads by half a cell). Empty where none does.
std::array<std::vector<Cap>, 3> loop_caps(const Block& block);

/// part_radiation() of a block: `space_of` has the index of every cell's air space, or -1.
void part_radiation(ConductivityGrid& grid, const MovingAir& moving, const BlockAir& air,
                    const std::vector<int>& space_of);

}  // namespace coldbay
