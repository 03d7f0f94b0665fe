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
  for (const std::uint32_t level : levels.of_row)
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

/// The mean of a result by level; NaN where there is none.
std::vector<double> means_by_level(const Levels& levels, const std::vector<double>& result) {
  std::vector<double> sum(levels.count(), 0.0);
  std::vector<std::size_t> n(sum.size(), 0);
  for (std::size_t row = 0; row < result.size(); ++row) {
    const std::size_t level = levels.of_row[row];
    if (level == Levels::none || !std::isfinite(result[row])) continue;
    sum[level] += result[row];
    ++n[level];
  }
  for (std::size_t i = 0; i < sum.size(); ++i) sum[i] /= static_cast<double>(n[i]);
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

std::optional<Swing> swing_of(std::size_t parameter, const Levels& levels, const std::vector<double>& still,
                              const ParameterEffect& effect) {
  const bool is_text = !levels.texts.empty();
  const std::vector<double> means = means_by_level(levels, still);
  std::vector<Stand> stands;
  stands.reserve(means.size());
  for (std::size_t i = 0; i < means.size(); ++i)
    if (std::isfinite(means[i]))
      stands.push_back({is_text ? 0.0 : levels.numbers[i], is_text ? levels.texts[i] : "", means[i]});
  auto swing = swing_between(parameter, stands, is_text);
  if (swing) {
    swing->all_else_still = true;
    return swing;
  }
  stands.clear();
  for (const EffectLevel& level : effect.levels)
    stands.push_back({level.middle, level.text, level.result.mean});
  return swing_between(parameter, stands, is_text);
}

}  // namespace

Classes classes_of(const Levels& levels, std::size_t most) {
  Classes classes{levels.count(), std::vector<std::uint32_t>(levels.count())};
  if (levels.count() <= most || levels.numbers.empty()) {
    for (std::size_t i = 0; i < classes.count; ++i) classes.of_level[i] = static_cast<std::uint32_t>(i);
    return classes;
  }
  const std::vector<std::size_t> rows = rows_by_level(levels);
  std::size_t all = 0, before = 0, last = 0, next = 0;
  for (const std::size_t n : rows) all += n;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::size_t wanted = std::min(most - 1, before * most / all);
    if (i > 0 && wanted != last) ++next;  // a value with many rows may skip some: no class stays empty
    last = wanted;
    classes.of_level[i] = static_cast<std::uint32_t>(next);
    before += rows[i];
  }
  classes.count = next + 1;
  return classes;
}

ParameterEffect effect_of(const Levels& levels, const std::vector<double>& result) {
  const bool is_text = !levels.texts.empty();
  const std::size_t n_rows = levels.of_row.size();
  const std::size_t stretches = std::clamp(n_rows / rows_of_stretch, std::size_t{4}, most_stretches);
  const bool by_stretches = !is_text && levels.count() > most_values;
  const Classes classes = classes_of(levels, by_stretches ? stretches : levels.count());
  std::vector<EffectLevel> all(classes.count);
  std::vector<std::vector<double>> values(classes.count);
  for (std::size_t row = 0; row < n_rows; ++row) {
    const std::size_t level = levels.of_row[row];
    if (level == Levels::none || !std::isfinite(result[row])) continue;
    const std::size_t k = classes.of_level[level];
    if (!is_text) {
      const double at = levels.numbers[level];
      all[k].from = values[k].empty() ? at : std::min(all[k].from, at);
      all[k].to = values[k].empty() ? at : std::max(all[k].to, at);
      all[k].middle += at;
    }
    values[k].push_back(result[row]);
  }
  ParameterEffect effect{by_stretches, {}};
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (values[k].empty()) continue;
    if (is_text) all[k].text = levels.texts[k];
    // One value is itself: a mean of it is off by rounding.
    all[k].middle =
        all[k].from == all[k].to ? all[k].from : all[k].middle / static_cast<double>(values[k].size());
    all[k].result = spread_of(std::move(values[k]));
    effect.levels.push_back(std::move(all[k]));
  }
  return effect;
}

Moves moves_of(const std::vector<Levels>& levels) {
  Moves moves;
  moves.middles.reserve(levels.size());
  for (const Levels& one : levels) moves.middles.push_back(middle_level(one));
  moves.moved.assign(levels.empty() ? 0 : levels.front().of_row.size(), 0);
  for (std::size_t p = 0; p < levels.size(); ++p)
    for (std::size_t row = 0; row < moves.moved.size(); ++row)
      if (levels[p].of_row[row] != moves.middles[p] && moves.moved[row] < 2) ++moves.moved[row];
  return moves;
}

bool is_one_at_a_time(const Moves& moves) {
  return std::none_of(moves.moved.begin(), moves.moved.end(), [](unsigned char n) { return n > 1; });
}

std::vector<double> with_all_else_still(const std::vector<Levels>& levels, const Moves& moves,
                                        std::size_t moved, const std::vector<double>& result) {
  std::vector<double> still = result;
  for (std::size_t row = 0; row < still.size(); ++row) {
    const int own = levels[moved].of_row[row] != moves.middles[moved] ? 1 : 0;
    if (moves.moved[row] > own) still[row] = std::numeric_limits<double>::quiet_NaN();
  }
  return still;
}

std::vector<Swing> one_at_a_time(const std::vector<std::size_t>& parameters,
                                 const std::vector<Levels>& levels, const Moves& moves,
                                 const std::vector<ParameterEffect>& effects,
                                 const std::vector<double>& result) {
  std::vector<Swing> swings;
  for (std::size_t p = 0; p < parameters.size(); ++p)
    if (auto swing =
            swing_of(parameters[p], levels[p], with_all_else_still(levels, moves, p, result), effects[p]))
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
  for (std::size_t i = 0; i < all.size(); ++i) all[i].result = spread_of(std::move(values[i]));
  std::stable_sort(all.begin(), all.end(),
                   [](const Combination& a, const Combination& b) { return a.result.mean < b.result.mean; });
  return all;
}

}  // namespace coldbay
