#pragma once

#include <vector>

#include "geometry/axis.hpp"
#include "geometry/graded_axis.hpp"
#include "geometry/section.hpp"

namespace coldbay {

struct GridLines {
  Axis across, depth;
};

/// Graded grid lines for a section: a line on every straight edge that is parallel to an axis, on
/// every corner of a polygon and on the extremes and centre of a circle; small cells at those lines,
/// where heat turns, growing away from them.
///
/// The wanted cell size at a line is `factor` times s/128 (s the smaller side of the section), or half the
/// neighbouring stretch where that is less, so that a thin sheet has at least two cells; away from
/// the lines it grows by 0.3 per length up to factor times s/16. Inside the bounding box of a slanted or
/// curved outline it stays below factor times s/64 and a quarter of the outline's mean thickness, 2
/// area/perimeter, since the cells that such an edge crosses are the largest error left
/// (geometry/rasterise.hpp).
///
/// Throws ModelError where that takes more than `max_cells` cells.
GridLines grid_lines(const Section& section, double factor, Index max_cells);

/// Edges of the section that grid_lines takes as one because they are closer than merge_distance, though
/// not the same but for rounding: where the first of each pair stands [m].
struct Merged {
  std::vector<double> across, depth;
};
Merged merged_edges(const Section& section);

}  // namespace coldbay
