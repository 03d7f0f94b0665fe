#pragma once

#include <vector>

#include "geometry/wall/wall.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// The wall words: height, layers, frame and bays. What is wrong with the wall as a whole is left to
/// check(Wall).
Wall read_wall(const Node& node, Reading& in);

/// Whether an item of the list of bays says what stands between two of them.
bool is_post(const Node& node);

/// One of `sections`: `plan at HEIGHT`, `vertical through bay N` (its middle) or `vertical at DISTANCE`.
struct Cut {
  enum class Kind { plan, vertical };
  std::string name;
  Kind kind = Kind::plan;
  double at = 0.0;      ///< above the floor, or across [m]
  std::size_t bay = 0;  ///< counted from 1; 0: by the distance
  std::string path;
};
std::vector<Cut> read_cuts(const Node& node, Reading& in);

}  // namespace coldbay
