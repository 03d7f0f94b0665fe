#pragma once

namespace coldbay::exit_code {

/// What the program ends with.
inline constexpr int done = 0, usage = 2, bad_case = 3, not_reached = 4, not_written = 5;

}  // namespace coldbay::exit_code
