#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "solver/results/weather.hpp"

namespace coldbay {

/// Hours before the survey, by what is on the outside of the frame.
struct HoursBefore {
  int light = 0;  ///< boards and panels on a light frame
  int heavy = 0;  ///< masonry in front of it
};

/// What one standard or guideline asks of the hour of a survey. Empty: it asks nothing.
struct SurveyRule {
  std::string_view name, source;
  double difference = 10.0;             ///< least, from inside to outside [K]
  double over_u = 0.0;                  ///< the least is no less than this over U, its units left out [W/m2]
  int held = 0;                         ///< hours before in which it may not be less
  std::optional<HoursBefore> no_sun;    ///< and none at the hour itself
  std::optional<double> most_wind;      ///< [m/s]
  std::optional<HoursBefore> dry;       ///< and no rain in the hour itself
  std::optional<double> outside_drift;  ///< during the survey, either way from its beginning [K]
  std::optional<double> inside_drift;   ///< the same inside; no weather file tells [K]
};

/// The rules that are known, in the order in which they are lettered. Numbers as far as they were seen or
/// are remembered: check the wording of a standard before quoting it.
std::span<const SurveyRule> survey_rules();

/// The difference that most of the rules ask for [K].
inline constexpr double standard_difference = 10.0;

/// From how much sun on a level surface an hour counts as sunny [W/m2]. A file gives the whole sky, not the
/// direct sun of the rules, so that an overcast day counts too: rather an hour too few than one too many. No
/// source; above what a gauge reads at night.
inline constexpr double sunny = 10.0;

/// The wall and the room, as far as the rules care.
struct SurveyWall {
  double inside = 20.0;  ///< temperature of the room [degC]
  double u_value = 0.0;  ///< [W/(m2 K)]
  int settling = 0;      ///< hours the face takes to follow a change outside
  bool heavy = false;    ///< masonry outside of the frame
};

/// What may stand against an hour, or, of the last three and inside_drift, not be known.
enum class Against {
  difference,  ///< too small at the hour
  held,        ///< too small, or the other way round, in the hours before, or while the wall settles
  history,     ///< the file begins too late to tell
  sun,
  wind,
  rain,
  inside_drift
};

/// One hour under one rule: it qualifies where nothing stands against it.
struct HourVerdict {
  std::vector<Against> against;
  bool qualifies() const { return against.empty(); }
};

/// Difference from inside to outside that an hour needs under a rule [K].
double least_difference(const SurveyRule& rule, const SurveyWall& wall);

/// What the rules ask for on this wall, each difference once, the largest first [K].
std::vector<double> least_differences(const SurveyWall& wall);

/// Every hour of the weather under one rule, but for its drift, which is a matter of a whole survey. The
/// difference must have held as long as the rule asks for, and as long as the wall takes to settle.
std::vector<HourVerdict> qualifying_hours(const Weather& weather, const SurveyRule& rule,
                                          const SurveyWall& wall);

/// What a rule asks for and this weather does not tell.
std::vector<Against> not_judged(const Weather& weather, const SurveyRule& rule);

/// For every hour the least difference from inside to outside since the wall began to settle [K]: what a
/// fault must need no more than. Negative where outside was the warmer all that time; 0 where it changed
/// sides, or where the file begins too late to tell.
std::vector<double> lasting_difference(const Weather& weather, const SurveyWall& wall);

}  // namespace coldbay
