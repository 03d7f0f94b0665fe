#include "solver/results/face_map.hpp"

#include <algorithm>

namespace coldbay {
namespace {

/// The two cells whose middles lie on either side of x, and the share of the second.
struct BetweenMiddles {
  Index low, high;
  double share;
};
BetweenMiddles between_middles(const Axis& axis, double x) {
  Index cell = axis.cell_at(x);
  if (x < axis.centre(cell)) --cell;
  const Index low = std::clamp<Index>(cell, 0, axis.cells() - 1), high = std::min(low + 1, axis.cells() - 1);
  if (low == high) return {low, high, 0.0};
  const double share = (x - axis.centre(low)) / (axis.centre(high) - axis.centre(low));
  return {low, high, std::clamp(share, 0.0, 1.0)};
}

}  // namespace

double temperature_on(const FaceMap& face, double across, double up) {
  const BetweenMiddles i = between_middles(face.across, across), j = between_middles(face.up, up);
  const auto row = [&](Index at) {
    return (1.0 - i.share) * face.at(i.low, at) + i.share * face.at(i.high, at);
  };
  return (1.0 - j.share) * row(j.low) + j.share * row(j.high);
}

}  // namespace coldbay
