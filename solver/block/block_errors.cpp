#include "solver/block/block_errors.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <queue>

#include "geometry/graded_axis.hpp"
#include "solver/conjugate_gradients.hpp"
#include "solver/discretisation.hpp"
#include "solver/parallel.hpp"

namespace coldbay {
namespace {

/// The second field: 0 all round, but for the room, which is as warm before each column as its weight says.
std::vector<double> felt_by(const ConductivityGrid& grid, const Surroundings& air,
                            const std::vector<double>& weights) {
  HeatBalance balance{network(grid, air), {}};
  for (const auto& row : balance.net.to_air) balance.from_air.emplace_back(row.size(), 0.0);
  for_each_outer_face(grid, air, [&](Index cell, Direction d, End end, const Exchange&, double G) {
    if (d == Direction::depth && end == End::low) balance.from_air[0][at(cell)] += G * weights[at(cell)];
  });
  Hierarchy<float> grids = hierarchy<float>(balance.net);
  Eigen::VectorXd z = Eigen::VectorXd::Zero(grid.cells());
  constexpr double good_enough = 1e-3;  // it only points the way
  conjugate_gradients(balance, grids, good_enough, 10, z);
  return {z.begin(), z.end()};
}

/// Heat that enters each cell at its low face and that leaves it at its high face, along d.
struct Through {
  std::vector<double> low, high;
};
template <class AirOf>
Through through(const ConductivityGrid& grid, const Surroundings& air, Direction d,
                const std::vector<double>& T, const std::vector<double>& G, AirOf air_of) {
  Through q{std::vector<double>(T.size(), 0.0), std::vector<double>(T.size(), 0.0)};
  const auto step = at(stride(grid, d));
  for (std::size_t c = 0; c + step < T.size(); ++c) {
    q.high[c] = G[c] * (T[c] - T[c + step]);
    q.low[c + step] = q.high[c];
  }
  if (d == Direction::depth)
    for_each_outer_face(grid, air, [&](Index cell, Direction, End end, const Exchange& e, double outer) {
      const double Q = outer * (air_of(cell, end, e) - T[at(cell)]);
      (end == End::low ? q.low : q.high)[at(cell)] = end == End::low ? Q : -Q;
    });
  return q;
}

}  // namespace

BlockErrors errors_for_face(const ConductivityGrid& grid, const Surroundings& air,
                            const TemperatureField& field, const std::vector<double>& weights) {
  const std::vector<double> felt = felt_by(grid, air, weights);
  BlockErrors errors;
  for (const Direction d : directions) {
    std::vector<double>& strips = errors[static_cast<std::size_t>(d)];
    strips.assign(at(grid[d].cells()), 0.0);
    const std::vector<double> G = inner_conductances(grid, d);
    const Through first =
        through(grid, air, d, field.celsius, G, [](Index, End, const Exchange& e) { return e.temperature; });
    const Through second = through(grid, air, d, felt, G, [&](Index cell, End end, const Exchange&) {
      return end == End::low ? weights[at(cell)] : 0.0;
    });
    for_each_cell(grid, [&](const std::array<Index, 3>& ijk, Index cell) {
      const std::size_t c = at(cell);
      if (held_cell(grid, cell)) return;
      const Index i = ijk[static_cast<std::size_t>(d)];
      const double resistance = grid[d].width(i) / (grid.k(d)[c] * face_area(grid, ijk, d));
      strips[at(i)] +=
          std::abs((first.high[c] - first.low[c]) * (second.high[c] - second.low[c])) * resistance / 12.0;
    });
  }
  return errors;
}

std::array<Axis, 3> refined(const std::array<Axis, 3>& axis, const BlockErrors& errors, double share,
                            Index least, Index most) {
  constexpr double kept = 0.35;
  constexpr int most_times = 3;  // as far as carried_over() goes
  struct Strip {
    double error_per_cell, error;
    std::size_t axis;
    Index index;
    bool operator<(const Strip& other) const { return error_per_cell < other.error_per_cell; }
  };
  std::array<std::vector<int>, 3> times;
  std::array<double, 3> cells{};
  std::priority_queue<Strip> strips;
  double left = 0.0;
  for (std::size_t d = 0; d < 3; ++d) {
    times[d].assign(errors[d].size(), 0);
    cells[d] = static_cast<double>(errors[d].size());
  }
  const double all = cells[0] * cells[1] * cells[2];
  for (std::size_t d = 0; d < 3; ++d)
    for (Index i = 0; i < axis[d].cells(); ++i) {
      left += errors[d][at(i)];
      strips.push({errors[d][at(i)] * cells[d] / all, errors[d][at(i)], d, i});
    }
  const double target = share * left;
  while ((left > target || cells[0] * cells[1] * cells[2] < static_cast<double>(least)) && !strips.empty()) {
    Strip s = strips.top();
    strips.pop();
    int& n = times[s.axis][at(s.index)];
    const double parts = std::ldexp(1.0, n);  // it is in now, and as many are added
    if (n >= most_times || axis[s.axis].width(s.index) <= 2.0 * parts * merge_distance) continue;
    const double of_axis = cells[s.axis];
    if (cells[0] * cells[1] * cells[2] / of_axis * (of_axis + parts) > static_cast<double>(most)) break;
    cells[s.axis] += parts;
    ++n;
    left -= (1.0 - kept) * s.error;
    s.error *= kept;
    s.error_per_cell *= 0.5 * kept;
    strips.push(s);
  }
  const auto halved = [&](std::size_t d) {
    std::vector<double> edges;
    for (Index i = 0; i < axis[d].cells(); ++i) {
      const int parts = 1 << times[d][at(i)];
      for (int p = 0; p < parts; ++p) edges.push_back(axis[d].edge(i) + axis[d].width(i) * p / parts);
    }
    edges.push_back(axis[d].edges().back());
    return Axis(std::move(edges));
  };
  return {halved(0), halved(1), halved(2)};
}

}  // namespace coldbay
