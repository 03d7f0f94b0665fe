#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "solver/results/survey_rules.hpp"
#include "solver/results/visibility.hpp"

namespace coldbay {

/// Hours on end in which a survey may be made.
struct SurveyWindow {
  std::size_t first = 0, last = 0;  ///< hours of the weather, both of them in it
  double least = 0.0, most = 0.0;   ///< difference of the airs at those hours, whichever is the warmer [K]
  /// What has lasted at every hour of it for as long as the wall takes to settle [K]; negative where outside
  /// is the warmer.
  double lasting = 0.0;
};

/// The dark hours of one date, from midnight until the sun is on the wall.
struct Morning {
  std::int64_t day = 0;            ///< days since 1970-01-01
  std::vector<std::size_t> rules;  ///< under which the window qualifies; none: no hour qualifies under any
  SurveyWindow window;             ///< the longest stretch that as many rules allow as possible
  std::vector<std::optional<SurveyWindow>> by_rule;  ///< the longest window under each rule alone
  std::vector<Against> against;  ///< where none does: what stands against the hour that comes nearest
};

/// All mornings of the weather that have a dark hour, in order. Dark is an hour before noon without sun
/// (`sunny`), or before 8:00 where the weather has no sun. A survey is broken off where the air outside
/// has drifted from its beginning further than the rule allows.
std::vector<Morning> mornings(const Weather& weather, std::span<const SurveyRule> rules,
                              const SurveyWall& wall);

/// On how many mornings some hours qualify under a rule.
std::size_t mornings_under(const std::vector<Morning>& all, std::size_t rule);

/// On how many mornings a fault shows, during the whole window, under any rule.
std::size_t mornings_showing(const std::vector<Morning>& all, const Visibility& seen);

}  // namespace coldbay
