#include "tools/study/sobol.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

#include "tools/study/effects.hpp"

namespace coldbay {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// The rows that have both a value of the parameter and a result.
struct Classified {
  std::vector<double> y;
  std::vector<std::size_t> of;  ///< class of each
  std::vector<double> means;    ///< by class
  std::size_t used = 0;         ///< classes with a row
  double mean = 0.0;
};

Classified classified(const Levels& levels, const std::vector<double>& result, bool every_combination) {
  Classified all;
  std::vector<std::size_t> level_of;
  for (std::size_t row = 0; row < result.size(); ++row) {
    if (levels.of_row[row] == Levels::none || !std::isfinite(result[row])) continue;
    all.y.push_back(result[row]);
    level_of.push_back(levels.of_row[row]);
    all.mean += result[row];
  }
  const auto n = static_cast<double>(all.y.size());
  all.mean /= n;
  const auto most = every_combination ? levels.count() : static_cast<std::size_t>(std::sqrt(n));
  const Classes classes = classes_of(levels, std::max(most, std::size_t{8}));
  std::vector<std::size_t> rows(classes.count, 0);
  all.means.assign(classes.count, 0.0);
  all.of.reserve(all.y.size());
  for (std::size_t i = 0; i < all.y.size(); ++i) {
    const std::size_t k = classes.of_level[level_of[i]];
    all.of.push_back(k);
    all.means[k] += all.y[i];
    ++rows[k];
  }
  for (std::size_t k = 0; k < rows.size(); ++k) {
    if (rows[k] == 0) continue;
    all.means[k] /= static_cast<double>(rows[k]);
    ++all.used;
  }
  return all;
}

}  // namespace

bool is_every_combination(const std::vector<Levels>& levels, const std::vector<double>& result) {
  std::size_t all = 1;
  for (const Levels& one : levels) {
    if (one.count() == 0 || all > result.size()) return false;
    all *= one.count();
  }
  if (levels.empty() || all != result.size()) return false;
  std::vector<char> seen(all, 0);
  for (std::size_t row = 0; row < result.size(); ++row) {
    if (!std::isfinite(result[row])) return false;
    std::size_t place = 0;
    for (const Levels& one : levels) {
      if (one.of_row[row] == Levels::none) return false;
      place = place * one.count() + one.of_row[row];
    }
    if (seen[place] != 0) return false;
    seen[place] = 1;
  }
  return true;
}

FirstOrder first_order(const Levels& levels, const std::vector<double>& result, bool every_combination) {
  const Classified rows = classified(levels, result, every_combination);
  constexpr std::size_t fewest = 10;
  const std::size_t n_rows = rows.y.size();
  if (n_rows <= rows.used || (n_rows < fewest && !every_combination)) return {unknown, unknown, rows.used};
  const auto n = static_cast<double>(n_rows), k = static_cast<double>(rows.used);
  double within = 0.0, total = 0.0;
  for (std::size_t i = 0; i < n_rows; ++i) {
    within += std::pow(rows.y[i] - rows.means[rows.of[i]], 2);
    total += std::pow(rows.y[i] - rows.mean, 2);
  }
  const double rounding = 1e-12 * std::abs(rows.mean);  // of the mean: below that nothing varies
  if (!(total > n * rounding * rounding)) return {unknown, unknown, rows.used};
  if (every_combination) return {1.0 - within / total, 0.0, rows.used};
  const double W = within / (n - k), V = total / (n - 1.0), share = W / V;
  double squares = 0.0;  // of what each row adds to the ratio
  for (std::size_t i = 0; i < n_rows; ++i) {
    const double w = std::pow(rows.y[i] - rows.means[rows.of[i]], 2) * n / (n - k);
    const double v = std::pow(rows.y[i] - rows.mean, 2);
    squares += std::pow((w - share * v) / V, 2);
  }
  const double error = std::sqrt(squares / (n * n) + 2.0 * share * share * k / (n * (n - k)));
  return {1.0 - share, error, rows.used};
}

}  // namespace coldbay
