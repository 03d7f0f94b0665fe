#include "tools/study/sobol.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <utility>

#include "tools/study/effects.hpp"

namespace coldbay {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

constexpr std::size_t fewest = 10;  // of so few the standard error of a variance is half of it

/// Results with the class of each, of the parameter.
struct Classified {
  std::vector<double> y;
  std::vector<double> beside;   ///< what varies beside y, in the rows that y is the mean of; 0 of single rows
  std::vector<std::size_t> of;  ///< class of each
  std::vector<double> means;    ///< by class
  std::size_t used = 0;         ///< classes with a row
  double mean = 0.0;
  double trend = 0.0;  ///< what a smooth effect may vary by within classes that are stretches
};

/// A twelfth of the square of what the effect goes on by from one stretch to the next, as of a slope.
double trend_within(const std::vector<double>& means) {
  double sum = 0.0;
  for (std::size_t k = 0; k < means.size(); ++k) {
    const std::size_t from = k == 0 ? 0 : k - 1, to = std::min(k + 1, means.size() - 1);
    if (to > from) sum += std::pow((means[to] - means[from]) / static_cast<double>(to - from), 2) / 12.0;
  }
  return sum / static_cast<double>(means.size());
}

/// `most`: classes by the number of those that have both a value of the parameter and a result.
template <class Most>
Classified classified(const Levels& levels, const std::vector<double>& result,
                      const std::vector<double>& beside, Most most) {
  Classified all;
  std::vector<std::size_t> level_of;
  for (std::size_t row = 0; row < result.size(); ++row) {
    if (levels.of_row[row] == Levels::none || !std::isfinite(result[row])) continue;
    all.y.push_back(result[row]);
    all.beside.push_back(beside.empty() ? 0.0 : beside[row]);
    level_of.push_back(levels.of_row[row]);
    all.mean += result[row];
  }
  all.mean /= static_cast<double>(all.y.size());
  const Classes classes = classes_of(levels, most(all.y.size()));
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
  if (classes.count < levels.count() && all.used == classes.count) all.trend = trend_within(all.means);
  return all;
}

std::size_t root_of(std::size_t n) { return static_cast<std::size_t>(std::sqrt(static_cast<double>(n))); }

bool varies(double variance, double mean) {
  const double rounding = 1e-12 * std::abs(mean);  // of the mean: below that nothing varies
  return variance > rounding * rounding;
}

/// Of draws: see first_order() and first_order_of_drawn().
FirstOrder by_classes(const Classified& rows) {
  const std::size_t n_rows = rows.y.size();
  if (n_rows <= rows.used || n_rows < fewest) return {unknown, unknown, rows.used};
  const auto n = static_cast<double>(n_rows), k = static_cast<double>(rows.used);
  std::vector<double> w(n_rows), m(n_rows), v(n_rows);  // what each adds to W, Vm and V
  double W = 0.0, Vm = 0.0, V = 0.0;
  for (std::size_t i = 0; i < n_rows; ++i) {
    w[i] = std::pow(rows.y[i] - rows.means[rows.of[i]], 2) * n / (n - k);
    m[i] = std::pow(rows.y[i] - rows.mean, 2) * n / (n - 1.0);
    v[i] = m[i] + rows.beside[i];
    W += w[i] / n;
    Vm += m[i] / n;
    V += v[i] / n;
  }
  if (!varies(V, rows.mean)) return {unknown, unknown, rows.used};
  const double index = (Vm - W) / V;
  double squares = 0.0;  // of what each adds to the ratio
  for (std::size_t i = 0; i < n_rows; ++i) squares += std::pow((m[i] - w[i] - index * v[i]) / V, 2);
  const double share = W / V, trend = rows.trend / V;
  return {index, std::sqrt(squares / (n * n) + 2.0 * share * share * k / (n * (n - k)) + trend * trend),
          rows.used};
}

/// Sums over rows by draw or by cell.
struct Mean {
  double sum = 0.0, n = 0.0;
  void add(double value) {
    sum += value;
    n += 1.0;
  }
  double value() const { return sum / n; }
};

bool counts(const std::vector<double>& result, const Crossing& crossing, std::size_t row) {
  return std::isfinite(result[row]) && crossing.draw_of_row[row] != Levels::none &&
         crossing.cell_of_row[row] != Levels::none;
}

/// What the rows of each draw vary by about their mean, as they stand: they are all the cells there are.
std::vector<double> variance_within(const std::vector<double>& result, const Crossing& crossing) {
  std::vector<Mean> means(crossing.draws), squares(crossing.draws);
  for (std::size_t row = 0; row < result.size(); ++row)
    if (counts(result, crossing, row)) means[crossing.draw_of_row[row]].add(result[row]);
  for (std::size_t row = 0; row < result.size(); ++row)
    if (counts(result, crossing, row)) {
      const std::size_t draw = crossing.draw_of_row[row];
      squares[draw].add(std::pow(result[row] - means[draw].value(), 2));
    }
  std::vector<double> within;
  within.reserve(squares.size());
  for (const Mean& one : squares) within.push_back(one.value());
  return within;
}

/// The levels that the draws have, of a part that was drawn.
Levels levels_of_draws(const Levels& levels, const Crossing& crossing) {
  Levels out{levels.numbers, levels.texts, std::vector<std::uint32_t>(crossing.draws, Levels::none)};
  for (std::size_t row = 0; row < levels.of_row.size(); ++row)
    if (crossing.draw_of_row[row] != Levels::none) out.of_row[crossing.draw_of_row[row]] = levels.of_row[row];
  return out;
}

/// One level in the draws that have it.
struct LevelDraws {
  std::vector<std::uint32_t> draws;
  std::vector<double> z;  ///< see first_order_of_listed()
  double mean = 0.0, variance = 0.0, rows = 0.0;
};

std::vector<LevelDraws> by_level(const Levels& levels, const std::vector<double>& result,
                                 const Crossing& crossing) {
  std::vector<Mean> of_draw(crossing.draws);
  std::vector<std::vector<std::size_t>> rows(levels.count());
  for (std::size_t row = 0; row < result.size(); ++row) {
    if (!counts(result, crossing, row) || levels.of_row[row] == Levels::none) continue;
    of_draw[crossing.draw_of_row[row]].add(result[row]);
    rows[levels.of_row[row]].push_back(row);
  }
  std::vector<LevelDraws> all;
  std::vector<Mean> here(crossing.draws);
  for (const std::vector<std::size_t>& some : rows) {
    if (some.empty()) continue;
    LevelDraws level;
    level.rows = static_cast<double>(some.size());
    for (const std::size_t row : some) {
      const std::uint32_t draw = crossing.draw_of_row[row];
      if (here[draw].n == 0.0) level.draws.push_back(draw);
      here[draw].add(result[row]);
    }
    level.z.reserve(level.draws.size());
    for (const std::uint32_t draw : level.draws) {
      level.z.push_back(here[draw].value() - of_draw[draw].value());
      level.mean += level.z.back() / static_cast<double>(level.draws.size());
      here[draw] = {};
    }
    for (const double z : level.z)
      level.variance += std::pow(z - level.mean, 2) / (static_cast<double>(level.z.size()) - 1.0);
    all.push_back(std::move(level));
  }
  return all;
}

}  // namespace

bool is_every_combination(const Variation& variation, const std::vector<double>& result) {
  std::size_t all = 1;
  for (const VariedPart& part : variation.parts) {
    if (part.levels.count() == 0 || all > result.size()) return false;
    all *= part.levels.count();
  }
  if (variation.parts.empty() || all != result.size()) return false;
  std::vector<char> seen(all, 0);
  for (std::size_t row = 0; row < result.size(); ++row) {
    if (!std::isfinite(result[row])) return false;
    std::size_t place = 0;
    for (const VariedPart& part : variation.parts) {
      if (part.levels.of_row[row] == Levels::none) return false;
      place = place * part.levels.count() + part.levels.of_row[row];
    }
    if (seen[place] != 0) return false;
    seen[place] = 1;
  }
  return true;
}

FirstOrder first_order(const Levels& levels, const std::vector<double>& result, bool every_combination) {
  const Classified rows = classified(levels, result, {}, [&](std::size_t n) {
    return std::max(every_combination ? levels.count() : root_of(n), std::size_t{8});
  });
  if (!every_combination) return by_classes(rows);
  double within = 0.0, total = 0.0;
  for (std::size_t i = 0; i < rows.y.size(); ++i) {
    within += std::pow(rows.y[i] - rows.means[rows.of[i]], 2);
    total += std::pow(rows.y[i] - rows.mean, 2);
  }
  if (rows.y.size() <= rows.used || !varies(total / static_cast<double>(rows.y.size()), rows.mean))
    return {unknown, unknown, rows.used};
  return {1.0 - within / total, 0.0, rows.used};
}

std::vector<double> means_of_draws(const std::vector<double>& result, const Crossing& crossing) {
  Mean all;
  std::vector<Mean> cells(crossing.cells), draws(crossing.draws);
  for (std::size_t row = 0; row < result.size(); ++row)
    if (counts(result, crossing, row)) {
      cells[crossing.cell_of_row[row]].add(result[row]);
      all.add(result[row]);
    }
  for (std::size_t row = 0; row < result.size(); ++row)
    if (counts(result, crossing, row))
      draws[crossing.draw_of_row[row]].add(
          crossing.cells == 1 ? result[row]
                              : result[row] - cells[crossing.cell_of_row[row]].value() + all.value());
  std::vector<double> means;
  means.reserve(draws.size());
  for (const Mean& one : draws) means.push_back(one.value());
  return means;
}

FirstOrder first_order_of_drawn(const Levels& levels, const std::vector<double>& result,
                                const Crossing& crossing) {
  return by_classes(
      classified(levels_of_draws(levels, crossing), means_of_draws(result, crossing),
                 variance_within(result, crossing), [](std::size_t n) {
                   return std::max({root_of(n), std::min(n / 3, std::size_t{8}), std::size_t{2}});
                 }));
}

FirstOrder first_order_of_listed(const Levels& levels, const std::vector<double>& result,
                                 const Crossing& crossing) {
  const std::vector<LevelDraws> all = by_level(levels, result, crossing);
  const std::vector<double> means = means_of_draws(result, crossing),
                            within = variance_within(result, crossing);
  const Spread draws = spread_of(means);
  if (draws.n < fewest || all.size() < 2) return {unknown, unknown, all.size()};
  const auto n = static_cast<double>(draws.n);
  std::vector<double> v(means.size(), 0.0), b(means.size(), 0.0);  // what each draw adds to V and to the sum
  double V = 0.0, rows = 0.0, centre = 0.0, sum = 0.0, noise = 0.0;
  for (std::size_t d = 0; d < means.size(); ++d) {
    if (!std::isfinite(means[d])) continue;
    v[d] = std::pow(means[d] - draws.mean, 2) * n / (n - 1.0) + within[d];
    V += v[d] / n;
  }
  for (const LevelDraws& level : all) {
    if (level.z.size() < 2) return {unknown, unknown, all.size()};
    rows += level.rows;
    centre += level.rows * level.mean;
  }
  centre /= rows;  // rounding, where no row failed
  for (const LevelDraws& level : all) {
    const double weight = level.rows / rows, Z = level.mean - centre;
    const auto here = static_cast<double>(level.z.size());
    sum += weight * (Z * Z - level.variance / here);
    noise += weight * level.variance;
    for (std::size_t i = 0; i < level.z.size(); ++i)
      b[level.draws[i]] += 2.0 * weight * Z * (level.z[i] - level.mean) * n / here;
  }
  if (!varies(V, draws.mean)) return {unknown, unknown, all.size()};
  const double index = sum / V;
  double squares = 2.0 * n / (n - 1.0) * std::pow(noise / V, 2);
  for (std::size_t d = 0; d < means.size(); ++d)
    if (std::isfinite(means[d])) squares += std::pow((b[d] - index * (v[d] - V)) / V, 2);
  return {index, std::sqrt(squares) / n, all.size()};
}

std::vector<FirstOrder> first_orders_of(const Variation& variation, const std::vector<double>& result) {
  const bool has_draws = variation.crossing.has_draws,
             every = !has_draws && is_every_combination(variation, result);
  std::vector<FirstOrder> all;
  all.reserve(variation.parts.size());
  for (const VariedPart& part : variation.parts)
    all.push_back(!has_draws     ? first_order(part.levels, result, every)
                  : part.sampled ? first_order_of_drawn(part.levels, result, variation.crossing)
                                 : first_order_of_listed(part.levels, result, variation.crossing));
  return all;
}

}  // namespace coldbay
