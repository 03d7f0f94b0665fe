#pragma once

#include <vector>

#include "solver/multigrid/level.hpp"

namespace coldbay {

/// [left-out + left_out() k]: how a cell left out follows from the kept ones before and after it, and 1 less
/// both, known better than by subtraction.
template <class Real>
struct Weights {
  std::vector<Real> before, after, missing;
};

/// The network of the columns that a level keeps (level.hpp states the rule).
template <class Real, class From>
Network<Real> coarser_network(const Network<From>& net, const Level<Real>& level,
                              const Weights<Real>& weights);

}  // namespace coldbay
