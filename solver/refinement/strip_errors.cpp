#include "solver/refinement/strip_errors.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "solver/assemble.hpp"
#include "solver/discretisation.hpp"
#include "solver/results/heat_flow.hpp"

namespace coldbay {
namespace {

constexpr double between_bounds = 0.1;

/// Heat from each cell to the next along d [W], by cell.
std::vector<double> inner_heat(const ConductivityGrid& grid, Direction d, const TemperatureField& field) {
  std::vector<double> heat = inner_conductances(grid, d);
  const Index step = stride(grid, d);
  for (Index c = 0; c + step < grid.cells(); ++c)
    heat[at(c)] *= field.celsius[at(c)] - field.celsius[at(c + step)];
  return heat;
}

/// Half of what lies between the two bounds of a sampled cell's conductivity, as a share of their mean.
double spread(const MixedCell& cell, Direction d) {
  const ConductivityBounds k = bounds_of(cell.samples, [&](int line, int i) {
    return cell.conductivity[at(d == Direction::across ? line * cell.samples + i : i * cell.samples + line)];
  });
  return (k.upper - k.lower) / (k.upper + k.lower);
}

}  // namespace

StripErrors strip_errors(const ConductivityGrid& grid, const Surroundings& air,
                         const TemperatureField& field) {
  const TemperatureRange range = range_of(grid, air);
  const double dissipation = heat_flows(grid, air, field).passing() * (range.warmest - range.coldest);
  StripErrors errors;
  for (const Direction d : {Direction::across, Direction::depth}) {
    std::vector<double>& strips = d == Direction::across ? errors.across : errors.depth;
    strips.assign(at(grid[d].cells()), 0.0);
    const std::vector<double> heat = inner_heat(grid, d, field);
    // Heat through the outer faces, and those of held cells, along d, in the direction of d.
    std::vector<double> entering(at(grid.cells()), 0.0), leaving(entering);
    for_each_outer_face(grid, air, [&](Index cell, Direction face, End end, const Exchange& e, double G) {
      if (face != d) return;
      const double Q = G * (e.temperature - field.celsius[at(cell)]);
      (end == End::low ? entering : leaving)[at(cell)] = end == End::low ? Q : -Q;
    });
    for_each_held_face(grid, [&](Index cell, Direction face, End end, const HeldCell& held, double G) {
      if (face != d) return;
      const double Q = G * (held.celsius - field.celsius[at(cell)]);
      (end == End::low ? entering : leaving)[at(cell)] = end == End::low ? Q : -Q;
    });
    const Index step = stride(grid, d);
    for_each_cell(grid, [&](const std::array<Index, 3>& ijk, Index cell) {
      const Index i = ijk[static_cast<std::size_t>(d)];
      const double low = entering[at(cell)] + (i > 0 ? heat[at(cell - step)] : 0.0),
                   high = leaving[at(cell)] + (i + 1 < grid[d].cells() ? heat[at(cell)] : 0.0),
                   dQ = high - low;
      const double resistance = grid[d].width(i) / (grid.k(d)[at(cell)] * face_area(grid, ijk, d));
      double error = dQ * dQ * resistance / 12.0;
      if (const auto mixed = grid.mixed.find(cell); mixed != grid.mixed.end())
        error += between_bounds * spread(mixed->second, d) * 0.5 * (low * low + high * high) * resistance;
      strips[at(i)] += error / dissipation;
    });
  }
  return errors;
}

double sum(const StripErrors& errors) {
  return std::accumulate(errors.across.begin(), errors.across.end(), 0.0) +
         std::accumulate(errors.depth.begin(), errors.depth.end(), 0.0);
}

GridLines refined(const GridLines& lines, const StripErrors& errors, double share) {
  constexpr double most = 0.7;  // the rest is left for the next time, when it may stand elsewhere
  struct Strip {
    double error, error_per_cell;
    bool across;
    std::size_t index;
  };
  std::vector<Strip> strips;
  const auto add = [&](const std::vector<double>& part, bool across, Index cells) {
    for (std::size_t i = 0; i < part.size(); ++i)
      strips.push_back({part[i], part[i] / static_cast<double>(cells), across, i});
  };
  add(errors.across, true, lines.depth.cells());
  add(errors.depth, false, lines.across.cells());
  std::stable_sort(strips.begin(), strips.end(),
                   [](const Strip& a, const Strip& b) { return a.error_per_cell > b.error_per_cell; });

  std::vector<bool> across(errors.across.size(), false), depth(errors.depth.size(), false);
  double left = std::min(share, most) * sum(errors);
  for (const Strip& strip : strips) {
    if (left <= 0.0) break;
    const double width = (strip.across ? lines.across : lines.depth).width(static_cast<Index>(strip.index));
    if (width <= merge_distance) continue;  // where a flow has no limit there is no end
    (strip.across ? across : depth)[strip.index] = true;
    left -= strip.error;
  }
  return {bisected(lines.across, across), bisected(lines.depth, depth)};
}

}  // namespace coldbay
