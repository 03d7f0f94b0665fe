#pragma once

#include <cstddef>
#include <vector>

#include "tools/study/statistics.hpp"
#include "tools/study/table.hpp"

namespace coldbay {

/// How much of the variance of a result goes with one parameter alone: Sobol's index of first order,
/// Var(E(y|x)) / Var(y) [Sobol2001].
struct FirstOrder {
  double index = 0.0;  ///< may come out a little below 0 where the parameter does nothing
  double error = 0.0;  ///< standard error of that; 0 where every combination was solved
  std::size_t classes = 0;
};

/// True where every combination of the values of all parameters is there, once, and was solved. Then nothing
/// is left to chance.
bool is_every_combination(const std::vector<Levels>& levels, const std::vector<double>& result);

/// From plain draws, whatever they were made for: the rows are put into classes of the parameter next to each
/// other, and what varies within them is what the parameter does not explain [Plischke2013]. That variance is
/// taken with its degrees of freedom, n rows less k classes, so that noise does not pass for an effect:
///
///   S = 1 - W / V,    W = sum of squares within classes / (n - k),    V = sum of squares / (n - 1).
///
/// Classes are the values themselves, or where those are more than sqrt(n), at least 8, so many stretches:
/// what a smooth effect varies within one is of order 1/n of its variance. The error is that of the ratio to
/// first order, from what each row adds to W and V, and beside it that of the n - k degrees.
///
/// The parameters must vary independently of each other; of those varied together each has the index of both.
/// NaN where the result is the same in all rows, fewer than ten rows have one, or no class has two.
///
/// `every_combination`: the rows are all there is, and the index is the variance of the classes' means over V
/// as they stand.
FirstOrder first_order(const Levels& levels, const std::vector<double>& result, bool every_combination);

}  // namespace coldbay
