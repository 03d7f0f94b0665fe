#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/air_loops/loop_estimate.hpp"
#include "tools/input/quantity.hpp"

namespace coldbay {

/// "U 0.43 W/m2K (0.39 to 0.52 with gaps 1 mm narrower or wider), still air 0.35; +21 % (+9.1 to +49 %)"
std::string loop_range_text(const LoopEstimate& e, UnitSystem u);

/// What a loop does to a bay, or why there is none: "air can loop round its batt: U ..."; "no loop: the batt
/// touches the sheathing".
std::string loop_text(const LoopEstimate& e, UnitSystem u);

/// What a loop does to each bay, or why there is none: a sentence for every kind of bay that has air on a
/// face of its fill. "bays 2 and 4: air can loop round its batt: U ..."; "bay 3: no loop: the batt touches
/// the sheathing". Empty where no bay has.
std::vector<std::string> loop_lines(const std::vector<std::optional<LoopEstimate>>& bays, UnitSystem units);

/// The same as rows of a summary; where there is a loop, with how well it is known.
std::string loop_rows(const std::vector<std::optional<LoopEstimate>>& bays, UnitSystem units);

}  // namespace coldbay
