#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "geometry/axis.hpp"
#include "geometry/wall/pieces.hpp"

namespace coldbay {

/// A part of a wall, from one distance across to another and from floor to top, ready to be drawn on a grid
/// of three axes.
///
/// Every piece bounded by planes ends on the lines, so between lines the wall shows one piece: a stretch of
/// the block. What is round or slanted is painted over them cell by cell (geometry/block/painting.hpp).
///
/// Shape   stretch(i, j, k) lies between lines[d][n] and lines[d][n + 1]; shows[stretch] indexes pieces.
/// Units   metres, in the wall's own coordinates.
/// Holds   every line but the ends has something else on its two sides somewhere, or belongs to a round
/// piece.
///         Every stretch shows a piece; those that show air are no part of the room or the outside.
struct Block {
  std::array<std::vector<double>, 3> lines;
  std::vector<std::uint32_t> shows;
  std::vector<Piece> pieces;             ///< in painting order; later show over earlier
  std::vector<std::uint32_t> look;       ///< [piece]: pieces alike to heat have the same number
  std::vector<std::uint32_t> round;      ///< the pieces that are not bounded by planes
  std::optional<double> outside_film{};  ///< where it ends at a well-ventilated layer [m2 K/W]
  std::optional<double> sheathing{};     ///< depth of the room side of what lies outside of the frame

  Index stretches(Direction d) const { return std::ssize(lines[static_cast<std::size_t>(d)]) - 1; }
  Index stretch(Index i, Index j, Index k) const {
    return i + stretches(Direction::across) * (j + stretches(Direction::up) * k);
  }
  Span span(Direction d) const {
    const auto& l = lines[static_cast<std::size_t>(d)];
    return {l.front(), l.back()};
  }
};

/// Cuts a part out of a wall. It ends at the inner face of a well-ventilated layer, which has the film of
/// still air, 0.13 ([ISO6946]: the inside film; from memory).
///
/// Throws ModelError where nothing is known of what an opening holds, a well-ventilated layer does not reach
/// over the whole wall, or an air space is open to the room or to the outside.
Block cut_out(const BuiltWall& wall, Span across);

/// The whole wall.
Block block_of(const BuiltWall& wall);

}  // namespace coldbay
