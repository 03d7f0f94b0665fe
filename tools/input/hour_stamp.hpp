#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <variant>

namespace coldbay {

/// Reads an hour as ISO 8601 writes it, local and on the hour: `2026-01-14T05:00`, with a blank for the T,
/// with or without seconds. Returns hours since 1970-01-01 00:00, or what is wrong, and what to write
/// instead.
struct FaultyHour {
  std::string what, hint;
};
std::variant<std::int64_t, FaultyHour> parse_hour(std::string_view text);

/// "2026-01-14 05:00"
std::string hour_text(std::int64_t hour);

}  // namespace coldbay
