#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "tools/study/table.hpp"

namespace coldbay {

/// The quantile of values in rising order: between the two nearest, as R's type 7 [HyndmanFan1996]. `share`
/// is 0 to 1. NaN where there is no value.
double quantile(std::span<const double> sorted, double share);

/// What many values come to. NaN throughout where there is none.
struct Spread {
  std::size_t n = 0;
  double mean, low, quarter, median, three_quarters, high;  ///< low and high: 5 and 95 %
  double least, greatest;
};

/// Values that are not finite are left out.
Spread spread_of(std::vector<double> values);

/// Rank correlation: Pearson's of the ranks, ties sharing the mean of theirs [Spearman1904]. Rows in which
/// either is not finite are left out. NaN where fewer than two rows are left, or where one of the two is the
/// same in all.
double rank_correlation(std::span<const double> x, std::span<const double> y);

/// The same in two steps, for those who need many: ranks from 1 among the finite values, NaN for the others,
/// and Pearson's of two columns of ranks over the rows that both have.
std::vector<double> ranks_of(std::span<const double> values);
double correlation_of(std::span<const double> x, std::span<const double> y);

/// What a column takes as values, each once: numbers rising, texts in the order they first occur. Rows are
/// those in which the column has a value; the others are in no level.
struct Levels {
  std::vector<double> numbers;        ///< of a column of numbers
  std::vector<std::string> texts;     ///< of a column of texts
  std::vector<std::uint32_t> of_row;  ///< which level each row has; `none` where it has no value
  static constexpr std::uint32_t none = 0xFFFFFFFFU;
  std::size_t count() const { return numbers.empty() ? texts.size() : numbers.size(); }
};
Levels levels_of(const StudyTable& table, std::size_t column);

/// The columns that were varied and have at least two values, and the results that are numbers.
std::vector<std::size_t> parameters_of(const StudyTable& table);
std::vector<std::size_t> results_of(const StudyTable& table);

}  // namespace coldbay
