#include "tools/report/study/result_figures.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
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

std::vector<FirstOrder> first_orders(const StudyView& view, std::size_t result) {
  const std::vector<double>& y = view.table->numbers[result];
  const bool every = is_every_combination(view.levels, y);
  std::vector<FirstOrder> all;
  all.reserve(view.levels.size());
  for (const Levels& one : view.levels) all.push_back(first_order(one, y, every));
  return all;
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
  for (const std::size_t p : order)
    if (std::isfinite(all[p].index))
      shares.push_back({view.table->columns[view.parameters[p]].name, all[p],
                        correlation_between(view, view.parameters[p], result)});
  return shares;
}

std::vector<StudyColumn> text_columns(const StudyView& view) {
  std::vector<StudyColumn> columns;
  for (const std::size_t p : view.parameters)
    if (view.table->columns[p].is_text) columns.push_back(view.table->columns[p]);
  return columns;
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
  StudyView view{&solved, parameters_of(solved), results_of(solved), {}, {}, {}};
  view.levels.reserve(view.parameters.size());
  for (const std::size_t p : view.parameters) view.levels.push_back(levels_of(solved, p));
  view.moves = moves_of(view.levels);
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
  const std::vector<FirstOrder> first = first_orders(view, result);
  const std::vector<std::size_t> order = by_share(first);
  std::vector<VarianceShare> shares = shares_of(view, result, first, order);
  const bool singly = is_one_at_a_time(view.moves);
  if (shares.size() > 1 && !singly) figures.push_back(shares_figure(column, shares));
  const auto ranked = ranked_combinations(table, view.parameters, result);
  if (ranked.size() > 1) figures.push_back(ranked_figure(text_columns(view), column, ranked));
  const std::vector<double>& all = table.numbers[result];
  std::vector<ParameterEffect> effects;
  effects.reserve(view.levels.size());
  for (std::size_t p = 0; p < view.levels.size(); ++p)
    effects.push_back(
        effect_of(view.levels[p], singly ? with_all_else_still(view.levels, view.moves, p, all) : all));
  std::vector<Swing> swings = one_at_a_time(view.parameters, view.levels, view.moves, effects, all);
  if (swings.size() > most_bars) swings.resize(most_bars);
  if (!swings.empty()) figures.push_back(swings_figure(table.columns, column, swings));
  for (std::size_t i = 0; i < std::min(order.size(), most_effects); ++i) {
    const ParameterEffect& effect = effects[order[i]];
    if (effect.levels.empty()) continue;
    const StudyColumn& parameter = table.columns[view.parameters[order[i]]];
    figures.push_back(parameter.is_text ? boxes_figure(parameter, column, effect)
                                        : effect_figure(parameter, column, effect));
  }
  constexpr double tall = 110.0;  // [mm]: nothing fits below it on its page, so it goes last
  std::stable_partition(figures.begin(), figures.end(),
                        [](const StudyFigure& f) { return f.figure.height <= tall; });
  return figures;
}

std::vector<StudyFigure> pairs_of(const StudyView& view) {
  const std::size_t n_results = std::min(view.results.size(), most_results);
  std::vector<StudyFigure> figures;
  if (n_results == 0) return figures;
  const std::size_t most = std::min<std::size_t>(6, std::max<std::size_t>(1, 18 / n_results));
  for (std::size_t r = 0; r < n_results; ++r) {
    std::vector<std::pair<double, std::size_t>> close;
    for (const std::size_t p : view.parameters)
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
