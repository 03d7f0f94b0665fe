#include "tools/study/effects.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

namespace coldbay {
namespace {

constexpr std::size_t most_values = 24, most_stretches = 20, rows_of_stretch = 20;

std::vector<std::size_t> rows_by_level(const Levels& levels) {
  std::vector<std::size_t> rows(levels.count(), 0);
  for (const std::size_t level : levels.of_row)
    if (level != Levels::none) ++rows[level];
  return rows;
}

/// The value all else is held at: see Swing.
std::size_t middle_level(const Levels& levels) {
  const std::vector<std::size_t> rows = rows_by_level(levels);
  const auto most = std::max_element(rows.begin(), rows.end());
  const bool alone = std::count(rows.begin(), rows.end(), *most) == 1;
  if (alone || levels.numbers.empty()) return static_cast<std::size_t>(most - rows.begin());
  std::size_t all = 0, before = 0;
  for (const std::size_t n : rows) all += n;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    before += rows[i];
    if (2 * before >= all) return i;
  }
  return rows.size() - 1;
}

/// The mean of a result by level, over the rows in which all other parameters stand at their middle.
std::vector<double> means_at_middle(const std::vector<double>& result, const std::vector<Levels>& levels,
                                    const std::vector<std::size_t>& middles, std::size_t moved) {
  std::vector<double> sum(levels[moved].count(), 0.0);
  std::vector<std::size_t> n(sum.size(), 0);
  for (std::size_t row = 0; row < result.size(); ++row) {
    bool still = std::isfinite(result[row]) && levels[moved].of_row[row] != Levels::none;
    for (std::size_t p = 0; still && p < levels.size(); ++p)
      still = p == moved || levels[p].of_row[row] == middles[p];
    if (!still) continue;
    sum[levels[moved].of_row[row]] += result[row];
    ++n[levels[moved].of_row[row]];
  }
  for (std::size_t i = 0; i < sum.size(); ++i)
    sum[i] /= static_cast<double>(n[i]);  // NaN where there is none
  return sum;
}

/// One place a parameter stood at, and the result there.
struct Stand {
  double at = 0.0;
  std::string text;
  double result = 0.0;
};

/// From the first to the last, or of texts from the least result to the greatest; nothing of fewer than two.
std::optional<Swing> swing_between(std::size_t parameter, const std::vector<Stand>& stands, bool is_text) {
  if (stands.size() < 2) return std::nullopt;
  auto from = stands.begin(), to = stands.end() - 1;
  if (is_text)
    std::tie(from, to) = std::minmax_element(
        stands.begin(), stands.end(), [](const Stand& a, const Stand& b) { return a.result < b.result; });
  return Swing{parameter, from->at, to->at, from->text, to->text, from->result, to->result, false};
}

std::optional<Swing> swing_of(const StudyTable& table, std::size_t parameter, std::size_t moved,
                              const std::vector<Levels>& levels, const std::vector<std::size_t>& middles,
                              std::size_t result) {
  const bool is_text = table.columns[parameter].is_text;
  const std::vector<double> means = means_at_middle(table.numbers[result], levels, middles, moved);
  std::vector<Stand> stands;
  stands.reserve(means.size());
  for (std::size_t i = 0; i < means.size(); ++i)
    if (std::isfinite(means[i]))
      stands.push_back(
          {is_text ? 0.0 : levels[moved].numbers[i], is_text ? levels[moved].texts[i] : "", means[i]});
  auto swing = swing_between(parameter, stands, is_text);
  if (swing) {
    swing->all_else_still = true;
    return swing;
  }
  stands.clear();
  for (const EffectLevel& level : effect_of(table, parameter, levels[moved], result).levels)
    stands.push_back({level.middle, level.text, level.result.mean});
  return swing_between(parameter, stands, is_text);
}

}  // namespace

Classes classes_of(const Levels& levels, std::size_t most) {
  Classes classes{levels.count(), std::vector<std::size_t>(levels.count())};
  if (levels.count() <= most || levels.numbers.empty()) {
    for (std::size_t i = 0; i < classes.count; ++i) classes.of_level[i] = i;
    return classes;
  }
  const std::vector<std::size_t> rows = rows_by_level(levels);
  std::size_t all = 0, before = 0, last = 0, next = 0;
  for (const std::size_t n : rows) all += n;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::size_t wanted = std::min(most - 1, before * most / all);
    if (i > 0 && wanted != last) ++next;  // a value with many rows may skip some: no class stays empty
    last = wanted;
    classes.of_level[i] = next;
    before += rows[i];
  }
  classes.count = next + 1;
  return classes;
}

Effect effect_of(const StudyTable& table, std::size_t parameter, const Levels& levels, std::size_t result) {
  const bool is_text = table.columns[parameter].is_text;
  const std::size_t n_rows = levels.of_row.size();
  const std::size_t stretches = std::clamp(n_rows / rows_of_stretch, std::size_t{4}, most_stretches);
  const bool by_stretches = !is_text && levels.count() > most_values;
  const Classes classes = classes_of(levels, by_stretches ? stretches : levels.count());
  std::vector<std::vector<double>> values(classes.count), places(classes.count);
  for (std::size_t row = 0; row < n_rows; ++row) {
    const std::size_t level = levels.of_row[row];
    if (level == Levels::none || !std::isfinite(table.numbers[result][row])) continue;
    values[classes.of_level[level]].push_back(table.numbers[result][row]);
    if (!is_text) places[classes.of_level[level]].push_back(levels.numbers[level]);
  }
  Effect effect{by_stretches, {}};
  for (std::size_t i = 0; i < classes.count; ++i) {
    if (values[i].empty()) continue;
    EffectLevel level;
    if (is_text) {
      level.text = levels.texts[i];
    } else {
      const Band along = band_of(std::move(places[i]));
      level.from = along.least;
      level.to = along.greatest;
      level.middle = along.mean;
    }
    level.result = band_of(std::move(values[i]));
    effect.levels.push_back(std::move(level));
  }
  return effect;
}

std::vector<Swing> one_at_a_time(const StudyTable& table, const std::vector<std::size_t>& parameters,
                                 const std::vector<Levels>& levels, std::size_t result) {
  std::vector<std::size_t> middles;
  middles.reserve(levels.size());
  for (const Levels& one : levels) middles.push_back(middle_level(one));
  std::vector<Swing> swings;
  for (std::size_t p = 0; p < parameters.size(); ++p)
    if (auto swing = swing_of(table, parameters[p], p, levels, middles, result))
      swings.push_back(std::move(*swing));
  std::stable_sort(swings.begin(), swings.end(), [](const Swing& a, const Swing& b) {
    return std::abs(a.at_to - a.at_from) > std::abs(b.at_to - b.at_from);
  });
  return swings;
}

std::vector<Combination> ranked_combinations(const StudyTable& table,
                                             const std::vector<std::size_t>& parameters, std::size_t result) {
  std::vector<std::size_t> columns;
  for (const std::size_t p : parameters)
    if (table.columns[p].is_text) columns.push_back(p);
  if (columns.empty()) return {};
  std::map<std::vector<std::string>, std::size_t> known;
  std::vector<Combination> all;
  std::vector<std::vector<double>> values;
  for (std::size_t row = 0; row < table.ids.size(); ++row) {
    if (!std::isfinite(table.numbers[result][row])) continue;
    std::vector<std::string> texts;
    texts.reserve(columns.size());
    for (const std::size_t c : columns) texts.push_back(table.texts[c][row]);
    const auto [at, is_new] = known.try_emplace(std::move(texts), all.size());
    if (is_new) {
      all.push_back({at->first, {}});
      values.emplace_back();
    }
    values[at->second].push_back(table.numbers[result][row]);
  }
  for (std::size_t i = 0; i < all.size(); ++i) all[i].result = band_of(std::move(values[i]));
  std::stable_sort(all.begin(), all.end(),
                   [](const Combination& a, const Combination& b) { return a.result.mean < b.result.mean; });
  return all;
}

}  // namespace coldbay
