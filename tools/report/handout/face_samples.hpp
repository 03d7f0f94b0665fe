#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "geometry/section.hpp"
#include "solver/results/face_map.hpp"

namespace coldbay {

/// Part of several faces at the same few places: enough of them that what is read between is as good as the
/// faces themselves.
///
/// Shape   fields[k][i + across.size() * j], j from the floor upwards
/// Units   places [m], rising; celsius = base + step * sample
struct FaceSamples {
  std::vector<double> across, up;
  double base = 0.0;
  std::vector<std::vector<std::int16_t>> fields;
  static constexpr double step = 0.005;  ///< [K]
};

/// Samples of faces of one wall within a rectangle: places of their own, left out one by one as long as
/// straight lines between those that stay meet every value left out within `within` [K] along either axis;
/// so that reading between samples is off by at most twice that and half a step.
FaceSamples samples_of(std::span<const FaceMap* const> faces, Span across, Span up, double within);

}  // namespace coldbay
