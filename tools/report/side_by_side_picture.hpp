#pragma once

#include "tools/report/lettering.hpp"
#include "tools/report/section_picture.hpp"
#include "tools/report/wall_picture.hpp"
#include "tools/side_by_side.hpp"

namespace coldbay {

/// The room faces of the leading sections, one below the other in the order of the ranks: each drawn out
/// upwards as a strip, all to one length scale and one temperature scale, with the airs' widest span at its
/// ends rounded outward. A face wider than the others sets the length scale; title and units are those of
/// `style`.
WallDrawing side_by_side_picture(const SideBySide& all, const PictureStyle& style);

}  // namespace coldbay
