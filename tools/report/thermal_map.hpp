#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "geometry/section.hpp"
#include "solver/results/face_map.hpp"

namespace coldbay {

/// What is drawn of a wall's face and written to files: a face sampled evenly, or what a camera records.
///
///     up.to    +---+---+---+   rows from the top,
///              |   |   |   |   celsius[column + columns * row]
///     up.from  +---+---+---+
///        across.from   across.to
///
/// Units   metres from the wall's left end and from the floor; degC, or K where it is a difference.
/// Holds   at least one pixel; NaN where no wall is seen.
struct ThermalMap {
  Span across, up;
  int columns = 0, rows = 0;
  std::vector<double> celsius;
  /// Between the middles of its pixels the map runs on evenly. Otherwise each pixel is all that is known, and
  /// is drawn as a rectangle.
  bool smooth = true;

  double at(int column, int row) const {
    return celsius[static_cast<std::size_t>(column) +
                   static_cast<std::size_t>(columns) * static_cast<std::size_t>(row)];
  }
  double pixel_across() const { return across.length() / columns; }  ///< [m]
  double pixel_up() const { return up.length() / rows; }
};

/// The usual size of a pixel [m].
inline constexpr double usual_pixel = 0.005;

/// The face on an even grid of pixels as near to `pixel` [m] as fit into it whole; each has the temperature
/// of its middle. Throws std::length_error where that would be more than 100 million pixels.
ThermalMap sampled(const FaceMap& face, double pixel = usual_pixel);

/// How much warmer the first map is than the second, pixel by pixel [K]. Throws std::invalid_argument where
/// they are not of the same place and size.
ThermalMap difference(const ThermalMap& map, const ThermalMap& from);

/// The value anywhere in the map: bilinear between the middles of the pixels where it is smooth, else that of
/// the pixel. NaN outside, and where any pixel that counts is NaN.
double value_at(const ThermalMap& map, double across, double up);

/// The least and the greatest value that is known; empty where none is.
struct Extent {
  double least = 0.0, greatest = 0.0;
};
std::optional<Extent> extent(const ThermalMap& map);

/// The share of the wall that is seen where it is colder than a threshold [degC].
double share_below(const ThermalMap& map, double celsius);

}  // namespace coldbay
