#pragma once

#include <vector>

#include "geometry/wall.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// The wall words: height, layers, frame and bays. What is wrong with the wall as a whole is left to
/// check(Wall).
Wall read_wall(const Node& node, Reading& in);

/// The heights of `sections`: each written `plan at HEIGHT`.
struct Cut {
  std::string name;
  double height = 0.0;  ///< above the floor [m]
  std::string path;
};
std::vector<Cut> read_cuts(const Node& node, Reading& in);

}  // namespace coldbay
