#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tools/report/study/figure.hpp"
#include "tools/report/study/figure_data.hpp"
#include "tools/study/effects.hpp"
#include "tools/study/result_reading.hpp"
#include "tools/study/sobol.hpp"
#include "tools/study/statistics.hpp"
#include "tools/study/table.hpp"
#include "tools/study/variation.hpp"

namespace coldbay {

/// A figure with what stands above and below it, and its numbers.
struct StudyFigure {
  std::string title;
  std::string note = {};  ///< how it is to be read; may be empty
  Figure figure = {};
  FigureData data = {};
};

/// The mean of a result over a parameter of numbers, with the band that holds 90 % of the variants.
StudyFigure effect_figure(const StudyColumn& parameter, const StudyColumn& result,
                          const ParameterEffect& effect);

/// The same for one of texts: a row each with its 5 to 95 % line, the box of the middle half, median and
/// mean.
StudyFigure boxes_figure(const StudyColumn& parameter, const StudyColumn& result,
                         const ParameterEffect& effect);

/// Combinations of the texts with bars by their means, the better first, and the 5 to 95 % band on each.
StudyFigure ranked_figure(const std::vector<StudyColumn>& texts, const StudyColumn& result,
                          const std::vector<Combination>& ranked, const ResultReading& reading);

/// What each part does by itself, from an open ring where it begins to a dot where it ends. At least one
/// swing. `held` says where all else stands: "fill fibre, depth 140 mm"; empty where nothing is held.
StudyFigure swings_figure(const std::vector<VariedPart>& parts, const StudyColumn& result,
                          const std::vector<Swing>& swings, const ResultReading& reading,
                          std::string_view held);

/// The share of one part in the variance of a result.
struct VarianceShare {
  std::string name;
  FirstOrder first_order;
  double rank_correlation = 0.0;  ///< NaN for texts
};
/// Bars of first-order indices with two standard errors either way, and what is left for combinations.
StudyFigure shares_figure(const StudyColumn& result, const std::vector<VarianceShare>& shares);

/// A histogram with lines at 5, 50 and 95 %. At least one value.
StudyFigure distribution_figure(const StudyColumn& result, const std::vector<double>& values);

/// One column over another: up to 2000 rows as points, more as counts in cells.
StudyFigure pair_figure(const StudyColumn& across, const StudyColumn& up, const std::vector<double>& x,
                        const std::vector<double>& y);
inline constexpr std::size_t most_points = 2000;

}  // namespace coldbay
