#include "tools/report/mornings_words.hpp"

#include <fmt/core.h>

#include <array>
#include <chrono>

#include "tools/report/amounts.hpp"

namespace coldbay {

std::string_view words_of(Against against) {
  constexpr std::array<std::string_view, 7> words{"too small a difference",
                                                  "a difference that has not lasted",
                                                  "a file that begins too late to tell",
                                                  "sun",
                                                  "wind",
                                                  "rain",
                                                  "drift of the room's air"};
  return words[static_cast<std::size_t>(against)];
}

std::string listed(const std::vector<std::string>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i)
    out += fmt::format("{}{}", i == 0 ? "" : i + 1 == words.size() ? " and " : ", ", words[i]);
  return out;
}

std::string letter_of(std::size_t rule) { return {static_cast<char>('A' + static_cast<int>(rule % 26))}; }

namespace {

std::chrono::sys_days date_of(std::int64_t day) { return std::chrono::sys_days(std::chrono::days(day)); }

}  // namespace

std::string day_text(std::int64_t day) {
  constexpr std::array<std::string_view, 7> weekdays{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  constexpr std::array<std::string_view, 12> months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                    "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const std::chrono::year_month_day date{date_of(day)};
  return fmt::format("{} {} {} {}", weekdays[std::chrono::weekday(date_of(day)).c_encoding()],
                     static_cast<unsigned>(date.day()), months[static_cast<unsigned>(date.month()) - 1],
                     static_cast<int>(date.year()));
}

std::string iso_day(std::int64_t day) {
  const std::chrono::year_month_day date{date_of(day)};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()));
}

std::string rule_text(const SurveyRule& rule, const SurveyWall& wall, UnitSystem u) {
  const auto hours = [&](const HoursBefore& h) { return wall.heavy ? h.heavy : h.light; };
  const auto lasts = [](int h) { return h == 0 ? std::string(" at the hour") : fmt::format(" for {} h", h); };
  std::vector<std::string> asks{
      fmt::format("{} held{}", difference_text(least_difference(rule, wall), u), lasts(rule.held))};
  if (rule.no_sun) asks.push_back(fmt::format("no sun{}", lasts(hours(*rule.no_sun))));
  if (rule.dry) asks.push_back(fmt::format("dry{}", lasts(hours(*rule.dry))));
  if (rule.most_wind)
    asks.push_back(u == UnitSystem::metric ? fmt::format("wind up to {:.1f} m/s", *rule.most_wind)
                                           : fmt::format("wind up to {:.0f} mph", *rule.most_wind / 0.44704));
  if (rule.outside_drift)
    asks.push_back(fmt::format("no more than {} of drift outside", difference_text(*rule.outside_drift, u)));
  return listed(asks);
}

}  // namespace coldbay
