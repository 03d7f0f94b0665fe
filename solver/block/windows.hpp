#pragma once

#include <cstddef>
#include <vector>

#include "geometry/block/block.hpp"
#include "geometry/section.hpp"
#include "geometry/wall/pieces.hpp"

namespace coldbay {

/// How fast a difference along the wall dies away from where it is made: as exp(-distance / length) at the
/// slowest.
struct Decay {
  double length = 0.0;   ///< [m]
  double on_face = 1.0;  ///< what the room face shows of it, of what is greatest behind the face
};

/// Of a stack of layers, thickness [m] and conductivity [W/(m K)], between two films: the lowest mode of
///
///     d/dz (k dT/dz) + k T / length^2 = 0,
///
/// the Laplace equation for T(z) exp(-x / length), by inverse iteration on a fine grid.
struct Slab {
  double thickness, conductivity;
};
Decay decay_along(const std::vector<Slab>& stack, double film_inside, double film_outside);

/// Of every bay, in its middle: the longest length and the most on its face that any height shows, heights of
/// 0.1 m taken as one.
std::vector<Decay> decays_of(const BuiltWall& wall, const Surroundings& air);

/// A part of the wall that is solved by itself, with so much of the wall beside it that what lies further off
/// does not matter.
struct Window {
  Span own;  ///< what it is solved for
  Block block;
  std::size_t like = 0;  ///< the first window that shows the same; itself, if none before does
};

/// The same picture, moved? Numbers may differ by what rounding makes of them.
bool show_the_same(const Window& a, const Window& b);

struct Windows {
  std::vector<Window> all;   ///< left to right; their own parts make the whole wall
  double uncertainty = 0.0;  ///< of the room face by what is left out [K]
};

/// Each bay with the wall beside it, cut in the middle of a bay, where a mirror image changes least, or
/// somewhat beyond; or the whole wall as one where that takes fewer cells. Bays that show the same, and whose
/// neighbours do, are solved once.
///
/// The wall beside a window goes on as its mirror image there. What that gets wrong is no more than a quarter
/// of the difference between room and outside, and dies away on the way to the window's own part,
/// in each bay by its own length (decays_of); a window is as wide as it takes to leave less than `allowed`
/// [K] of it.
Windows windows(const BuiltWall& wall, const Surroundings& air, double allowed);

}  // namespace coldbay
