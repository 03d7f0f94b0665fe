#include "geometry/axis.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "materials/model_error.hpp"

namespace coldbay {

Axis::Axis(std::vector<double> edges) : edges_(std::move(edges)) {
  if (edges_.size() < 2) throw ModelError("", "an axis of the grid needs at least two edges");
  for (std::size_t i = 0; i < edges_.size(); ++i)
    if (!std::isfinite(edges_[i]) || (i > 0 && !(edges_[i] > edges_[i - 1])))
      throw ModelError("", fmt::format("edge {} of the grid does not lie beyond the one before it", i));
}

Index Axis::cell_at(double x) const {
  const auto above = std::upper_bound(edges_.begin(), edges_.end(), x);
  return std::clamp<Index>(above - edges_.begin() - 1, 0, cells() - 1);
}

Index Axis::nearest_edge(double x) const {
  const Index i = cell_at(x);
  return x - edge(i) <= edge(i + 1) - x ? i : i + 1;
}

Axis bisected(const Axis& axis, const std::vector<bool>& chosen) {
  std::vector<double> edges;
  edges.reserve(2 * axis.edges().size());
  for (Index i = 0; i < axis.cells(); ++i) {
    edges.push_back(axis.edge(i));
    if (chosen[static_cast<std::size_t>(i)]) edges.push_back(axis.centre(i));
  }
  edges.push_back(axis.edges().back());
  return Axis(std::move(edges));
}

Axis bisected(const Axis& axis) {
  return bisected(axis, std::vector<bool>(static_cast<std::size_t>(axis.cells()), true));
}

}  // namespace coldbay
