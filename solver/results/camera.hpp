#pragma once

#include <cstdint>
#include <numbers>
#include <optional>
#include <vector>

#include "geometry/section.hpp"
#include "solver/results/face_map.hpp"
#include "solver/results/radiometry.hpp"

namespace coldbay {

/// The camera and where it stands: before a point of the wall, looking straight at it.
///
/// The defaults are those of a usual camera for buildings (common practice, no source).
struct Camera {
  int columns = 320, rows = 240;
  double field_of_view = std::numbers::pi / 4.0;  ///< across the picture [rad], from 0 to pi
  double distance = 2.5;                          ///< from the wall [m]
  /// Of one pixel, its standard deviation as a difference of temperature, before an object of 30 degC [K]; 0
  /// for none. (The trade's NETD.)
  double noise = 0.05;
  double blur = 0.7;                ///< of the optics: standard deviation [pixels]; 0 for none
  double emissivity = 0.9;          ///< of the wall's face, in (0, 1]
  std::optional<double> reflected;  ///< what the face mirrors [degC]; the room's air where empty
  Band band = Band::long_wave;
  std::uint64_t seed = 1;  ///< of the noise
};

/// A point of the face, from the wall's left end and from the floor [m].
struct FacePoint {
  double across = 0.0, up = 0.0;
};

/// Beyond this angle from the straight view [rad] painted and mineral linings send out visibly less than
/// their emissivity says, and mirror more: 60 degrees, common practice, no source (for non-metals, textbooks
/// of heat transfer draw the directional emissivity as even up to 50 to 60 degrees and falling beyond; from
/// memory). Nothing of that is modelled: a picture that reaches further out is too sure of its edges.
inline constexpr double oblique = std::numbers::pi / 3.0;

/// What of a wall the camera has before it.
struct View {
  Span across, up;             ///< the seen rectangle in the plane of the face; may reach past the wall [m]
  double pixel = 0.0;          ///< side of the square that one pixel sees [m]
  bool whole_wall = false;     ///< all of it is seen
  double whole_wall_from = 0;  ///< distance from which all would be, before the same point [m]
  /// From the straight view to the furthest corner of what is seen of the wall [rad]; compare `oblique`.
  double largest_angle = 0.0;
};

/// The view of a wall that reaches over `across` and `up`, from before `aim`; the wall's middle where there
/// is none. A flat sensor behind a lens without distortion, parallel to the wall: every pixel sees a square
/// of
///
///     pixel = 2 distance tan(field_of_view / 2) / columns.
///
/// Throws ModelError where the camera cannot be: see require_camera.
View view_of(const Camera& camera, Span across, Span up, std::optional<FacePoint> aim = {});

/// Throws ModelError with everything that is wrong: fewer than one pixel or more than ten million, a field of
/// view not in (0, pi), a distance not above 0, noise or blur below 0 (or blur above 50 pixels), an
/// emissivity not in (0, 1], anything that is not a finite number.
void require_camera(const Camera& camera);

inline constexpr int most_pixels = 10'000'000;
inline constexpr double most_blur = 50.0;  ///< [pixels]

/// A picture in degrees, not in colours.
///
/// Shape   celsius[i + columns * j]: pixel i from the left, j from the bottom, as FaceMap has it; row 0 is
/// the
///         lowest.
/// Units   apparent temperature [degC], NaN where the camera looks past the wall; the seen rectangle [m].
struct Image {
  int columns = 0, rows = 0;
  Span across, up;
  std::vector<double> celsius;

  double at(int i, int j) const {
    return celsius[static_cast<std::size_t>(i) +
                   static_cast<std::size_t>(columns) * static_cast<std::size_t>(j)];
  }
};

/// What a camera without noise and with perfect optics would read: in each pixel the apparent temperature of
/// the mean radiance of the square that it sees. Radiance is taken as bilinear between the middles of the
/// face's cells, and so integrated exactly. A pixel whose middle lies past the wall is NaN; one that the wall
/// ends in has the mean of the part on the wall.
///
/// `room` is the air's temperature, which the face mirrors unless the camera says otherwise [degC].
/// Throws ModelError as require_camera does.
Image ideal(const FaceMap& face, const Camera& camera, double room, std::optional<FacePoint> aim = {});

/// The same picture as recorded: blurred by the optics, then with noise.
///
/// Blur is a Gaussian of radiance, to four standard deviations; past the wall is nothing, so what is left of
/// the Gaussian counts. Noise is normal, of one size in radiance everywhere: `noise` kelvins before a black
/// body of 30 degC, and more where it is colder and radiance rises less with temperature. It is drawn by the
/// formula of [BoxMuller1958] from std::mt19937_64, whose numbers the standard fixes, pixel by pixel
/// from the lowest row; the same picture on every platform but for the last digits of its logarithm and
/// cosine.
///
/// Throws ModelError as require_camera does.
Image recorded(const Image& ideal, const Camera& camera);

}  // namespace coldbay
