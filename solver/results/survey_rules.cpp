#include "solver/results/survey_rules.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/axis.hpp"

namespace coldbay {
namespace {

/// [ASTMC1060], [EN13187], [ISO6781], [RESNET2010]. How sure each number is stands in its source.
constexpr std::array<SurveyRule, 4> rules{{
    {"ASTM C1060", "the difference as quoted by a training company; all else from memory", 10.0, 0.0, 4,
     HoursBefore{3, 8}, 6.7, HoursBefore{0, 0}, std::nullopt, std::nullopt},
    {"EN 13187, as quoted", "as quoted by a survey firm, for a building in use; parts from memory", 10.0, 0.0,
     24, HoursBefore{2, 2}, 5.0, HoursBefore{12, 24}, std::nullopt, std::nullopt},
    {"ISO 6781, by U-value", "the text that EN 13187 has too; from memory", 5.0, 3.0, 24, HoursBefore{12, 12},
     std::nullopt, std::nullopt, 5.0, 2.0},
    {"rating guideline", "RESNET interim guidelines, 2010; opening seen, numbers from memory", 10.0, 0.0, 4,
     HoursBefore{0, 0}, std::nullopt, std::nullopt, std::nullopt, std::nullopt},
}};

/// True where `ok` holds for this hour and so many before it, as far as the file goes back.
template <class Ok>
bool all_since(std::size_t hour, int before, Ok&& ok) {
  const auto last = static_cast<std::ptrdiff_t>(hour);
  for (std::ptrdiff_t i = std::max<std::ptrdiff_t>(0, last - before); i <= last; ++i)
    if (!ok(at(i))) return false;
  return true;
}

}  // namespace

std::span<const SurveyRule> survey_rules() { return rules; }

double least_difference(const SurveyRule& rule, const SurveyWall& wall) {
  const double by_u = rule.over_u > 0.0 && wall.u_value > 0.0 ? rule.over_u / wall.u_value : 0.0;
  return std::max(rule.difference, by_u);
}

std::vector<double> least_differences(const SurveyWall& wall) {
  std::vector<double> all;
  all.reserve(rules.size());
  for (const SurveyRule& rule : rules) all.push_back(least_difference(rule, wall));
  std::sort(all.rbegin(), all.rend());
  // Told apart only where a reader would see a difference.
  all.erase(std::unique(all.begin(), all.end(), [](double a, double b) { return std::abs(a - b) < 0.05; }),
            all.end());
  return all;
}

std::vector<HourVerdict> qualifying_hours(const Weather& weather, const SurveyRule& rule,
                                          const SurveyWall& wall) {
  const double least = least_difference(rule, wall);
  const auto hours = [&](const HoursBefore& h) { return wall.heavy ? h.heavy : h.light; };
  std::vector<HourVerdict> verdicts(weather.hours());
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    std::vector<Against>& against = verdicts[i].against;
    int looked_back = 0;
    const auto check = [&](Against what, int before, auto&& ok) {
      if (!all_since(i, before, ok))
        against.push_back(what);
      else
        looked_back = std::max(looked_back, before);
    };
    const bool outside_colder = weather.temperature[i] < wall.inside;
    const auto enough = [&](std::size_t j) {
      const double d = wall.inside - weather.temperature[j];
      return (outside_colder ? d : -d) >= least;
    };
    if (enough(i))
      check(Against::held, std::max(rule.held, wall.settling), enough);
    else
      against.push_back(Against::difference);
    if (rule.no_sun && !weather.sun.empty())
      check(Against::sun, hours(*rule.no_sun), [&](std::size_t j) { return weather.sun[j] < sunny; });
    if (rule.most_wind && !weather.wind.empty())
      check(Against::wind, 0, [&](std::size_t j) { return weather.wind[j] <= *rule.most_wind; });
    if (rule.dry && !weather.rain.empty())
      check(Against::rain, hours(*rule.dry), [&](std::size_t j) { return !(weather.rain[j] > 0.0); });
    // Only where nothing else stands against the hour does it matter what was before the file.
    if (against.empty() && static_cast<std::size_t>(looked_back) > i) against.push_back(Against::history);
  }
  return verdicts;
}

std::vector<Against> not_judged(const Weather& weather, const SurveyRule& rule) {
  std::vector<Against> open;
  if (rule.no_sun && weather.sun.empty()) open.push_back(Against::sun);
  if (rule.most_wind && weather.wind.empty()) open.push_back(Against::wind);
  if (rule.dry && weather.rain.empty()) open.push_back(Against::rain);
  if (rule.inside_drift) open.push_back(Against::inside_drift);
  return open;
}

std::vector<double> lasting_difference(const Weather& weather, const SurveyWall& wall) {
  std::vector<double> lasting(weather.hours(), 0.0);
  for (std::size_t i = static_cast<std::size_t>(std::max(0, wall.settling)); i < lasting.size(); ++i) {
    const auto from = weather.temperature.begin() + static_cast<std::ptrdiff_t>(i) - wall.settling;
    const auto [coldest, warmest] =
        std::minmax_element(from, weather.temperature.begin() + static_cast<std::ptrdiff_t>(i) + 1);
    const double least = wall.inside - *warmest, most = wall.inside - *coldest;
    lasting[i] = least > 0.0 ? least : most < 0.0 ? most : 0.0;
  }
  return lasting;
}

}  // namespace coldbay
