#include "solver/refinement/uncertainty.hpp"

#include <algorithm>
#include <cmath>

namespace coldbay {

Convergence convergence(double change_before, double last_change, double scheme) {
  const double before = std::abs(change_before), last = std::abs(last_change);
  if (last == 0.0 && before == 0.0) return {0.0, std::nullopt};
  const bool shrinks = last < before && change_before * last_change >= 0.0;
  if (!shrinks) return {3.0 * std::max(before, last), std::nullopt};
  const double order = last > 0.0 ? std::log2(before / last) : INFINITY;
  const double counted = std::clamp(order, 0.5, scheme);
  return {1.25 * std::max(last, std::exp2(-scheme) * before) / (std::exp2(counted) - 1.0),
          std::isfinite(order) ? std::optional(order) : std::nullopt};
}

}  // namespace coldbay
