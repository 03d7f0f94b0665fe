#pragma once

#include <vector>

#include "geometry/grid_lines.hpp"

namespace coldbay {

/// The lines halved where the room face is known too little: where two materials meet in it, or a thing
/// stands in it, its temperature bends within less than a cell. `excess` says for each strip across how many
/// times too uncertain the face is there; strips above 1 are halved, and so is as much of the depth behind
/// the face as they are wide, as often as the worst asks for, three times at most.
GridLines refined_at_face(const GridLines& lines, const std::vector<double>& excess);

}  // namespace coldbay
