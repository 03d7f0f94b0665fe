#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "geometry/block/air_spaces.hpp"
#include "geometry/block/block.hpp"
#include "geometry/conductivity_grid.hpp"
#include "geometry/graded_axis.hpp"

namespace coldbay {

/// What a plane across a round or slanted piece shows in one cell: pieces at samples x samples points, depth
/// by depth, the outline's first direction fastest. The same all along the piece, so kept once.
struct Pattern {
  static constexpr int samples = 8;
  Direction along = Direction::up;
  std::vector<std::uint32_t> pieces;
};

/// Which piece shows where, cell by cell.
///
/// Shape   shows[i + across (j + up k)] is a piece of the block, or pieces.size() + the index of a pattern.
struct BlockPainting {
  std::array<Axis, 3> axis;
  std::vector<std::uint32_t> shows;
  std::vector<Pattern> patterns;
  std::array<std::vector<Index>, 3> stretch;  ///< of the block, that each cell of an axis lies in
};

/// Graded lines for a block: an edge on every line, small cells where heat turns: at those lines where
/// something else conducts within `near`, a stretch across; a quarter as large where two materials meet in
/// the room face. Cells at a round piece there are no larger than a quarter of its mean thickness.
/// `caps`: how large cells may be elsewhere, by axis.
std::array<Axis, 3> block_lines(const Block& block, Span near, const std::array<CellSizes, 3>& sizes,
                                const std::array<std::vector<Cap>, 3>& caps = {});

/// Draws the block on axes that have an edge on each of its lines.
BlockPainting paint(const Block& block, std::array<Axis, 3> axis);

/// Conductivities of the painted cells, with what the air spaces conduct, at the temperatures of the cells
/// [degC], or at 10 degC where none are given.
///
/// In a cell that an edge crosses, the conductivity along either direction of the plane is the mean of the
/// two bounds for the sampled pattern (ConductivityBounds), and along the piece that of all samples. A cell
/// at least half held is held.
ConductivityGrid conductivity_grid(const Block& block, const BlockPainting& painting, const BlockAir& air,
                                   const std::vector<double>& celsius = {});

}  // namespace coldbay
