#include "solver/refinement/face_strips.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/axis.hpp"

namespace coldbay {
namespace {

/// Every cell within one of the stretches, halved.
Axis halved_within(const Axis& axis, const std::vector<Span>& stretches) {
  std::vector<bool> chosen(static_cast<std::size_t>(axis.cells()), false);
  for (Index i = 0; i < axis.cells(); ++i)
    chosen[static_cast<std::size_t>(i)] =
        axis.width(i) > merge_distance && std::any_of(stretches.begin(), stretches.end(), [&](const Span& s) {
          return axis.centre(i) > s.from && axis.centre(i) < s.to;
        });
  return bisected(axis, chosen);
}

}  // namespace

GridLines refined_at_face(const GridLines& lines, const std::vector<double>& excess) {
  std::vector<Span> across;
  double widest = 0.0, worst = 1.0;
  for (std::size_t i = 0; i < excess.size(); ++i) {
    if (excess[i] <= 1.0) continue;
    const auto cell = static_cast<Index>(i);
    across.push_back({lines.across.edge(cell), lines.across.edge(cell + 1)});
    widest = std::max(widest, lines.across.width(cell));
    worst = std::max(worst, excess[i]);
  }
  // Near such a place the error falls as the size of the cells.
  const int times = std::clamp(static_cast<int>(std::ceil(std::log2(1.2 * worst))), 1, 3);
  GridLines finer = lines;
  for (int n = 0; n < times; ++n)
    finer = {halved_within(finer.across, across),
             halved_within(finer.depth, {{0.0, std::max(widest, lines.depth.width(0))}})};
  return finer;
}

}  // namespace coldbay
