#pragma once

#include <cstddef>
#include <vector>

#include "tools/study/statistics.hpp"
#include "tools/study/table.hpp"
#include "tools/study/variation.hpp"

namespace coldbay {

/// How much of the variance of a result goes with one parameter alone: Sobol's index of first order,
/// Var(E(y|x)) / Var(y) [Sobol2001].
struct FirstOrder {
  double index = 0.0;  ///< may come out a little below 0 where the parameter does nothing
  double error = 0.0;  ///< standard error of that; 0 where every combination was solved
  std::size_t classes = 0;
};

/// True where every combination of the values of all parts is there, once, and was solved. Then nothing is
/// left to chance, if nothing was drawn.
bool is_every_combination(const Variation& variation, const std::vector<double>& result);

/// From plain draws, whatever they were made for: the rows are put into classes of the parameter next to each
/// other, and what varies within them is what the parameter does not explain [Plischke2013]. That variance is
/// taken with its degrees of freedom, n rows less k classes, so that noise does not pass for an effect:
///
///   S = 1 - W / V,    W = sum of squares within classes / (n - k),    V = sum of squares / (n - 1).
///
/// Classes are the values themselves, or where those are more than sqrt(n), at least 8, so many stretches:
/// what a smooth effect varies within one is of order 1/n of its variance. The error is that of the ratio to
/// first order, from what each row adds to W and V, and beside it that of the n - k degrees, and what a slope
/// would vary within stretches.
///
/// The parameters must vary independently of each other, and the rows be independent draws.
/// NaN where the result is the same in all rows, fewer than ten rows have one, or no class has two.
///
/// `every_combination`: the rows are all there is, and the index is the variance of the classes' means over V
/// as they stand.
FirstOrder first_order(const Levels& levels, const std::vector<double>& result, bool every_combination);

/// Of draws that were solved in several cells (each of a list of spacings, say), for a part that was drawn.
/// The rows of one draw are no independent ones: cut into classes, they would lend a parameter that does
/// nothing the variance of the others. Hence n is the number of draws, each with the mean m of its rows, and
///
///   S = (Vm - W) / V,    V = Vm + the mean variance within a draw,
///
/// Vm and W being V and W above of the n means. Of fewer than 24 draws there are n/3 classes. NaN of fewer
/// than ten draws: an error is not known from less. What a cell differs by from the others is taken off each
/// row before, lest a draw look different for a row that failed.
FirstOrder first_order_of_drawn(const Levels& levels, const std::vector<double>& result,
                                const Crossing& crossing);

/// The same for a part that was listed, and crossed with draws. All of its levels have the same draws, so of
/// z, the mean of a draw's rows at a level less that of all its rows, the mean over draws Z is the level's
/// effect, but for Var(z)/n where the level does not do the same in every draw:
///
///   S = sum over levels of their share of rows times (Z^2 - Var(z)/n) / V.
///
/// The error is from what each draw adds to that and to V, and beside it that of pure chance, at most
/// sqrt(2/(n (n - 1))) times the mean of Var(z).
FirstOrder first_order_of_listed(const Levels& levels, const std::vector<double>& result,
                                 const Crossing& crossing);

/// Of each part, in their order, by whichever of these fits.
std::vector<FirstOrder> first_orders_of(const Variation& variation, const std::vector<double>& result);

/// The mean of the result in each draw, less what the cells of its rows differ by; NaN where it has none.
std::vector<double> means_of_draws(const std::vector<double>& result, const Crossing& crossing);

}  // namespace coldbay
