#pragma once

#include <vector>

#include "geometry/rasterise.hpp"

namespace coldbay {

/// Cuts a connected region of air (cells of a painting) where its extent in depth changes by a step of more
/// than 2 mm from one column of cells to the next: a gap beside a batt and the layer behind it are two
/// spaces, as they are to who built them, and each passes the heat of its own depth. A slanted or curved edge
/// is no step.
///
/// (Our own reading of a rule made for plane layers; the rectangle of equal area that [ISO10077] makes of the
/// whole would make a wider gap pass less heat.)
std::vector<std::vector<Index>> pieces_of(const Painting& painting, std::vector<Index> region);

}  // namespace coldbay
