#include "tools/input/hour_stamp.hpp"

#include <fmt/core.h>

#include <chrono>
#include <optional>

#include "tools/input/input_error.hpp"

namespace coldbay {
namespace {

/// A number of so many digits at the front, which is taken off.
std::optional<int> take_digits(std::string_view& text, std::size_t n) {
  if (text.size() < n) return std::nullopt;
  int value = 0;
  for (std::size_t i = 0; i < n; ++i) {
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
    value = 10 * value + (text[i] - '0');
  }
  text.remove_prefix(n);
  return value;
}

bool take(std::string_view& text, std::string_view any_of) {
  if (text.empty() || any_of.find(text.front()) == std::string_view::npos) return false;
  text.remove_prefix(1);
  return true;
}

}  // namespace

std::variant<std::int64_t, FaultyHour> parse_hour(std::string_view text) {
  using namespace std::chrono;
  const std::string hint = "write the date and the hour as 2026-01-14T05:00";
  const FaultyHour no_time{fmt::format("'{}' is not a time", shortened(text)), hint};
  std::string_view rest = text;
  const auto y = take_digits(rest, 4);
  if (!y || !take(rest, "-")) return no_time;
  const auto m = take_digits(rest, 2);
  if (!m || !take(rest, "-")) return no_time;
  const auto d = take_digits(rest, 2);
  if (!d || !take(rest, "Tt ")) return no_time;
  const auto h = take_digits(rest, 2);
  if (!h || !take(rest, ":")) return no_time;
  const auto minute = take_digits(rest, 2);
  if (!minute) return no_time;
  std::optional<int> second = 0;
  if (take(rest, ":")) second = take_digits(rest, 2);
  if (!second) return no_time;
  if (!rest.empty()) {
    const bool offset = rest.front() == 'Z' || rest.front() == '+' || rest.front() == '-';
    if (!offset) return no_time;
    return FaultyHour{fmt::format("'{}' has an offset from universal time", shortened(text)),
                      "write the local time without it: sunrise and the hours of a survey are local"};
  }
  const year_month_day date{year(*y), month(static_cast<unsigned>(*m)), day(static_cast<unsigned>(*d))};
  if (!date.ok() || *h > 23 || *minute > 59 || *second > 59)
    return FaultyHour{fmt::format("there is no such time as '{}'", text),
                      *h == 24 ? "midnight is 00:00 of the next day" : hint};
  if (*minute != 0 || *second != 0)
    return FaultyHour{fmt::format("'{}' is not on the hour", text), "give one line for each hour, as 05:00"};
  return std::int64_t{sys_days(date).time_since_epoch().count()} * 24 + *h;
}

std::string hour_text(std::int64_t hour) {
  using namespace std::chrono;
  const std::int64_t days_since = hour >= 0 ? hour / 24 : -((23 - hour) / 24);
  const year_month_day date{sys_days(days(days_since))};
  return fmt::format("{:04}-{:02}-{:02} {:02}:00", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                     hour - 24 * days_since);
}

}  // namespace coldbay
