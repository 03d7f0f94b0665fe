#include "solver/results/mornings.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace coldbay {
namespace {

constexpr std::int64_t noon = 12, light_at = 8;  // hours; the second where nothing is known of the sun

std::int64_t day_of(std::int64_t hour) { return hour >= 0 ? hour / 24 : -((23 - hour) / 24); }

/// Hours on end, both of them in it.
struct Hours {
  std::size_t first, last;
  std::size_t hours() const { return last - first + 1; }
};

bool dark(const Weather& w, std::size_t i) {
  const std::int64_t hour = w.hour_at(i) - 24 * day_of(w.hour_at(i));
  return w.sun.empty() ? hour < light_at : hour < noon && w.sun[i] < sunny;
}

/// The first dark hours of each date that has any.
std::vector<Hours> nights(const Weather& w) {
  std::vector<Hours> all;
  std::int64_t done = day_of(w.start) - 1;  // the last date whose morning is over
  for (std::size_t i = 0; i < w.hours(); ++i) {
    const std::int64_t day = day_of(w.hour_at(i));
    if (day == done || !dark(w, i)) continue;
    Hours run{i, i};
    while (run.last + 1 < w.hours() && day_of(w.hour_at(run.last + 1)) == day && dark(w, run.last + 1))
      ++run.last;
    all.push_back(run);
    done = day;
    i = run.last;
  }
  return all;
}

/// The longest survey of a night under a rule, the first of those as long.
std::optional<Hours> longest(const Weather& w, const Hours& night, const SurveyRule& rule,
                             const std::vector<HourVerdict>& verdicts) {
  std::optional<Hours> best;
  for (std::size_t from = night.first; from <= night.last; ++from) {
    const auto fits = [&](std::size_t i) {
      return verdicts[i].qualifies() &&
             !(rule.outside_drift && std::abs(w.temperature[i] - w.temperature[from]) > *rule.outside_drift);
    };
    if (!fits(from)) continue;
    Hours run{from, from};
    while (run.last < night.last && fits(run.last + 1)) ++run.last;
    if (!best || run.hours() > best->hours()) best = run;
  }
  return best;
}

/// The longest run of hours that the same rules allow, those being as many as any hour has.
Hours most_allowed(const Hours& night, const std::vector<std::optional<Hours>>& by_rule) {
  const auto allows = [](const std::optional<Hours>& run, std::size_t hour) {
    return run && run->first <= hour && hour <= run->last;
  };
  const auto same = [&](std::size_t a, std::size_t b) {
    return std::all_of(by_rule.begin(), by_rule.end(),
                       [&](const std::optional<Hours>& run) { return allows(run, a) == allows(run, b); });
  };
  const auto count = [&](std::size_t hour) {
    return std::count_if(by_rule.begin(), by_rule.end(),
                         [&](const std::optional<Hours>& run) { return allows(run, hour); });
  };
  std::optional<Hours> best;
  for (std::size_t from = night.first; from <= night.last; ++from) {
    Hours run{from, from};
    while (run.last < night.last && same(from, run.last + 1)) ++run.last;
    const auto more = best ? count(from) - count(best->first) : 1;
    if (more > 0 || (more == 0 && run.hours() > best->hours())) best = run;
    from = run.last;
  }
  return *best;
}

SurveyWindow window_of(const Weather& w, const Hours& run, const SurveyWall& wall,
                       const std::vector<double>& lasting) {
  SurveyWindow out{run.first, run.last, std::abs(wall.inside - w.temperature[run.first]), 0.0,
                   lasting[run.first]};
  for (std::size_t i = run.first; i <= run.last; ++i) {
    const double d = std::abs(wall.inside - w.temperature[i]);
    out.least = std::min(out.least, d);
    out.most = std::max(out.most, d);
    if (std::abs(lasting[i]) < std::abs(out.lasting)) out.lasting = lasting[i];
  }
  return out;
}

/// The shortest list of what stands against an hour of a night, under any rule.
std::vector<Against> nearest_miss(const Hours& night, const std::vector<std::vector<HourVerdict>>& verdicts) {
  const std::vector<Against>* least = nullptr;
  for (const auto& rule : verdicts)
    for (std::size_t i = night.first; i <= night.last; ++i)
      if (!least || rule[i].against.size() < least->size()) least = &rule[i].against;
  return least ? *least : std::vector<Against>{};
}

}  // namespace

std::vector<Morning> mornings(const Weather& weather, std::span<const SurveyRule> rules,
                              const SurveyWall& wall) {
  std::vector<std::vector<HourVerdict>> verdicts;
  verdicts.reserve(rules.size());
  for (const SurveyRule& rule : rules) verdicts.push_back(qualifying_hours(weather, rule, wall));
  const std::vector<double> lasting = lasting_difference(weather, wall);
  std::vector<Morning> all;
  for (const Hours& night : nights(weather)) {
    Morning m;
    m.by_rule.reserve(rules.size());
    m.day = day_of(weather.hour_at(night.first));
    std::vector<std::optional<Hours>> by_rule;
    by_rule.reserve(rules.size());
    for (std::size_t r = 0; r < rules.size(); ++r) {
      const auto run = longest(weather, night, rules[r], verdicts[r]);
      by_rule.push_back(run);
      m.by_rule.push_back(run ? std::optional(window_of(weather, *run, wall, lasting)) : std::nullopt);
    }
    const Hours best = most_allowed(night, by_rule);
    for (std::size_t r = 0; r < rules.size(); ++r)
      if (by_rule[r] && by_rule[r]->first <= best.first && best.last <= by_rule[r]->last)
        m.rules.push_back(r);
    if (m.rules.empty())
      m.against = nearest_miss(night, verdicts);
    else
      m.window = window_of(weather, best, wall, lasting);
    all.push_back(std::move(m));
  }
  return all;
}

std::size_t mornings_under(const std::vector<Morning>& all, std::size_t rule) {
  return static_cast<std::size_t>(
      std::count_if(all.begin(), all.end(), [&](const Morning& m) { return m.by_rule[rule].has_value(); }));
}

std::size_t mornings_showing(const std::vector<Morning>& all, const Visibility& seen) {
  return static_cast<std::size_t>(std::count_if(all.begin(), all.end(), [&](const Morning& m) {
    return !m.rules.empty() && shows_at(seen, m.window.lasting);
  }));
}

}  // namespace coldbay
