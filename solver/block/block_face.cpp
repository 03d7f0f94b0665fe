#include "solver/block/block_face.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/block/settle_block.hpp"
#include "solver/discretisation.hpp"
#include "solver/refinement/carried_over.hpp"
#include "solver/refinement/strip_errors.hpp"
#include "solver/results/surface.hpp"

namespace coldbay {
namespace {

constexpr double safety = 1.25;  ///< of the grid-convergence index [Roache1994]
constexpr int most_refinements = 8;

std::size_t at(Index i) { return static_cast<std::size_t>(i); }

/// What one grid shows on its faces.
struct Faces {
  std::vector<double> room, outer, sheathing, flux_room, flux_outer;
  double held = 0.0;
};

template <class F>
void for_all(Faces& f, F g) {
  for (auto* part : {&f.room, &f.outer, &f.sheathing, &f.flux_room, &f.flux_outer}) g(*part);
}

Faces faces_of(const SolvedBlock& s, const Surroundings& air, const std::optional<double>& sheathing) {
  const Index na = s.grid.axis[0].cells(), nu = s.grid.axis[1].cells(), nd = s.grid.axis[2].cells();
  Faces f;
  f.room = room_face_of(s.grid, air, s.field);
  for (Index j = 0; j < nu; ++j)
    for (Index i = 0; i < na; ++i)
      f.outer.push_back(face_temperature(s.grid, air, s.field, {i, j, nd - 1}, Direction::depth, End::high));
  if (sheathing) {
    const Index k = s.grid.axis[2].nearest_edge(*sheathing);
    for (Index j = 0; j < nu; ++j)
      for (Index i = 0; i < na; ++i)
        f.sheathing.push_back(face_temperature(s.grid, air, s.field, {i, j, k}, Direction::depth, End::low));
  }
  f.flux_room.assign(at(na * nu), 0.0);
  f.flux_outer = f.flux_room;
  for_each_outer_face(s.grid, air, [&](Index cell, Direction d, End end, const Exchange& e, double G) {
    if (d != Direction::depth) return;
    const double area = face_area(s.grid, place_of(s.grid, cell), d);
    (end == End::low ? f.flux_room : f.flux_outer)[at(cell % (na * nu))] +=
        G * (e.temperature - s.field.celsius[at(cell)]) / area;
  });
  f.held = heat_flows(s.grid, air, s.field).held;
  return f;
}

/// Means over the pairs of cells that were one before axis `d` was halved.
Faces on_halves(Faces fine, std::size_t d, Index na, Index nu) {
  if (d == 2) return fine;
  for_all(fine, [&](std::vector<double>& part) {
    if (part.empty()) return;
    std::vector<double> mean;
    mean.reserve(at(na * nu));
    for (Index j = 0; j < nu; ++j)
      for (Index i = 0; i < na; ++i) {
        const Index one = d == 0 ? 2 * i + 2 * na * j : i + na * 2 * j, other = one + (d == 0 ? 1 : na);
        mean.push_back(0.5 * (part[at(one)] + part[at(other)]));
      }
    part = std::move(mean);
  });
  return fine;
}

/// The small grid with its changes.
struct Judged {
  SolvedBlock small;
  Faces base;
  std::array<Faces, 3> halved;  ///< on the cells of the small grid
  double uncertainty = 0.0, heat_uncertainty = 0.0, heat = 0.0;
  Index cells = 0;
  SolveReport report;
  double change(std::size_t d, std::size_t c) const { return halved[d].room[c] - base.room[c]; }
};

void note(SolveReport& worst, const SolveReport& next) {
  worst.iterations = std::max(worst.iterations, next.iterations);
  worst.relative_residual = std::max(worst.relative_residual, next.relative_residual);
  worst.heat_imbalance = std::max(worst.heat_imbalance, next.heat_imbalance);
}

/// Area of a face cell between `own` [m2].
double own_area(const ConductivityGrid& grid, Span own, Index i, Index j) {
  const double from = std::max(own.from, grid.axis[0].edge(i)), to = std::min(own.to, grid.axis[0].edge(i + 1));
  return std::max(0.0, to - from) * grid.axis[1].width(j);
}

Judged judge(const Block& block, const Surroundings& surroundings, const BlockAir& air, Span own, SolvedBlock small,
             const SolverOptions& options) {
  Judged n{std::move(small), {}, {}, 0.0, 0.0, 0.0, 0, {}};
  const ConductivityGrid& grid = n.small.grid;
  const Index na = grid.axis[0].cells(), nu = grid.axis[1].cells();
  n.base = faces_of(n.small, surroundings, block.sheathing);
  n.cells = 2 * grid.cells();
  n.report = n.small.field.report;
  for (std::size_t d = 0; d < 3; ++d) {
    std::array<Axis, 3> axis = grid.axis;
    axis[d] = bisected(axis[d]);
    const std::vector<double> start = carried_over(grid, surroundings, n.small.field, axis);
    const SolvedBlock fine = solve_block(block, std::move(axis), surroundings, air, options, start);
    note(n.report, fine.field.report);
    n.halved[d] = on_halves(faces_of(fine, surroundings, block.sheathing), d, na, nu);
  }
  std::array<double, 3> room{}, outer{};
  for (Index j = 0; j < nu; ++j)
    for (Index i = 0; i < na; ++i) {
      const double area = own_area(grid, own, i, j);
      if (!(area > 0.0)) continue;
      const std::size_t c = at(i + na * j);
      double changes = 0.0;
      n.heat += area * n.base.flux_room[c];
      for (std::size_t d = 0; d < 3; ++d) {
        changes += std::abs(n.change(d, c));
        room[d] += area * (n.halved[d].flux_room[c] - n.base.flux_room[c]);
        outer[d] += area * (n.halved[d].flux_outer[c] - n.base.flux_outer[c]);
      }
      n.uncertainty = std::max(n.uncertainty, safety * changes);
    }
  for (std::size_t d = 0; d < 3; ++d)
    n.heat_uncertainty += safety * std::max({std::abs(room[d]), std::abs(outer[d]),
                                             std::abs(n.halved[d].held - n.base.held)});
  return n;
}

/// An axis with its cells halved as often as each of them asks for.
Axis halved(const Axis& axis, const std::vector<int>& times) {
  std::vector<double> edges;
  for (Index i = 0; i < axis.cells(); ++i) {
    const int parts = 1 << times[at(i)];
    for (int n = 0; n < parts; ++n) edges.push_back(axis.edge(i) + axis.width(i) * n / parts);
  }
  edges.push_back(axis.edges().back());
  return Axis(std::move(edges));
}

int times_for(double excess) {
  if (!(excess > 1.0)) return 0;
  // Near an edge the error falls at least as the size of the cells, seldom as its square.
  return std::clamp(static_cast<int>(std::lround(0.8 * std::log2(excess))), 1, 2);
}

/// Width of the narrowest cell that is to be halved.
double narrowest_of(const Axis& axis, const std::vector<int>& times) {
  double narrowest = INFINITY;
  for (Index i = 0; i < axis.cells(); ++i)
    if (times[at(i)] > 0) narrowest = std::min(narrowest, axis.width(i));
  return narrowest;
}

/// The strips in depth that hold most of the error of the chosen columns.
std::vector<int> depth_times(const std::vector<double>& errors, int times) {
  constexpr double most = 0.85;
  std::vector<std::size_t> order(errors.size());
  double all = 0.0;
  for (std::size_t k = 0; k < errors.size(); ++k) {
    order[k] = k;
    all += errors[k];
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return errors[a] > errors[b]; });
  std::vector<int> out(errors.size(), 0);
  double left = most * all;
  for (const std::size_t k : order) {
    if (left <= 0.0) break;
    out[k] = times;
    left -= errors[k];
  }
  return out;
}

std::array<Axis, 3> refined(const Judged& n, const Surroundings& air, Span own, const FaceAccuracy& accuracy) {
  const ConductivityGrid& grid = n.small.grid;
  const Index na = grid.axis[0].cells(), nu = grid.axis[1].cells();
  // What each axis may still change, a little less than its share: another round costs more than some strips.
  const double allowed = accuracy.surface / safety / 3.0;
  std::vector<double> across(at(na), 0.0), up(at(nu), 0.0);
  std::vector<bool> columns(at(na * nu), false);
  double depth = 0.0;
  for (Index j = 0; j < nu; ++j)
    for (Index i = 0; i < na; ++i) {
      if (!(own_area(grid, own, i, j) > 0.0)) continue;
      const std::size_t c = at(i + na * j);
      double changes = 0.0;
      for (std::size_t d = 0; d < 3; ++d) changes += std::abs(n.change(d, c));
      if (safety * changes <= 0.75 * accuracy.surface) continue;
      across[at(i)] = std::max(across[at(i)], std::abs(n.change(0, c)) / allowed);
      up[at(j)] = std::max(up[at(j)], std::abs(n.change(1, c)) / allowed);
      const double here = std::abs(n.change(2, c)) / allowed;
      depth = std::max(depth, here);
      columns[at(c)] = here > 1.0;
    }
  std::vector<int> of_across, of_up, of_depth(at(grid.axis[2].cells()), 0);
  for (const double e : across) of_across.push_back(times_for(e));
  for (const double e : up) of_up.push_back(times_for(e));
  if (depth > 1.0)
    of_depth = depth_times(strip_errors(grid, air, n.small.field, columns).depth, times_for(depth));
  // Where the face itself has an edge, cells flatter than they are deep tell nothing more of it.
  if (const double narrowest = std::min(narrowest_of(grid.axis[0], of_across), narrowest_of(grid.axis[1], of_up));
      narrowest < grid.axis[2].width(0))
    of_depth[0] = std::max(of_depth[0], 1);
  return {halved(grid.axis[0], of_across), halved(grid.axis[1], of_up), halved(grid.axis[2], of_depth)};
}

/// Where it is the heat that is not known well enough: the strips that cost most, whichever way they lie.
std::array<Axis, 3> refined_for_heat(const Judged& n, const Surroundings& air) {
  const StripErrors errors = strip_errors(n.small.grid, air, n.small.field);
  const auto& axis = n.small.grid.axis;
  const double all = sum(errors);
  const auto halve = [all](const Axis& a, const std::vector<double>& strips) {
    std::vector<int> times;
    for (const double e : strips) times.push_back(e * static_cast<double>(strips.size()) > 0.3 * all ? 1 : 0);
    return halved(a, times);
  };
  return {halve(axis[0], errors.across), halve(axis[1], errors.up), halve(axis[2], errors.depth)};
}

bool beyond_its_source(const Block& block, const BlockPainting& painting, const TemperatureField& field) {
  for (std::size_t c = 0; c < painting.shows.size(); ++c)
    if (painting.shows[c] < block.pieces.size() &&
        beyond_source(block.pieces[painting.shows[c]].material, field.celsius[c]))
      return true;
  return false;
}

BlockFace read_off(const Block& block, Judged n, std::vector<FaceRefinement> log, bool reached) {
  Faces answer = n.base;
  const auto add_changes = [](std::vector<double>& to, const std::vector<double>& base,
                              const std::array<const std::vector<double>*, 3>& halved) {
    for (std::size_t c = 0; c < to.size(); ++c)
      for (const auto* h : halved) to[c] += (*h)[c] - base[c];
  };
  const auto of = [&](std::vector<double> Faces::* part) {
    return std::array<const std::vector<double>*, 3>{&(n.halved[0].*part), &(n.halved[1].*part),
                                                     &(n.halved[2].*part)};
  };
  for (const auto part : {&Faces::room, &Faces::outer, &Faces::sheathing, &Faces::flux_room, &Faces::flux_outer})
    add_changes(answer.*part, n.base.*part, of(part));
  for (const Faces& h : n.halved) answer.held += h.held - n.base.held;
  const bool beyond = beyond_its_source(block, paint(block, n.small.grid.axis), n.small.field);
  return {n.small.grid.axis[0],
          n.small.grid.axis[1],
          std::move(answer.room),
          std::move(answer.outer),
          std::move(answer.sheathing),
          std::move(answer.flux_room),
          std::move(answer.flux_outer),
          answer.held,
          n.uncertainty,
          n.heat_uncertainty,
          reached,
          n.cells,
          n.report,
          beyond,
          std::move(log)};
}

}  // namespace

std::array<Axis, 3> first_lines(const Block& block) {
  const CellSizes along{0.010, 0.12, 0.5, 1}, depth{0.006, 0.03, 0.5, 1};
  return block_lines(block, {along, along, depth});
}

BlockFace block_face(const Block& block, const Surroundings& surroundings, Span own, const FaceAccuracy& accuracy,
                     const SolverOptions& options) {
  // 1. A few lines, one on every edge; air spaces and materials at the temperatures that they lead to. On the
  //    finer grids they are taken from the grid before.
  const double settled_to = 0.05 * accuracy.surface;
  BlockAir air = find_air_spaces(block);
  SolvedBlock small = settle_block(block, first_lines(block), surroundings, air, settled_to, options);
  std::vector<FaceRefinement> log;
  while (true) {
    // 2. How much does each axis still matter?
    const int rounds = small.rounds;
    Judged n = judge(block, surroundings, air, own, std::move(small), options);
    n.uncertainty += settled_to;
    log.push_back({n.small.grid.cells(), n.uncertainty, rounds});
    const bool of_face = n.uncertainty > accuracy.surface,
               of_heat = n.heat_uncertainty > accuracy.heat * std::abs(n.heat);
    if (!of_face && !of_heat) return read_off(block, std::move(n), std::move(log), true);

    // 3. More lines where they are missed.
    std::array<Axis, 3> axis =
        of_face ? refined(n, surroundings, own, accuracy) : refined_for_heat(n, surroundings);
    const Index cells = axis[0].cells() * axis[1].cells() * axis[2].cells();
    if (cells == n.small.grid.cells() || 2 * cells > options.max_cells || std::ssize(log) > most_refinements)
      return read_off(block, std::move(n), std::move(log), false);
    const std::vector<double> start = carried_over(n.small.grid, surroundings, n.small.field, axis);
    small = solve_block(block, axis, surroundings, air, options, start);
    follow(air, paint(block, std::move(axis)), block, surroundings, small.grid, small.field);
  }
}

}  // namespace coldbay
