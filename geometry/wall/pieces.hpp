#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "materials/material.hpp"

namespace coldbay {

/// A solid of the wall: an outline, extended along one direction. Painted in order, later over earlier.
///
///     along up       outline in (across, depth), reach above the floor
///     along across   outline in (up, depth), its first coordinate above the floor; reach across
///
/// All in the wall's own coordinates [m].
struct Piece {
  enum class Role { layer, frame, fill, air, service, opening };
  Material material;
  Role role = Role::layer;
  Direction along = Direction::up;
  Outline outline;
  Span reach;
  std::string path = {};
  Direction grain = Direction::up;
  bool slightly_ventilated = false, well_ventilated = false;
  std::optional<double> held = {};  ///< kept at this temperature [degC]
  double squeezed = 1.0;            ///< density of a fill over that of its label
  bool by_chance = false;           ///< a lump of scraps: any other cut through them is as good
};

/// Where one bay is, and what a reader calls it.
struct BayPlace {
  std::string name;   ///< "bay 2"
  std::string label;  ///< what is in it
  Span across;        ///< from the middle of its left post to the middle of its right post
  Span clear;         ///< between its posts
  Span up;            ///< between the plates
  std::string path;   ///< of the bay, with which those of its pieces begin
};

/// A wall in three dimensions.
///
///      up ^   pieces, painted in order; room face at depth 0
///         +--> across 0 ... width
struct BuiltWall {
  double width = 0.0, height = 0.0, depth = 0.0;  ///< [m]
  Span frame;                                     ///< where the frame lies in depth
  Span up;                                        ///< between the plates
  std::vector<Piece> pieces;
  std::vector<BayPlace> bays;
};

/// A block, as a piece that runs up.
Piece block(const Material& material, Piece::Role role, Span across, Span up, Span depth);

/// What a plane shows of a piece: the plane at a height where `normal` is up, at a distance across where it
/// is across. Outlines in (across, depth) or in (up, depth).
std::vector<Outline> cut(const Piece& piece, Direction normal, double at);

/// The smallest stretch of one direction that holds the piece.
Span extent(const Piece& piece, Direction direction);

/// Places where what a plane shows may change, in rising order, each once.
std::vector<double> cut_changes(const BuiltWall& wall, Direction normal);

/// What a ray from the room outward meets at (across, up): the piece that shows, room to outside. Stretches
/// of one piece may follow each other.
struct Met {
  Span depth;
  const Piece* piece;
};
std::vector<Met> met_at(const std::vector<const Piece*>& pieces, double across, double up);

/// The pieces with anything at all in this rectangle of the elevation, in painting order.
std::vector<const Piece*> pieces_within(const BuiltWall& wall, Span across, Span up);
/// Those of some pieces that reach into a stretch across.
std::vector<const Piece*> pieces_within(const std::vector<const Piece*>& pieces, Span across);

}  // namespace coldbay
