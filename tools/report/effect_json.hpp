#pragma once

#include <nlohmann/json_fwd.hpp>

#include "tools/outcome.hpp"

namespace coldbay {

/// "against_built_right": what a section costs more than built right.
nlohmann::ordered_json effect_json(const Outcome& outcome);

/// "scraps": what each bay of scraps costs by itself, stuffing by stuffing.
nlohmann::ordered_json scraps_json(const Outcome& outcome);

/// "wall": the wall as a whole, and what is wrong in each bay.
nlohmann::ordered_json wall_json(const Case& c, const Outcomes& outcomes);

}  // namespace coldbay
