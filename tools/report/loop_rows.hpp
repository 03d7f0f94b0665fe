#pragma once

#include <string>
#include <string_view>

#include "tools/outcome.hpp"

namespace coldbay {

/// What is known of how right a loop is; said wherever one is shown.
inline constexpr std::string_view loop_checked_against =
    "checked against a flow solution, not yet against a measured wall";

/// True where its gaps are channels and the flow in them laminar.
bool channel_law_holds(const LoopFlow& loop);

/// Beside U: the same with still air, and what the loop adds; that loops are left out, where that was asked
/// for. Nothing where no air could loop.
std::string still_air_rows(const Outcome& o, UnitSystem units);

/// How the air goes round, what it does to either face, how to tell that from other faults, and where the
/// model ends. Nothing where no air loops.
std::string loop_rows(const Section& section, const Outcome& o, UnitSystem units);

}  // namespace coldbay
