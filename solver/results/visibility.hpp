#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/results/normal_pattern.hpp"

namespace coldbay {

/// What a camera can tell apart on the wall, whatever makes it so.
struct Sight {
  double distance = 3.0;    ///< from the wall [m]
  double pixel = 0.005;     ///< side of one pixel on the wall, at that distance [m]
  double blur = 0.0;        ///< standard deviation by which the optics smear, on the wall [m]
  double noise = 0.1;       ///< of one pixel, one standard deviation [K]
  double emissivity = 0.9;  ///< of the lining
  double reflected = 20.0;  ///< temperature that the lining mirrors [degC]
};

/// A rectangle of the face that is asked about: a bay, or a part of one.
struct FaceRegion {
  std::string name;  ///< "bay 2"
  Span across, up;   ///< [m]
};

enum class Showing {
  shows,      ///< at the difference named
  too_small,  ///< fewer than three by three pixels fall on it: come nearer
  too_weak,   ///< no weather makes it show
  unsure      ///< whether it shows is less than the solve is sure of
};

/// How one region shows in a camera.
struct Visibility {
  std::string name;
  /// Mean over the strongest patch of three by three pixels, as built less built right, for each kelvin from
  /// inside to outside [K/K]. Negative: colder than it should be in the heating season, warmer in the cooling
  /// season; positive the other way round.
  double per_kelvin = 0.0;
  double across = 0.0, up = 0.0;     ///< the middle of that patch [m]
  double width = 0.0, height = 0.0;  ///< of the spot, through its peak, where it is beyond half of it [m]
  double area = 0.0;                 ///< of the region that is beyond half of the peak [m2]
  double seen_per_kelvin = 0.0;      ///< of per_kelvin, what emissivity and blur leave [K/K]
  Showing showing = Showing::too_weak;
  double needed = 0.0;  ///< difference from which it is out of the noise [K]; infinite where there is none
  std::optional<double> come_within;  ///< distance [m] at which three by three pixels fall on it
  std::optional<double> of_studs;     ///< per_kelvin over that of a stud in the wall built right, unsigned
  bool stands_out = false;            ///< of the normal pattern
};

/// A contrast counts as seen from three times the noise of one pixel on, though nine are averaged: what a
/// pixel keeps from picture to picture (fixed pattern, drift) does not average away. Common practice, no
/// source.
inline constexpr double times_noise = 3.0;

/// A fault stands out of the normal pattern where its contrast is at least this share of a stud's, and more
/// than sound bays differ by themselves. A reader has no calculated picture: he compares bay with bay, and
/// knows from the studs what is much. Common practice, no source.
inline constexpr double share_of_stud = 0.5;

/// Differences beyond this [K] are not waited for: a room of 20 degC and 40 degC of frost.
inline constexpr double most_difference = 60.0;

/// How each region of a face shows. The contrast is read at the airs of `faces` and taken as in proportion to
/// their difference: exact with constant conductivities, near enough with air spaces and batts that conduct
/// by their temperature. Solve at the difference that is asked about where a few per cent matter.
///
/// The strongest patch has its middle in the region; what a neighbour's fault draws through the shared stud
/// is in it. Blur and the patch together weigh as a square of the same second moment does: side
/// sqrt((3 pixel)^2 + 12 blur^2).
///
/// Throws ModelError where inside and outside are less than 1 K apart.
std::vector<Visibility> visibility(const FacePair& faces, const std::vector<FaceRegion>& regions,
                                   const Sight& sight, const NormalPattern& normal);

/// True where the camera shows it, and a reader picks it out, at this difference [K].
bool shows_at(const Visibility& seen, double difference);

/// What of a small difference on a surface is left in the reading: emissivity times (surface / reading)^3, in
/// kelvin, from emissivity T^4 + (1 - emissivity) T_reflected^4 = T_reading^4 (grey surface, all
/// wavelengths). A camera that is told the emissivity shows the whole difference, and its noise grown by as
/// much.
double reading_slope(double celsius, double reflected_celsius, double emissivity);

}  // namespace coldbay
