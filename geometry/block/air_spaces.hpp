#pragma once

#include <array>
#include <vector>

#include "geometry/block/block.hpp"
#include "geometry/conductivity_grid.hpp"

namespace coldbay {

/// An air space of a block, and what it conducts.
///
/// A plan section sees its depth and its width, a vertical one its depth and its height. In the block the
/// lesser of width and height is the one that counts, so that a space which is long in the one direction
/// conducts as the section across it says, whichever that is; one that is small in both has no rule of its
/// own (for a square of side b the view factor is then a little high).
struct BlockAirSpace {
  double depth = 0.0;             ///< [m], of the rectangle that it is reckoned as
  double narrow = 0.0;            ///< the lesser of width and height [m]
  std::array<double, 2> reach{};  ///< width and height [m], infinite where it goes on
  std::array<AirState, 3> state;  ///< of across, up and depth
  bool slightly_ventilated = false;
  std::array<double, 3> conductivity{};  ///< equivalent, along each direction [W/(m K)]
};

/// The air spaces of a block, at 10 degC and 5 K.
struct BlockAir {
  std::vector<BlockAirSpace> spaces;
  std::vector<int> of_stretch;  ///< index into spaces of each stretch that shows air, else -1
  std::vector<int> of_piece;    ///< the same of each round piece of air, else -1
};

/// Finds them as a section does (geometry/air_cavities.hpp, under the rule for layers), with two directions
/// in place of one: air is cut where its depth steps by more than 2 mm from one place of the elevation to the
/// next, and where the lesser of its width and height does. So a gap beside a batt and the space over the
/// batt are two, and every height of a wall has the spaces that a plan section there would have.
///
/// A side open to other air, or cut by the block, goes on as its mirror image. A round void is a space of its
/// own.
BlockAir find_air_spaces(const Block& block);

/// Sets what a space conducts from its size and the state of its air: in depth by [ISO6946] for small spaces,
/// across and up by its size and state in that direction, but no better than in depth.
void apply_rule(BlockAirSpace& space);

/// What radiation passes across a space along a direction, by the same rule [W/(m2 K)].
double radiative_coefficient(const BlockAirSpace& space, Direction direction);

}  // namespace coldbay
