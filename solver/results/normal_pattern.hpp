#pragma once

#include <cstddef>
#include <optional>

#include "geometry/wall/pieces.hpp"
#include "solver/results/face_map.hpp"

namespace coldbay {

/// The room face of one wall, as built and as built right, between the same airs.
struct FacePair {
  FaceMap built, right;
  double inside = 20.0, outside = 0.0;  ///< temperatures of the airs [degC]
  double uncertainty = 0.0;             ///< of either face, anywhere [K]
};

/// What the face of the wall built right shows by itself: no fault, and to be known before one looks for any.
/// All in kelvin per kelvin from inside to outside, so that the sign holds in either season: negative where
/// the place is colder than the bays beside it in the heating season (and warmer in the cooling season).
struct NormalPattern {
  std::optional<double> studs;   ///< a stud less the bays beside it; the middle one of the studs
  std::optional<double> plates;  ///< a plate less the bay beside it; the middle one of the plates
  double bays_apart = 0.0;       ///< from the coldest to the warmest bay; 0 with fewer than two bays
  std::size_t bays = 0;  ///< that were looked at: all but those with a window or a door, and with a duct or a
                         ///< pipe that runs up, where others are there
  /// Of the plates, those at the floor and those at the top: in a room that is warmer with height they
  /// differ.
  std::optional<double> floor_plates = std::nullopt, top_plates = std::nullopt;
};

/// Means over the middle half of each thing, away from its ends: a bay and a stud over the middle half of the
/// height, a plate over the middle half of its bay. A stud counts where a bay stands on either side of it.
/// Throws ModelError where inside and outside are less than 1 K apart.
NormalPattern normal_pattern(const FacePair& faces, const BuiltWall& wall);

/// True where the plates at the floor and at the top differ by more than a double plate and a single one do,
/// in a room that is warmer with height: then no one number is true of both. `kelvin` is from inside to
/// outside.
bool plates_told_apart(const NormalPattern& normal, double kelvin);

/// Throws ModelError where inside and outside are less than 1 K apart: nothing per kelvin comes of it.
double difference_of(const FacePair& faces);

}  // namespace coldbay
