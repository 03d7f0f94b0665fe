#pragma once

#include <vector>

#include "geometry/axis.hpp"

namespace coldbay {

/// One face of a wall as a map, seen from the room.
///
///     up ^   j = nu-1  +---+-----+--+
///        |             |   |     |  |   celsius[i + across.cells() * j],
///        |   j = 0     +---+-----+--+   the surface at the middle of each cell.
///        +--> across  i=0       na-1
///
/// Units   edges [m] from the wall's left end and from the floor, temperatures [degC].
struct FaceMap {
  Axis across, up;
  std::vector<double> celsius;

  double at(Index i, Index j) const { return celsius[static_cast<std::size_t>(i + across.cells() * j)]; }
};

/// Temperature [degC] anywhere on the face, bilinear between the middles of the cells; beyond the outermost
/// middles it stays as it is there.
double temperature_on(const FaceMap& face, double across, double up);

}  // namespace coldbay
