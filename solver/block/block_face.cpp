#include "solver/block/block_face.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/block/block_air.hpp"
#include "solver/block/block_errors.hpp"
#include "solver/block/settle_block.hpp"
#include "solver/discretisation.hpp"
#include "solver/refinement/carried_over.hpp"
#include "solver/results/surface.hpp"

namespace coldbay {
namespace {

constexpr double safety = 1.25;  ///< of the grid-convergence index [Roache1994]
constexpr int most_refinements = 8;
constexpr double least_growth =
    1.3;                          ///< of the small grid in one refinement: seven solves want to be worth it
constexpr Index most_growth = 5;  ///< and at most: what it is worth is known roughly

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
  double uncertainty = 0.0, heat_uncertainty = 0.0;
  Index worst = 0;                     ///< the cell of the room face that is least known
  double room_heat_uncertainty = 0.0;  ///< of the heat through the room face alone: what refining looks at
  double heat = 0.0;                   ///< through the room face and from what is held, in magnitude [W]
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
  const double from = std::max(own.from, grid.axis[0].edge(i)),
               to = std::min(own.to, grid.axis[0].edge(i + 1));
  return std::max(0.0, to - from) * grid.axis[1].width(j);
}

Judged judge(const Block& block, const Surroundings& surroundings, const BlockAir& air, Span own,
             SolvedBlock small, const SolverOptions& options) {
  Judged n{std::move(small), {}, {}, 0.0, 0.0, 0, 0.0, 0.0, 0, {}};
  const ConductivityGrid& grid = n.small.grid;
  const Index na = grid.axis[0].cells(), nu = grid.axis[1].cells();
  n.base = faces_of(n.small, surroundings, block.sheathing);
  n.cells = 2 * grid.cells();
  n.report = n.small.field.report;
  const std::vector<double> strength = strength_of(n.small.moving);
  for (std::size_t d = 0; d < 3; ++d) {
    std::array<Axis, 3> axis = grid.axis;
    axis[d] = bisected(axis[d]);
    const std::vector<double> start = carried_over(grid, surroundings, n.small.field, axis);
    const SolvedBlock fine = solve_block(block, std::move(axis), surroundings, air, options, start, strength);
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
      if (safety * changes > n.uncertainty) {
        n.uncertainty = safety * changes;
        n.worst = i + na * j;
      }
    }
  n.heat = std::abs(n.heat) + std::abs(n.base.held);
  for (std::size_t d = 0; d < 3; ++d) {
    n.room_heat_uncertainty += safety * std::abs(room[d]);
    n.heat_uncertainty +=
        safety * std::max({std::abs(room[d]), std::abs(outer[d]), std::abs(n.halved[d].held - n.base.held)});
  }
  return n;
}

/// How much the face is wanted to be better known, cell by cell: nothing where it is known well enough. A
/// cell counts by its area, a very small one as one of 5 mm: what stands in the face bends it within less.
std::vector<double> wanted(const Judged& n, Span own, const FaceAccuracy& accuracy, bool of_face) {
  constexpr double least_area = 25e-6, near_enough = 0.7;
  const ConductivityGrid& grid = n.small.grid;
  const Index na = grid.axis[0].cells(), nu = grid.axis[1].cells();
  std::vector<double> weights(at(na * nu), 0.0);
  for (Index j = 0; j < nu; ++j)
    for (Index i = 0; i < na; ++i) {
      if (!(own_area(grid, own, i, j) > 0.0)) continue;
      const std::size_t c = at(i + na * j);
      double changes = 0.0;
      for (std::size_t d = 0; d < 3; ++d) changes += std::abs(n.change(d, c));
      const double excess = safety * changes / accuracy.surface;
      const double area = grid.axis[0].width(i) * grid.axis[1].width(j);
      if (!of_face)
        weights[c] = 1.0;
      else if (excess > near_enough)
        weights[c] = excess * excess * excess * std::max(area, least_area) / area;
    }
  return weights;
}

std::array<Axis, 3> refined(const Judged& n, const Surroundings& air, Span own, const FaceAccuracy& accuracy,
                            Index most) {
  const bool of_face = n.uncertainty > accuracy.surface;
  const BlockErrors errors =
      errors_for_face(n.small.grid, air, n.small.field, wanted(n, own, accuracy, of_face));
  const double excess =
      of_face ? n.uncertainty / accuracy.surface : n.room_heat_uncertainty / (accuracy.heat * n.heat);
  constexpr double and_a_little_more = 0.75;  // another round costs more than some strips
  return refined(n.small.grid.axis, errors, std::pow(and_a_little_more / excess, 1.2),
                 static_cast<Index>(least_growth * static_cast<double>(n.small.grid.cells())), most);
}

/// Whether refining as it went so far gets there before `most` cells: uncertainties fall by a power of the
/// cells, taken from the last two refinements, for a single one may be lucky or not.
bool gets_there(const std::vector<FaceRefinement>& log, double accuracy, Index most) {
  constexpr Index costs_nothing = 200'000;
  if (log.size() < 3 || log.back().cells < costs_nothing) return true;
  const FaceRefinement &before = log[log.size() - 3], &now = log.back();
  const double grown = static_cast<double>(now.cells) / static_cast<double>(before.cells);
  const double power = std::log(before.uncertainty / now.uncertainty) / std::log(grown);
  if (!(power > 0.0)) return false;
  return static_cast<double>(now.cells) * std::pow(now.uncertainty / accuracy, 1.0 / power) <
         static_cast<double>(most);
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
  const auto of = [&](std::vector<double> Faces::*part) {
    return std::array<const std::vector<double>*, 3>{&(n.halved[0].*part), &(n.halved[1].*part),
                                                     &(n.halved[2].*part)};
  };
  for (const auto part :
       {&Faces::room, &Faces::outer, &Faces::sheathing, &Faces::flux_room, &Faces::flux_outer})
    add_changes(answer.*part, n.base.*part, of(part));
  for (const Faces& h : n.halved) answer.held += h.held - n.base.held;
  const Index across = n.small.grid.axis[0].cells();
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
          n.small.grid.axis[0].centre(n.worst % across),
          n.small.grid.axis[1].centre(n.worst / across),
          n.heat_uncertainty,
          reached,
          n.cells,
          n.report,
          beyond,
          std::move(log),
          std::any_of(n.small.moving.flows.begin(), n.small.moving.flows.end(),
                      [](double q) { return q != 0.0; })};
}

/// Between the coldest and the warmest that the block meets [K].
double kelvin_across(const Block& block, const Surroundings& air) {
  auto [coldest, warmest] = std::minmax({air.inside.temperature, air.outside.temperature});
  for (const Piece& p : block.pieces)
    if (p.held) {
      coldest = std::min(coldest, *p.held);
      warmest = std::max(warmest, *p.held);
    }
  return warmest - coldest;
}

/// How much larger the first cells may be than those that tell most walls to a twentieth of a kelvin at 20 K.
double coarser_for(double asked, double kelvin) {
  constexpr double enough = 0.005, most = 2.0;
  return std::clamp(asked / (enough * kelvin), 1.0, most);
}

/// The loop itself is known to 1.5 % of U and, in its foot, to 0.5 K of the face at 20 K (DEVELOPERS.md,
/// "Validation"): half of that is near enough.
FaceAccuracy where_air_loops(FaceAccuracy asked, const Surroundings& air) {
  constexpr double heat = 7e-3, surface = 0.0125;  // of what passes; of the difference of temperature
  asked.heat = std::max(asked.heat, heat);
  asked.surface =
      std::max(asked.surface, surface * std::abs(air.inside.temperature - air.outside.temperature));
  return asked;
}

}  // namespace

std::array<Axis, 3> first_lines(const Block& block, Span own, double coarser) {
  const std::array<std::vector<Cap>, 3> caps = loop_caps(block);
  if (!caps[1].empty()) coarser = 1.0;  // how well loops are known was found on these cells
  const CellSizes along{0.007 * coarser, 0.12, 0.5, 1}, depth{0.006 * coarser, 0.03 * coarser, 0.5, 1};
  constexpr double beside = 0.02;  // the other half of a post
  return block_lines(block, {own.from - beside, own.to + beside}, {along, along, depth}, caps);
}

BlockFace block_face(const Block& block, const Surroundings& air, Span own, const FaceAccuracy& asked,
                     const SolverOptions& options) {
  // 1. A few lines, one on every edge; air spaces and materials at the temperatures that they lead to. On the
  //    finer grids they are taken from the grid before.
  // A round changes a fifth of what the one before it did, at most: what is left is less than a quarter of
  // the last. The heat follows the face: 2e-4 of the difference of temperature in all of it are 0.3 % of the
  // heat through a wall of 0.5 W/m2K.
  constexpr double for_heat = 8e-4;
  const double kelvin = kelvin_across(block, air);
  const double last_change = std::min(0.2 * asked.surface, for_heat * kelvin),
               settled_to = 0.25 * last_change;
  BlockAir spaces = find_air_spaces(block);
  const double coarser = coarser_for(asked.surface, kelvin);
  SolvedBlock small =
      settle_block(block, first_lines(block, own, coarser), air, spaces, last_change, options);
  const FaceAccuracy accuracy = small.moving.paths.empty() ? asked : where_air_loops(asked, air);
  std::vector<FaceRefinement> log;
  // Air spaces are as the small grid has them on all four, so that no change tells what they lack: on cells
  // this large the heat into an empty bay was 1.6 times as far off as its changes told.
  constexpr double air_of_coarse_grid = 1.6;
  while (true) {
    // 2. How much does each axis still matter?
    const int rounds = small.rounds;
    Judged n = judge(block, air, spaces, own, std::move(small), options);
    n.uncertainty += settled_to;
    if (coarser > 1.0 && !spaces.spaces.empty()) n.heat_uncertainty *= air_of_coarse_grid;
    log.push_back({n.small.grid.cells(), n.uncertainty, rounds});
    const bool of_face = n.uncertainty > accuracy.surface,
               of_heat = n.room_heat_uncertainty > accuracy.heat * n.heat;
    if (!of_face && !of_heat) return read_off(block, std::move(n), std::move(log), true);

    // 3. More lines where they are missed.
    const Index most = options.max_cells / 2;
    if (of_face && !gets_there(log, accuracy.surface, most))
      return read_off(block, std::move(n), std::move(log), false);
    std::array<Axis, 3> axis =
        refined(n, air, own, accuracy, std::min(most, most_growth * n.small.grid.cells()));
    const Index cells = axis[0].cells() * axis[1].cells() * axis[2].cells();
    if (cells == n.small.grid.cells() || std::ssize(log) > most_refinements)
      return read_off(block, std::move(n), std::move(log), false);
    const std::vector<double> start = carried_over(n.small.grid, air, n.small.field, axis),
                              strength = strength_of(n.small.moving);
    small = solve_block(block, axis, air, spaces, options, start, strength);
    follow(spaces, paint(block, std::move(axis)), block, air, small.grid, small.field);
  }
}

}  // namespace coldbay
