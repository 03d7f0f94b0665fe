#pragma once

#include <optional>

#include "solver/air_loops/moving_air.hpp"

namespace coldbay {

/// Air that loops round a fill, per metre of width.
struct LoopFlow {
  double flow = 0.0;      ///< where it is strongest [m2/s]
  double speed = 0.0;     ///< mean over the gap there [m/s]
  double reynolds = 0.0;  ///< there, of twice the gap: laminar below about 2000
  double widest = 0.0;    ///< gap in depth that it runs through [m]; above widest_channel the law for it ends
};

/// The same of what was solved; empty where no air loops.
std::optional<LoopFlow> loop_flow(const MovingAir& moving);

}  // namespace coldbay
