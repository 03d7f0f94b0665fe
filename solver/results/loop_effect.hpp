#pragma once

#include <cmath>
#include <numbers>
#include <optional>

#include "geometry/section.hpp"
#include "solver/forecast.hpp"

namespace coldbay {

/// A face changes by less than this: nothing to look for [K]. Twice the noise of one pixel of a usual camera
/// (camera.hpp); no source.
inline constexpr double least_mark = 0.1;

/// A mark ends where this much of its greatest change is left: 1/e, so that one which dies away exponentially
/// is as high as the way on which the air takes on the temperature of what it comes to.
inline constexpr double mark_ends = 1.0 / std::numbers::e;

/// What a loop does to one face of the wall: the cold foot where the air comes in cold, the warm head where
/// it comes in warm.
struct LoopMark {
  bool at_top = false;     ///< of the loop, else at its bottom
  double change = 0.0;     ///< of the face at its strongest, against still air [K]; below zero: colder
  double change_at = 0.0;  ///< [m] above the floor
  double height = 0.0;     ///< from the end of the loop to where the mark ends [m]
};

/// A section with its air looping, against the same with its air standing still.
struct LoopEffect {
  double extra = 0.0;                             ///< heat lost, as Effect counts it [W per metre of width]
  double uncertainty = 0.0;                       ///< of that, from the grids of both [W/m]
  double share = 0.0;                             ///< of what is lost with still air
  std::optional<LoopMark> room_face, outer_face;  ///< of the strongest loop; empty where nothing shows
  /// The loop carries no heat that could be told from the error of the two.
  bool is_nothing() const { return std::abs(extra) <= uncertainty; }
};

/// Reads it off the two. On the room face it is looked for what is colder than with still air, on the outer
/// face what is warmer; where inside is colder than outside, the air goes the other way round, and so do the
/// marks. `looping` must have a loop.
LoopEffect loop_effect(const Forecast& looping, const Forecast& still);

}  // namespace coldbay
