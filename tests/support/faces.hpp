#pragma once

#include <cmath>
#include <vector>

#include "solver/results/face_map.hpp"

namespace coldbay::test {

/// A face made up by a formula (across, up) [degC], in cells of 20 mm.
template <class Formula>
FaceMap face(double width, double height, Formula formula) {
  const auto even = [](double length) {
    std::vector<double> edges;
    const int n = static_cast<int>(std::lround(length / 0.02));
    for (int i = 0; i <= n; ++i) edges.push_back(length * i / n);
    return Axis(edges);
  };
  FaceMap map{even(width), even(height), {}};
  for (Index j = 0; j < map.up.cells(); ++j)
    for (Index i = 0; i < map.across.cells(); ++i)
      map.celsius.push_back(formula(map.across.centre(i), map.up.centre(j)));
  return map;
}

}  // namespace coldbay::test
