#pragma once

#include <vector>

#include "geometry/wall/pieces.hpp"
#include "tools/report/wall_picture.hpp"

namespace coldbay {

/// Where framing lies behind the face of a wall, at any depth: rectangles that do not overlap, left to right.
/// The frame of a wall is a layer of its material that bays are painted into, so it is what shows that
/// counts, not what was painted. Air between posts is no framing.
std::vector<FaceRectangle> framing_of(const BuiltWall& wall);

}  // namespace coldbay
