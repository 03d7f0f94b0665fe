#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "tools/report/amounts.hpp"
#include "tools/report/mornings_words.hpp"
#include "tools/report/outlook_text.hpp"

namespace coldbay {
namespace {

/// Mornings told one by one; of more, those with the largest differences.
constexpr std::size_t most_told = 31;

std::string clock(const Weather& w, std::size_t i) {
  const std::int64_t of_day = ((w.hour_at(i) % 24) + 24) % 24;
  return fmt::format("{:02}:00", of_day);
}

std::string span_text(double least, double most, UnitSystem u) {
  const bool metric = u == UnitSystem::metric;
  const double a = std::round(metric ? least : 1.8 * least), b = std::round(metric ? most : 1.8 * most);
  return a == b ? fmt::format("{:.0f} {}", a, metric ? "K" : "°F")
                : fmt::format("{:.0f} to {:.0f} {}", a, b, metric ? "K" : "°F");
}

/// "shows all but bay 4".
std::string shown_text(const Outlook& o, const Morning& m) {
  std::vector<std::string> shown, not_shown;
  for (const OutlookFault& fault : o.faults)
    (shows_at(fault.seen, m.window.lasting) ? shown : not_shown).push_back(fault.seen.name);
  if (o.faults.empty()) return {};
  if (not_shown.empty()) return "; shows every fault";
  if (shown.empty()) return "; shows no fault";
  return not_shown.size() < shown.size() ? fmt::format("; shows every fault but {}", listed(not_shown))
                                         : fmt::format("; shows {}", listed(shown));
}

std::string morning_row(const Outlook& o, const Morning& m) {
  if (m.rules.empty()) {
    std::vector<std::string> why;
    why.reserve(m.against.size());
    for (const Against a : m.against) why.emplace_back(words_of(a));
    return row(day_text(m.day), fmt::format("no: {}", listed(why)));
  }
  const Weather& w = o.weather->weather;
  std::vector<std::string> letters;
  letters.reserve(m.rules.size());
  for (const std::size_t rule : m.rules) letters.push_back(letter_of(rule));
  const std::string until = clock(w, m.window.last + 1);
  return row(day_text(m.day),
             fmt::format("{} to {}, {}{}, under {}{}", clock(w, m.window.first), until,
                         span_text(m.window.least, m.window.most, o.units),
                         m.window.lasting < 0.0 ? " warmer outside" : "", listed(letters), shown_text(o, m)));
}

/// Which mornings are told one by one.
std::vector<const Morning*> chosen(const std::vector<Morning>& all) {
  std::vector<const Morning*> some;
  for (const Morning& m : all)
    if (all.size() <= most_told || !m.rules.empty()) some.push_back(&m);
  if (some.size() <= most_told) return some;
  std::stable_sort(some.begin(), some.end(), [](const Morning* a, const Morning* b) {
    return std::abs(a->window.lasting) > std::abs(b->window.lasting);
  });
  some.resize(most_told);
  std::sort(some.begin(), some.end(), [](const Morning* a, const Morning* b) { return a->day < b->day; });
  return some;
}

std::string rules_rows(const Outlook& o) {
  const WeatherOutlook& weather = *o.weather;
  std::string out;
  std::map<Against, std::vector<std::string>> open;
  const auto rules = survey_rules();
  for (std::size_t r = 0; r < rules.size(); ++r) {
    out += row(fmt::format("{}: {}", letter_of(r), mornings_under(weather.mornings, r)),
               fmt::format("{}: {}", rules[r].name, rule_text(rules[r], o.wall, o.units)));
    out += row("", fmt::format("({})", rules[r].source));
    for (const Against a : not_judged(weather.weather, rules[r])) open[a].push_back(letter_of(r));
  }
  for (const auto& [what, letters] : open)
    out += row("not judged", fmt::format("{}, which {} ask{} about and this file does not tell",
                                         words_of(what), listed(letters), letters.size() == 1 ? "s" : ""));
  return out;
}

}  // namespace

std::string mornings_text(const Outlook& o) {
  const WeatherOutlook& weather = *o.weather;
  const auto& all = weather.mornings;
  if (all.empty()) return fmt::format("\n{}: no dark hour of a morning is in it\n", weather.file);
  std::string out = fmt::format("\nMornings of {}, {} to {}: {}\n", weather.file, iso_day(all.front().day),
                                iso_day(all.back().day), all.size());
  const auto told = chosen(all);
  for (const Morning* m : told) out += morning_row(o, *m);
  const auto good = static_cast<std::size_t>(
      std::count_if(all.begin(), all.end(), [](const Morning& m) { return !m.rules.empty(); }));
  if (told.size() < good)
    out += row("", fmt::format("and {} more, with smaller differences", good - told.size()));
  if (all.size() > most_told)
    out += row("no good", fmt::format("{} morning{}", all.size() - good, all.size() - good == 1 ? "" : "s"));
  out += fmt::format("\nOf {} mornings, so many qualify under\n", all.size());
  out += rules_rows(o);
  if (!o.faults.empty()) out += fmt::format("\nOf {} mornings, so many qualify and show\n", all.size());
  for (const OutlookFault& fault : o.faults)
    out += row(fault.seen.name, fmt::format("{}: {}", mornings_showing(all, fault.seen), fault.what));
  return out;
}

}  // namespace coldbay
