#include "solver/refinement/thin_sheets.hpp"

#include <algorithm>
#include <cmath>

namespace coldbay {
namespace {

constexpr double contrast = 10.0;

/// True where a run of samples in the middle of a line, k(0) to k(n - 1), conducts far better or worse than
/// both runs beside it.
template <class Sample>
bool meets_a_sheet(int n, Sample k) {
  double before = 0.0, here = k(0);  // of the run before this one, and of this one
  for (int i = 1; i < n; ++i) {
    const double next = k(i);
    if (next == here) continue;
    const bool conducts = here > contrast * std::max(before, next),
               insulates = contrast * here < std::min(before, next);
    if (before > 0.0 && (conducts || insulates)) return true;
    before = here;
    here = next;
  }
  return false;
}

bool holds_a_sheet(const MixedCell& cell) {
  const int n = cell.samples;
  const auto k = [&](int row, int column) {
    const std::size_t s =
        static_cast<std::size_t>(row) * static_cast<std::size_t>(n) + static_cast<std::size_t>(column);
    return !cell.held.empty() && cell.held[s] ? INFINITY : cell.conductivity[s];  // at one temperature
  };
  for (int line = 0; line < n; ++line)
    if (meets_a_sheet(n, [&](int i) { return k(line, i); }) ||
        meets_a_sheet(n, [&](int i) { return k(i, line); }))
      return true;
  return false;
}

}  // namespace

ThinSheets thin_sheets(const ConductivityGrid& grid) {
  const Index across = grid.axis[0].cells();
  ThinSheets all;
  all.mixed = std::ssize(grid.mixed);
  all.across.assign(static_cast<std::size_t>(across), false);
  all.depth.assign(static_cast<std::size_t>(grid.axis[2].cells()), false);
  for (const auto& [cell, samples] : grid.mixed) {
    if (!holds_a_sheet(samples)) continue;
    ++all.cells;
    all.across[static_cast<std::size_t>(cell % across)] = true;
    all.depth[static_cast<std::size_t>(cell / across)] = true;
  }
  return all;
}

GridLines halved_at(const GridLines& lines, const ThinSheets& on_halves) {
  const auto either_half = [](const std::vector<bool>& halves) {
    std::vector<bool> whole(halves.size() / 2);
    for (std::size_t i = 0; i < whole.size(); ++i) whole[i] = halves[2 * i] || halves[2 * i + 1];
    return whole;
  };
  return {bisected(lines.across, either_half(on_halves.across)),
          bisected(lines.depth, either_half(on_halves.depth))};
}

}  // namespace coldbay
