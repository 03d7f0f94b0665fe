#pragma once

#include <optional>

namespace coldbay {

/// How far an answer from nested grids still is from that of infinitely small cells.
struct Convergence {
  double uncertainty = 0.0;
  std::optional<double> order;  ///< observed; empty where the changes do not shrink
};

/// From the changes of a number by the last two halvings of every cell, signed or as magnitudes.
///
/// Where they shrink, the observed order is p = log2(before / last), and Richardson's estimate of the
/// remaining error last / (2^p - 1), times 1.25, the safety factor of the grid-convergence index for three
/// grids [Roache1994]. p counts as no more than that of the scheme, 2, and no less than 1/2; and the last
/// change as no less than a quarter of the one before (2^-order), so that one that happens to be small
/// promises nothing. Where they do not shrink, or change sign, three times the larger of the two is the
/// uncertainty.
///
/// `scheme` is the order of the scheme: 1 where the curved or slanted edge of something held crosses cells.
/// Which cells it then holds jumps from grid to grid, and one change promises little for the next.
Convergence convergence(double change_before, double last_change, double scheme = 2.0);

}  // namespace coldbay
