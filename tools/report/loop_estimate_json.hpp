#pragma once

#include <nlohmann/json_fwd.hpp>

#include "solver/air_loops/loop_estimate.hpp"

namespace coldbay {

/// The estimate of the loop round a bay's fill, or why there is none.
nlohmann::ordered_json loop_json(const LoopEstimate& e);

}  // namespace coldbay
