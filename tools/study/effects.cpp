#include "tools/study/effects.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>
#include <utility>

#include "tools/study/sobol.hpp"

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
  double error = 0.0;
};

/// From the first to the last, or of texts from the least result to the greatest; nothing of fewer than two.
std::optional<Swing> swing_between(std::size_t part, const std::vector<Stand>& stands, bool is_text) {
  if (stands.size() < 2) return std::nullopt;
  auto from = stands.begin(), to = stands.end() - 1;
  if (is_text)
    std::tie(from, to) = std::minmax_element(
        stands.begin(), stands.end(), [](const Stand& a, const Stand& b) { return a.result < b.result; });
  return Swing{part,       from->at, to->at,
               from->text, to->text, from->result,
               to->result, false,    std::hypot(from->error, to->error)};
}

std::optional<Swing> swing_of(std::size_t part, const Levels& levels, const std::vector<double>& still,
                              const ParameterEffect& effect) {
  const bool is_text = !levels.texts.empty();
  const std::vector<double> means = means_by_level(levels, still);
  std::vector<Stand> stands;
  stands.reserve(means.size());
  for (std::size_t i = 0; i < means.size(); ++i)
    if (std::isfinite(means[i]))
      stands.push_back({is_text ? 0.0 : levels.numbers[i], is_text ? levels.texts[i] : "", means[i], 0.0});
  auto swing = swing_between(part, stands, is_text);
  if (swing) {
    swing->all_else_still = true;
    return swing;
  }
  stands.clear();
  for (const EffectLevel& level : effect.levels)
    stands.push_back({level.middle, level.text, level.result.mean, level.unsure});
  return swing_between(part, stands, is_text);
}

/// The result in each class.
ParameterEffect gathered(const Levels& levels, const std::vector<double>& result, const Classes& classes,
                         bool by_stretches) {
  const bool is_text = !levels.texts.empty();
  std::vector<EffectLevel> all(classes.count);
  std::vector<std::vector<double>> values(classes.count);
  for (std::size_t row = 0; row < levels.of_row.size(); ++row) {
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

/// Standard errors of the means of classes, from those of the draws in each.
std::vector<double> errors_of(const std::vector<std::vector<double>>& draws) {
  std::vector<double> errors;
  errors.reserve(draws.size());
  for (const std::vector<double>& some : draws) {
    const auto n = static_cast<double>(some.size());
    double mean = 0.0, squares = 0.0;
    for (const double x : some) mean += x / n;
    for (const double x : some) squares += std::pow(x - mean, 2);
    errors.push_back(n > 1.0 ? std::sqrt(squares / (n * (n - 1.0)))
                             : std::numeric_limits<double>::quiet_NaN());
  }
  return errors;
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
  const std::size_t n_rows = levels.of_row.size();
  const std::size_t stretches = std::clamp(n_rows / rows_of_stretch, std::size_t{4}, most_stretches);
  const bool by_stretches = levels.texts.empty() && levels.count() > most_values;
  return gathered(levels, result, classes_of(levels, by_stretches ? stretches : levels.count()),
                  by_stretches);
}

ParameterEffect effect_of_drawn(const Levels& levels, const std::vector<double>& result,
                                const Crossing& crossing) {
  constexpr std::size_t fewest = 10, fewest_of_stretch = 5;
  const std::vector<double> means = means_of_draws(result, crossing);
  const auto n = static_cast<std::size_t>(
      std::count_if(means.begin(), means.end(), [](double m) { return std::isfinite(m); }));
  if (n < fewest) return {};
  const std::size_t few = std::min(n / fewest_of_stretch, std::size_t{4});
  const Classes classes = classes_of(levels, std::clamp(n / rows_of_stretch, few, most_stretches));
  ParameterEffect effect = gathered(levels, result, classes, classes.count < levels.count());
  std::vector<std::vector<double>> draws(classes.count);
  std::vector<char> seen(means.size(), 0);
  for (std::size_t row = 0; row < result.size(); ++row) {
    const std::uint32_t draw = crossing.draw_of_row[row], level = levels.of_row[row];
    if (draw == Levels::none || level == Levels::none || seen[draw] != 0 || !std::isfinite(means[draw]))
      continue;
    seen[draw] = 1;
    draws[classes.of_level[level]].push_back(means[draw]);
  }
  std::erase_if(draws, [](const std::vector<double>& some) { return some.empty(); });
  const std::vector<double> errors = errors_of(draws);
  for (std::size_t k = 0; k < effect.levels.size(); ++k) effect.levels[k].unsure = errors[k];
  return effect;
}

Moves moves_of(const Variation& variation) {
  const std::vector<VariedPart>& parts = variation.parts;
  Moves moves;
  moves.middles.reserve(parts.size());
  for (const VariedPart& part : parts) moves.middles.push_back(middle_level(part.levels));
  moves.moved.assign(parts.empty() ? 0 : parts.front().levels.of_row.size(), 0);
  for (std::size_t p = 0; p < parts.size(); ++p)
    for (std::size_t row = 0; row < moves.moved.size(); ++row)
      if (parts[p].levels.of_row[row] != moves.middles[p] && moves.moved[row] < 2) ++moves.moved[row];
  return moves;
}

bool is_one_at_a_time(const Moves& moves) {
  return std::none_of(moves.moved.begin(), moves.moved.end(), [](unsigned char n) { return n > 1; });
}

std::vector<double> with_all_else_still(const Variation& variation, const Moves& moves, std::size_t moved,
                                        const std::vector<double>& result) {
  const Levels& levels = variation.parts[moved].levels;
  std::vector<double> still = result;
  for (std::size_t row = 0; row < still.size(); ++row) {
    const int own = levels.of_row[row] != moves.middles[moved] ? 1 : 0;
    if (moves.moved[row] > own) still[row] = std::numeric_limits<double>::quiet_NaN();
  }
  return still;
}

std::vector<Swing> one_at_a_time(const Variation& variation, const Moves& moves,
                                 const std::vector<ParameterEffect>& effects,
                                 const std::vector<double>& result) {
  std::vector<Swing> swings;
  for (std::size_t p = 0; p < variation.parts.size(); ++p) {
    const VariedPart& part = variation.parts[p];
    if (auto swing = swing_of(p, part.levels, with_all_else_still(variation, moves, p, result), effects[p]))
      swings.push_back(std::move(*swing));
    else if (part.sampled && variation.aliased && effects[p].levels.empty())
      swings.emplace_back().part = p;
  }
  const auto size = [](const Swing& s) {
    return std::isfinite(s.at_to - s.at_from) ? std::abs(s.at_to - s.at_from) : -1.0;
  };
  std::stable_sort(swings.begin(), swings.end(),
                   [&](const Swing& a, const Swing& b) { return size(a) > size(b); });
  return swings;
}

std::vector<Combination> ranked_combinations(const StudyTable& table, std::size_t result,
                                             const ResultReading& reading) {
  std::vector<std::size_t> columns;
  for (const std::size_t p : parameters_of(table))
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
      all.push_back({at->first, {}, 1});
      values.emplace_back();
    }
    values[at->second].push_back(table.numbers[result][row]);
  }
  for (std::size_t i = 0; i < all.size(); ++i) all[i].result = spread_of(std::move(values[i]));
  const auto better = [&](const Combination& a, const Combination& b) {
    return reading.higher_is_better ? a.result.mean > b.result.mean : a.result.mean < b.result.mean;
  };
  std::stable_sort(all.begin(), all.end(), better);
  for (std::size_t i = 0; i < all.size(); ++i)
    all[i].rank =
        1 + static_cast<std::size_t>(std::count_if(
                all.begin(), all.begin() + static_cast<std::ptrdiff_t>(i),
                [&](const Combination& c) { return !reading.is_equal(c.result.mean, all[i].result.mean); }));
  return all;
}

}  // namespace coldbay
