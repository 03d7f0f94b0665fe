#pragma once

#include <optional>
#include <vector>

#include "geometry/section.hpp"
#include "solver/air_loops/moving_air.hpp"

namespace coldbay {

/// Below this Reynolds number, of twice the gap, flow between parallel faces is laminar, and the law for
/// channels holds; from memory, common to textbooks.
inline constexpr double laminar_below = 2000.0;

/// One way round which air loops: what is joined to it is part of it, what a member parts is another one.
struct Loop {
  Span up;                ///< from the lowest place it gets to, to the highest [m]
  double flow = 0.0;      ///< per metre of width, where it is strongest [m2/s]
  double speed = 0.0;     ///< mean over the gap there [m/s]
  double reynolds = 0.0;  ///< there
};

/// What goes up through a gap at one place; down where it is below zero.
struct GapFlow {
  Point at;
  double upward = 0.0;  ///< [m2/s]
};

/// Air that loops round a fill, per metre of width.
struct LoopFlow {
  double flow = 0.0;          ///< where it is strongest [m2/s]
  double speed = 0.0;         ///< mean over the gap there [m/s]
  double reynolds = 0.0;      ///< there
  double widest = 0.0;        ///< gap in depth that it runs through [m]; above widest_channel the law ends
  std::vector<Loop> loops;    ///< the strongest first
  std::vector<GapFlow> gaps;  ///< between each two rows of cells one above the other
};

/// The same of a section as solved; empty where no air loops.
std::optional<LoopFlow> loop_flow(const MovingAir& moving, const ConductivityGrid& grid);

}  // namespace coldbay
