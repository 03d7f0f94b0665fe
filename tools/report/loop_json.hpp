#pragma once

#include <nlohmann/json_fwd.hpp>

#include "tools/outcome.hpp"

namespace coldbay {

/// "loop": air that loops in a section, and what it does against the same section with still air.
nlohmann::ordered_json loop_json(const Outcome& outcome);

}  // namespace coldbay
