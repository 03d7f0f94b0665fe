#pragma once

#include "geometry/axis.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// How fine the grid is. One step finer halves every cell.
enum class GridDensity { coarse, normal, fine };

/// Edges closer than this are one edge: far below anything a person can cut or measure [m].
inline constexpr double merge_distance = 1e-6;

struct GridLines {
  Axis across, depth;
};

/// Graded grid lines for a section: a line on every straight edge that is parallel to an axis, on
/// every corner of a polygon and on the extremes and centre of a circle; small cells at those lines,
/// where heat turns, growing away from them.
///
/// The wanted cell size at a line is s/128 (s the smaller side of the section, `normal`), or half the
/// neighbouring stretch where that is less, so that a thin sheet has at least two cells; away from
/// the lines it grows by 0.3 per length up to s/16. Inside the bounding box of a slanted or curved
/// outline it stays below s/64 and a quarter of the outline's mean thickness, 2 area/perimeter, since
/// the cells that such an edge crosses are the largest error left (geometry/rasterise.hpp).
///
/// Throws ModelError where that takes more than `max_cells` cells once bisected.
GridLines grid_lines(const Section& section, GridDensity density, Index max_cells);

}  // namespace coldbay
