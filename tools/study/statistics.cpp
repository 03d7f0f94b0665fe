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

double mean_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
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

Spread spread_of(std::vector<double> values) {
  std::erase_if(values, [](double x) { return !std::isfinite(x); });
  if (values.empty()) return {0, nothing, nothing, nothing, nothing, nothing, nothing, nothing, nothing};
  std::sort(values.begin(), values.end());
  return {values.size(),          mean_of(values),       quantile(values, 0.05),
          quantile(values, 0.25), quantile(values, 0.5), quantile(values, 0.75),
          quantile(values, 0.95), values.front(),        values.back()};
}

std::vector<double> ranks_of(std::span<const double> values) {
  std::vector<std::size_t> order;
  order.reserve(values.size());
  for (std::size_t i = 0; i < values.size(); ++i)
    if (std::isfinite(values[i])) order.push_back(i);
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> ranks(values.size(), nothing);
  for (std::size_t from = 0; from < order.size();) {
    std::size_t to = from + 1;
    while (to < order.size() && values[order[to]] == values[order[from]]) ++to;
    const double shared = 0.5 * static_cast<double>(from + 1 + to);
    for (std::size_t i = from; i < to; ++i) ranks[order[i]] = shared;
    from = to;
  }
  return ranks;
}

double correlation_of(std::span<const double> x, std::span<const double> y) {
  assert(x.size() == y.size());
  double n = 0.0, mx = 0.0, my = 0.0, xx = 0.0, yy = 0.0, xy = 0.0;
  const auto has_both = [&](std::size_t i) { return std::isfinite(x[i]) && std::isfinite(y[i]); };
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (!has_both(i)) continue;
    n += 1.0;
    mx += x[i];
    my += y[i];
  }
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (!has_both(i)) continue;
    const double dx = x[i] - mx / n, dy = y[i] - my / n;
    xx += dx * dx;
    yy += dy * dy;
    xy += dx * dy;
  }
  return xx > 0.0 && yy > 0.0 ? xy / std::sqrt(xx * yy) : nothing;
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
  return correlation_of(ranks_of(a), ranks_of(b));
}

Levels levels_of(const StudyTable& table, std::size_t column) {
  Levels levels;
  levels.of_row.assign(table.ids.size(), Levels::none);
  if (table.columns[column].is_text) {
    std::unordered_map<std::string, std::uint32_t> known;
    for (std::size_t row = 0; row < levels.of_row.size(); ++row) {
      const std::string& text = table.texts[column][row];
      const auto [at, is_new] = known.try_emplace(text, static_cast<std::uint32_t>(levels.texts.size()));
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
      levels.of_row[row] = static_cast<std::uint32_t>(
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
