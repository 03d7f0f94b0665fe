#pragma once

#include "solver/air_loops/bay_loop.hpp"

namespace coldbay {

/// Where the search for the flow begins: with air that stands still, or as fast as could be, all of it warm
/// on one side and cold on the other. The answer is the same.
enum class LoopStart { still, fastest };

/// The loops of any bay: each gap a sheet, each slot and joint a channel, the batt porous (bay_mesh.hpp).
///
/// Pressures drive the flows together with buoyancy, and what flows into a node flows out of it: symmetric,
/// positive definite once a pressure in each connected part is held. Flows carry the temperatures
/// (bay_heat.hpp), and those are the buoyancy. Both are solved together by Newton's method, directly; in
/// turns they did not settle where a deep sheet lies beside narrow slots, however slowly.
///
/// Heat that the sides of slots and joints give to the air is left out. Throws SolverError where it does not
/// settle.
SteadyLoop network_loop(const BayLoop& bay, const LoopModel& model = {}, LoopStart start = LoopStart::still);

}  // namespace coldbay
