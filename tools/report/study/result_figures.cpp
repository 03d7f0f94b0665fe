#include "tools/report/study/result_figures.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <string>
#include <utility>

namespace coldbay {
namespace {

/// Finite values of a column.
std::vector<double> values_of(const StudyTable& table, std::size_t column) {
  std::vector<double> values = table.numbers[column];
  std::erase_if(values, [](double v) { return !std::isfinite(v); });
  return values;
}

bool is_constant(const std::vector<double>& values) {
  const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
  return *greatest - *least <= 1e-12 * std::max(std::abs(*least), std::abs(*greatest));  // rounding
}

double correlation_between(const StudyView& view, std::size_t a, std::size_t b) {
  if (view.ranks[a].empty() || view.ranks[b].empty()) return std::numeric_limits<double>::quiet_NaN();
  return correlation_of(view.ranks[a], view.ranks[b]);
}

/// Which parameter goes first: that with the greatest share; unknown ones last, as the columns stand.
std::vector<std::size_t> by_share(const std::vector<FirstOrder>& shares) {
  std::vector<std::size_t> order(shares.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto size = [&](std::size_t i) { return std::isfinite(shares[i].index) ? shares[i].index : -10.0; };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return size(a) > size(b); });
  return order;
}

std::vector<VarianceShare> shares_of(const StudyView& view, std::size_t result,
                                     const std::vector<FirstOrder>& all,
                                     const std::vector<std::size_t>& order) {
  std::vector<VarianceShare> shares;
  for (const std::size_t p : order) {
    if (!std::isfinite(all[p].index)) continue;
    const VariedPart& part = view.variation.parts[p];
    shares.push_back({part.column.name, all[p],
                      part.columns.size() == 1 ? correlation_between(view, part.columns[0], result)
                                               : std::numeric_limits<double>::quiet_NaN()});
  }
  return shares;
}

std::vector<StudyColumn> text_columns(const StudyTable& table) {
  std::vector<StudyColumn> columns;
  for (const std::size_t p : parameters_of(table))
    if (table.columns[p].is_text) columns.push_back(table.columns[p]);
  return columns;
}

/// Where each part stands while another one moves: "fill fibre, depth 140 mm".
std::string held_text(const StudyView& view) {
  constexpr std::size_t most_named = 12;
  std::vector<std::string> held;
  for (std::size_t p = 0; p < std::min(most_named, view.variation.parts.size()); ++p) {
    const VariedPart& part = view.variation.parts[p];
    const std::size_t at = view.moves.middles[p];
    std::string text = part.column.name + " ";
    text += part.column.is_text ? part.levels.texts[at] : shown_number(part.levels.numbers[at]);
    if (!part.column.unit.empty()) text += " " + part.column.unit;
    held.push_back(std::move(text));
  }
  std::string text = joined_texts(held);
  if (held.size() < view.variation.parts.size())
    text += fmt::format(" and {} more", view.variation.parts.size() - held.size());
  return text;
}

/// How a result goes with each part.
std::vector<ParameterEffect> effects_of(const StudyView& view, const std::vector<double>& result) {
  const Variation& all = view.variation;
  const bool singly = is_one_at_a_time(view.moves);
  std::vector<ParameterEffect> effects;
  effects.reserve(all.parts.size());
  for (std::size_t p = 0; p < all.parts.size(); ++p) {
    const VariedPart& part = all.parts[p];
    if (singly)
      effects.push_back(effect_of(part.levels, with_all_else_still(all, view.moves, p, result)));
    else if (part.sampled && all.aliased)
      effects.push_back(effect_of_drawn(part.levels, result, all.crossing));
    else
      effects.push_back(effect_of(part.levels, result));
  }
  return effects;
}

/// Of a part of one column, of several texts, or of several numbers: those each by its own values, for that
/// no other column moves without it.
std::vector<StudyFigure> effect_figures_of(const StudyView& view, std::size_t p, std::size_t result,
                                           const ParameterEffect& effect) {
  const StudyTable& table = *view.table;
  const VariedPart& part = view.variation.parts[p];
  const StudyColumn& column = table.columns[result];
  std::vector<StudyFigure> figures;
  if (effect.levels.empty()) return figures;
  const bool numbers = std::none_of(part.columns.begin(), part.columns.end(),
                                    [&](std::size_t c) { return table.columns[c].is_text; });
  if (part.columns.size() == 1 || !numbers) {
    figures.push_back(part.column.is_text ? boxes_figure(part.column, column, effect)
                                          : effect_figure(part.column, column, effect));
    return figures;
  }
  std::vector<double> of_part = table.numbers[result];
  if (is_one_at_a_time(view.moves)) of_part = with_all_else_still(view.variation, view.moves, p, of_part);
  for (const std::size_t c : part.columns) {
    figures.push_back(effect_figure(table.columns[c], column, effect_of(levels_of(table, c), of_part)));
    figures.back().note += fmt::format(" What does it is {}, which moved together.", part.column.name);
  }
  return figures;
}

/// The columns that have figures: see view_of().
std::vector<std::size_t> first_results(const StudyTable& table, const std::vector<std::size_t>& results) {
  std::map<std::string, std::size_t> of_kind;
  std::vector<std::pair<std::size_t, std::size_t>> order;  // how many of its kind come before, and which
  for (const std::size_t c : results) {
    const std::string kind = kind_of_result(table.columns[c]);
    const std::size_t before = of_kind[kind]++;
    order.emplace_back(kind.starts_with("whole-wall") ? 0 : before + 1, c);
  }
  std::sort(order.begin(), order.end());
  if (order.size() > most_results) order.resize(most_results);
  std::vector<std::size_t> first;
  first.reserve(order.size());
  for (const auto& [before, column] : order) first.push_back(column);
  std::sort(first.begin(), first.end());
  return first;
}

/// The rows both columns have.
StudyFigure pair_of(const StudyView& view, std::size_t across, std::size_t up) {
  std::vector<double> x, y;
  const StudyTable& t = *view.table;
  for (std::size_t row = 0; row < t.ids.size(); ++row) {
    if (!std::isfinite(t.numbers[across][row]) || !std::isfinite(t.numbers[up][row])) continue;
    x.push_back(t.numbers[across][row]);
    y.push_back(t.numbers[up][row]);
  }
  return pair_figure(t.columns[across], t.columns[up], x, y);
}

}  // namespace

StudyView view_of(const StudyTable& solved) {
  const std::vector<std::size_t> results = results_of(solved);
  StudyView view{&solved, variation_of(solved), first_results(solved, results), {}, {}, {}};
  for (const std::size_t c : results)
    if (std::find(view.results.begin(), view.results.end(), c) == view.results.end())
      view.left_out.push_back(c);
  view.moves = moves_of(view.variation);
  view.ranks.resize(solved.columns.size());
  for (std::size_t c = 0; c < solved.columns.size(); ++c)
    if (!solved.columns[c].is_text) view.ranks[c] = ranks_of(solved.numbers[c]);
  return view;
}

std::vector<StudyFigure> figures_of(const StudyView& view, std::size_t result) {
  const StudyTable& table = *view.table;
  const StudyColumn& column = table.columns[result];
  std::vector<StudyFigure> figures;
  const std::vector<double> values = values_of(table, result);
  if (values.empty() || is_constant(values)) return figures;
  figures.push_back(distribution_figure(column, values));
  const std::vector<double>& all = table.numbers[result];
  const ResultReading reading = reading_of(table, result);
  const std::vector<FirstOrder> first = first_orders_of(view.variation, all);
  const std::vector<std::size_t> order = by_share(first);
  std::vector<VarianceShare> shares = shares_of(view, result, first, order);
  const bool singly = is_one_at_a_time(view.moves);
  if (shares.size() > 1 && !singly) figures.push_back(shares_figure(column, shares));
  const auto ranked = ranked_combinations(table, result, reading);
  if (ranked.size() > 1) figures.push_back(ranked_figure(text_columns(table), column, ranked, reading));
  const std::vector<ParameterEffect> effects = effects_of(view, all);
  std::vector<Swing> swings = one_at_a_time(view.variation, view.moves, effects, all);
  if (swings.size() > most_bars) swings.resize(most_bars);
  if (!swings.empty() && std::isfinite(swings.front().at_from))
    figures.push_back(swings_figure(view.variation.parts, column, swings, reading, held_text(view)));
  for (std::size_t i = 0; i < std::min(order.size(), most_effects); ++i) {
    const std::size_t p = order[i];
    std::vector<StudyFigure> some = effect_figures_of(view, p, result, effects[p]);
    const bool by_chance = !singly && first[p].index <= 2.0 * first[p].error && first[p].error > 0.0;
    for (StudyFigure& figure : some) {
      if (by_chance) figure.note += " Its share of the variance cannot be told from nothing.";
      figures.push_back(std::move(figure));
    }
  }
  constexpr double tall = 110.0;  // [mm]: nothing fits below it on its page, so it goes last
  std::stable_partition(figures.begin(), figures.end(),
                        [](const StudyFigure& f) { return f.figure.height <= tall; });
  return figures;
}

std::vector<StudyFigure> pairs_of(const StudyView& view) {
  const std::size_t n_results = view.results.size();
  std::vector<StudyFigure> figures;
  if (n_results == 0) return figures;
  const std::size_t most = std::min<std::size_t>(6, std::max<std::size_t>(1, 18 / n_results));
  for (std::size_t r = 0; r < n_results; ++r) {
    std::vector<std::pair<double, std::size_t>> close;
    for (const std::size_t p : parameters_of(*view.table))
      if (!view.table->columns[p].is_text) {
        const double c = std::abs(correlation_between(view, p, view.results[r]));
        if (std::isfinite(c)) close.emplace_back(c, p);
      }
    std::stable_sort(close.begin(), close.end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
    for (std::size_t i = 0; i < std::min(most, close.size()); ++i)
      figures.push_back(pair_of(view, close[i].second, view.results[r]));
  }
  for (std::size_t a = 0; a < n_results; ++a)
    for (std::size_t b = a + 1; b < n_results && figures.size() < most_pairs; ++b)
      if (std::isfinite(correlation_between(view, view.results[a], view.results[b])))
        figures.push_back(pair_of(view, view.results[a], view.results[b]));
  return figures;
}

}  // namespace coldbay
