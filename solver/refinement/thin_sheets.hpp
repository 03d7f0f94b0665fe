#pragma once

#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/grid_lines.hpp"

namespace coldbay {

/// Sheets that run askew and are thinner than the cells they cross: a line of samples through such a cell
/// meets the sheet in its middle and something that conducts ten times less (or better) on both sides of it.
/// The mean of the two bounds (ConductivityBounds) cuts it in pieces there, and nested grids that all do so
/// agree on a wrong answer.
struct ThinSheets {
  Index cells = 0, mixed = 0;       ///< such cells, and all that an edge crosses
  std::vector<bool> across, depth;  ///< strips that hold such cells

  /// The tip of a wedge is thinner than any cell: a few such cells are always there.
  bool matter() const { return cells > 16 && 20 * cells > mixed; }
};
ThinSheets thin_sheets(const ConductivityGrid& grid);

/// The lines, with those cells halved whose halves are strips that hold thin sheets.
GridLines halved_at(const GridLines& lines, const ThinSheets& on_halves);

}  // namespace coldbay
