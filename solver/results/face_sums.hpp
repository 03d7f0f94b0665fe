#pragma once

#include <vector>

#include "geometry/section.hpp"
#include "solver/results/face_map.hpp"

namespace coldbay {

/// Sums over the lower left of a face, from which the mean of any rectangle takes four look-ups.
///
///     at[i + (na+1) * j]   integral over the cells left of edge i and below edge j [K m2]
///
/// A cell has one temperature here, the mean over it that the solve found, so that means over cells are
/// exact.
struct FaceSums {
  Axis across, up;
  std::vector<double> at;
};

FaceSums face_sums(const FaceMap& face);

/// Mean temperature of a rectangle of the face [degC]; what of it lies beyond the face is left out. The
/// rectangle must have an area on the face.
double mean_on(const FaceSums& sums, Span across, Span up);

}  // namespace coldbay
