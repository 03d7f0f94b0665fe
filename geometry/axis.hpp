#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace coldbay {

using Index = std::ptrdiff_t;

/// The index as a subscript of a standard container.
inline std::size_t at(Index i) { return static_cast<std::size_t>(i); }

/// One axis of a tensor grid: n cells between n + 1 strictly increasing edges [m].
/// If it exists, it is valid: the constructor throws ModelError otherwise.
class Axis {
 public:
  explicit Axis(std::vector<double> edges);

  Index cells() const { return std::ssize(edges_) - 1; }
  double edge(Index i) const { return edges_[static_cast<std::size_t>(i)]; }
  double width(Index i) const { return edge(i + 1) - edge(i); }
  double centre(Index i) const { return 0.5 * (edge(i) + edge(i + 1)); }
  double length() const { return edges_.back() - edges_.front(); }
  const std::vector<double>& edges() const { return edges_; }

  /// The cell that holds x; the nearest one where x lies outside. A point on an edge belongs to
  /// the cell above it, the last edge to the last cell.
  Index cell_at(double x) const;

  /// The edge nearest to x.
  Index nearest_edge(double x) const;

 private:
  std::vector<double> edges_;
};

/// Every cell cut in two: the nested grid one level finer.
Axis bisected(const Axis& axis);

/// The cells that are `chosen` cut in two.
Axis bisected(const Axis& axis, const std::vector<bool>& chosen);

}  // namespace coldbay
