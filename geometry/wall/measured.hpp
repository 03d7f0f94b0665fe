#pragma once

#include <string>
#include <vector>

#include "geometry/wall/build.hpp"
#include "geometry/wall/wall.hpp"

namespace coldbay {

/// How much of an area, seen from the room, is filled badly, as shares of it:
///
/// nothing     no fill at all between lining and sheathing
/// incomplete  fill, and more than `slack` of air before, behind or in it
/// compressed  fill without air, somewhere more than 5 % denser than its label
struct Filling {
  double area = 0.0;  ///< between members [m2]
  double nothing = 0.0, incomplete = 0.0, compressed = 0.0;
};

/// What the elevation of a wall says, measured from its description.
struct Measured {
  double area = 0.0;     ///< of the wall without its openings [m2]
  double framing = 0.0;  ///< share of that area with a member between lining and sheathing
  Filling all;           ///< of all bays together
  std::vector<Filling> bays;
};

/// Measures by rays from the room outward, one in each field of a net whose lines lie on every edge of the
/// pieces, and at most 5 mm apart along those with slanted or curved ones.
Measured measured(const Wall& wall, const BuiltWall& built);

/// Share of a plan section's width with a member between lining and sheathing.
double framing_of_plan(const BuiltWall& built, double height);

/// A section of nothing but framing between the layers, as in a plate or a header.
Section framing_section(const Wall& wall);

}  // namespace coldbay
