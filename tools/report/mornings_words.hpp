#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "solver/results/survey_rules.hpp"
#include "tools/input/quantity.hpp"

namespace coldbay {

std::string_view words_of(Against against);  ///< "too small a difference", "wind"

/// Words in a row: "sun", "sun and wind", "sun, wind and rain".
std::string listed(const std::vector<std::string>& words);

/// A rule by its letter: "A" for the first.
std::string letter_of(std::size_t rule);

/// "Thu 14 Jan 2026", "2026-01-14", of days since 1970-01-01.
std::string day_text(std::int64_t day);
std::string iso_day(std::int64_t day);

/// What a rule asks for: "10.0 K held for 4 h, no sun for 3 h, dry at the hour and wind up to 6.7 m/s".
std::string rule_text(const SurveyRule& rule, const SurveyWall& wall, UnitSystem units);

}  // namespace coldbay
