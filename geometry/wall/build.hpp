#pragma once

#include <vector>

#include "geometry/wall/fill.hpp"
#include "geometry/wall/pieces.hpp"
#include "geometry/wall/wall.hpp"

namespace coldbay {

/// Where the layers of a wall lie in depth [m].
struct Depths {
  std::vector<Span> layers;
  Span frame{};
  double total = 0.0;
};
Depths depths_of(const Wall& wall);

/// What the filling of an opening is called among the materials.
inline constexpr const char* opening_filling = "what the opening holds";

/// Where the members leave room, left to right and bottom to top [m].
struct Elevation {
  std::vector<Span> posts;  ///< one more than bays; outside the wall where a single end stud is cut
  std::vector<Span> bays;   ///< between the posts; of a steel frame, from web to web
  double width = 0.0;
  Span up;  ///< between the plates
};
Elevation elevation_of(const Wall& wall);

/// The post at an end of `wall.posts`, or a single stud where the list is empty.
Post post_of(const Wall& wall, std::size_t index);

/// What an opening leaves of its bay for the fill: above its header, and below its sill.
std::vector<Region> round_opening(const Wall& wall, const Opening& opening, const Region& bay_space);

/// The wall in three dimensions: layers, then frame, then what each bay holds, then what runs through it.
/// For a wall in which check() finds no problem.
BuiltWall build(const Wall& wall);

}  // namespace coldbay
