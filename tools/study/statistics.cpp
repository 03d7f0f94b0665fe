#include "tools/study/statistics.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numeric>
#include <unordered_map>

namespace coldbay {
namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

/// Ranks from 1; equal values share the mean of theirs.
std::vector<double> ranks_of(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> ranks(values.size());
  for (std::size_t from = 0; from < order.size();) {
    std::size_t to = from + 1;
    while (to < order.size() && values[order[to]] == values[order[from]]) ++to;
    const double shared = 0.5 * static_cast<double>(from + 1 + to);
    for (std::size_t i = from; i < to; ++i) ranks[order[i]] = shared;
    from = to;
  }
  return ranks;
}

double mean_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

double correlation(const std::vector<double>& x, const std::vector<double>& y) {
  const double mx = mean_of(x), my = mean_of(y);
  double xx = 0.0, yy = 0.0, xy = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += (x[i] - mx) * (x[i] - mx);
    yy += (y[i] - my) * (y[i] - my);
    xy += (x[i] - mx) * (y[i] - my);
  }
  return xx > 0.0 && yy > 0.0 ? xy / std::sqrt(xx * yy) : nothing;
}

bool has_two_values(const StudyTable& table, std::size_t column) {
  if (table.columns[column].is_text) {
    const auto& all = table.texts[column];
    return std::any_of(all.begin(), all.end(), [&](const std::string& text) { return text != all.front(); });
  }
  double first = nothing;
  for (const double x : table.numbers[column]) {
    if (!std::isfinite(x)) continue;
    if (std::isnan(first)) first = x;
    if (x != first) return true;
  }
  return false;
}

}  // namespace

double quantile(std::span<const double> sorted, double share) {
  if (sorted.empty()) return nothing;
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(std::floor(place));
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  return std::lerp(sorted[below], sorted[above], place - static_cast<double>(below));
}

Band band_of(std::vector<double> values) {
  std::erase_if(values, [](double x) { return !std::isfinite(x); });
  if (values.empty()) return {0, nothing, nothing, nothing, nothing, nothing, nothing, nothing, nothing};
  std::sort(values.begin(), values.end());
  return {values.size(),          mean_of(values),       quantile(values, 0.05),
          quantile(values, 0.25), quantile(values, 0.5), quantile(values, 0.75),
          quantile(values, 0.95), values.front(),        values.back()};
}

double rank_correlation(std::span<const double> x, std::span<const double> y) {
  assert(x.size() == y.size());
  std::vector<double> a, b;
  a.reserve(x.size());
  b.reserve(y.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (!std::isfinite(x[i]) || !std::isfinite(y[i])) continue;
    a.push_back(x[i]);
    b.push_back(y[i]);
  }
  return a.size() < 2 ? nothing : correlation(ranks_of(a), ranks_of(b));
}

Levels levels_of(const StudyTable& table, std::size_t column) {
  Levels levels;
  levels.of_row.assign(table.ids.size(), Levels::none);
  if (table.columns[column].is_text) {
    std::unordered_map<std::string, std::size_t> known;
    for (std::size_t row = 0; row < levels.of_row.size(); ++row) {
      const std::string& text = table.texts[column][row];
      const auto [at, is_new] = known.try_emplace(text, levels.texts.size());
      if (is_new) levels.texts.push_back(text);
      levels.of_row[row] = at->second;
    }
    return levels;
  }
  const std::vector<double>& values = table.numbers[column];
  levels.numbers = values;
  std::erase_if(levels.numbers, [](double x) { return !std::isfinite(x); });
  std::sort(levels.numbers.begin(), levels.numbers.end());
  levels.numbers.erase(std::unique(levels.numbers.begin(), levels.numbers.end()), levels.numbers.end());
  for (std::size_t row = 0; row < values.size(); ++row)
    if (std::isfinite(values[row]))
      levels.of_row[row] = static_cast<std::size_t>(
          std::lower_bound(levels.numbers.begin(), levels.numbers.end(), values[row]) -
          levels.numbers.begin());
  return levels;
}

std::vector<std::size_t> parameters_of(const StudyTable& table) {
  std::vector<std::size_t> all;
  for (std::size_t c = 0; c < table.columns.size(); ++c)
    if (table.columns[c].varied && has_two_values(table, c)) all.push_back(c);
  return all;
}

std::vector<std::size_t> results_of(const StudyTable& table) {
  std::vector<std::size_t> all;
  for (std::size_t c = 0; c < table.columns.size(); ++c)
    if (!table.columns[c].varied && !table.columns[c].is_text) all.push_back(c);
  return all;
}

}  // namespace coldbay
