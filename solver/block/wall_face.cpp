#include "solver/block/wall_face.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

#include "geometry/block/air_spaces.hpp"
#include "geometry/graded_axis.hpp"
#include "geometry/wall/build.hpp"
#include "materials/model_error.hpp"
#include "solver/block/windows.hpp"
#include "solver/parallel.hpp"

namespace coldbay {
namespace {

/// The grids on the way need not be solved to more than the face can tell: a relative residual of 1e-6 is
/// some 1e-4 K, and a balance to 5e-7 is within what solve() lets pass.
SolverOptions for_faces(SolverOptions options) {
  options.relative_residual = std::max(options.relative_residual, 1e-6);
  options.heat_balance = std::max(options.heat_balance, 5e-7);
  return options;
}

/// The air as the block meets it: outside of its last layer that is not ventilated.
Surroundings beside(const Block& block, Surroundings air) {
  if (block.outside_film) air.outside.film = *block.outside_film;
  return air;
}

/// What a window shows: the face of the one that was solved for it, and how far it stands to the right of
/// that [m].
struct Shown {
  std::shared_ptr<const BlockFace> face;
  double moved = 0.0;
};

/// Solves what is to be solved once, of all walls together. [wall][window]
std::vector<std::vector<Shown>> solve_all(const std::vector<Windows>& walls, const Surroundings& surroundings,
                                          const FaceAccuracy& accuracy, const SolverOptions& options) {
  struct Task {
    const Window* window;
    FaceAccuracy accuracy;
    SolverOptions options;
    std::shared_ptr<const BlockFace> face = nullptr;
  };
  constexpr Index most_for_a_bay = 4'000'000;
  std::vector<Task> tasks;
  std::vector<std::vector<std::size_t>> task_of;
  for (const Windows& parts : walls) {
    SolverOptions its = options;
    if (parts.all.size() > 1) its.max_cells = std::min(its.max_cells, most_for_a_bay);
    FaceAccuracy of_each = accuracy;
    of_each.surface -= parts.uncertainty;
    std::vector<std::size_t>& of = task_of.emplace_back();
    for (std::size_t w = 0; w < parts.all.size(); ++w) {
      const Window& window = parts.all[w];
      if (window.like != w) {
        of.push_back(of[window.like]);
        continue;
      }
      const auto same = std::find_if(tasks.begin(), tasks.end(), [&](const Task& t) {
        return t.accuracy.surface == of_each.surface && show_the_same(*t.window, window);
      });
      of.push_back(static_cast<std::size_t>(same - tasks.begin()));
      if (same == tasks.end()) tasks.push_back({&window, of_each, its});
    }
  }
  // The one with most in it first: it must not be begun when all the others are done.
  std::vector<Task*> in_turn;
  in_turn.reserve(tasks.size());
  for (Task& t : tasks) in_turn.push_back(&t);
  std::stable_sort(in_turn.begin(), in_turn.end(), [](const Task* a, const Task* b) {
    return a->window->block.shows.size() > b->window->block.shows.size();
  });
  in_parallel(std::ssize(in_turn), options.max_cells, [&](Index n) {
    Task& t = *in_turn[at(n)];
    const Surroundings air = beside(t.window->block, surroundings);
    t.face =
        std::make_shared<BlockFace>(block_face(t.window->block, air, t.window->own, t.accuracy, t.options));
  });
  std::vector<std::vector<Shown>> shown(walls.size());
  for (std::size_t w = 0; w < walls.size(); ++w)
    for (std::size_t n = 0; n < task_of[w].size(); ++n) {
      const Task& t = tasks[task_of[w][n]];
      shown[w].push_back({t.face, walls[w].all[n].own.from - t.window->own.from});
    }
  return shown;
}

/// The axis of all windows together: the cells of each in its own part.
Axis joined_across(const Windows& parts, const std::vector<Shown>& shown) {
  std::vector<double> edges;
  for (std::size_t w = 0; w < shown.size(); ++w)
    for (const double edge : shown[w].face->across.edges()) {
      const double x = edge + shown[w].moved;
      const Span own = parts.all[w].own;
      if (x > own.from + merge_distance && x < own.to - merge_distance) edges.push_back(x);
    }
  for (const Window& window : parts.all) edges.push_back(window.own.from);
  return Axis(tidy(std::move(edges), {parts.all.front().own.from, parts.all.back().own.to}));
}

Axis joined_up(const std::vector<Shown>& shown) {
  std::vector<double> edges;
  for (const Shown& s : shown)
    edges.insert(edges.end(), s.face->up.edges().begin(), s.face->up.edges().end());
  const Axis& first = shown.front().face->up;
  return Axis(tidy(std::move(edges), {first.edges().front(), first.edges().back()}));
}

/// Reads all windows onto one pair of axes.
struct Joined {
  const Windows& parts;
  const std::vector<Shown>& shown;
  Axis across, up;

  std::size_t window_at(double x) const {
    std::size_t w = 0;
    while (w + 1 < parts.all.size() && x > parts.all[w].own.to) ++w;
    return w;
  }
  /// Temperatures, linear between the middles of the window's cells.
  FaceMap map(std::vector<double> BlockFace::*part) const {
    FaceMap out{across, up, {}};
    if (shown.size() == 1) {
      out.celsius = *shown[0].face.*part;
      return out;
    }
    std::vector<FaceMap> maps;
    maps.reserve(shown.size());
    for (const Shown& s : shown) maps.push_back({s.face->across, s.face->up, *s.face.*part});
    for (Index j = 0; j < up.cells(); ++j)
      for (Index i = 0; i < across.cells(); ++i) {
        const std::size_t w = window_at(across.centre(i));
        out.celsius.push_back(temperature_on(maps[w], across.centre(i) - shown[w].moved, up.centre(j)));
      }
    return out;
  }
  /// Fluxes, that of the cell: no heat is lost on the way.
  std::vector<double> flux(std::vector<double> BlockFace::*part) const {
    std::vector<double> out;
    for (Index j = 0; j < up.cells(); ++j)
      for (Index i = 0; i < across.cells(); ++i) {
        const std::size_t w = window_at(across.centre(i));
        const BlockFace& f = *shown[w].face;
        const Index a = f.across.cell_at(across.centre(i) - shown[w].moved), u = f.up.cell_at(up.centre(j));
        out.push_back((f.*part)[at(a + f.across.cells() * u)]);
      }
    return out;
  }
  double heat(const std::vector<double>& flux_by_cell) const {
    double sum = 0.0;
    for (Index j = 0; j < up.cells(); ++j)
      for (Index i = 0; i < across.cells(); ++i)
        sum += flux_by_cell[at(i + across.cells() * j)] * across.width(i) * up.width(j);
    return sum;
  }
};

/// Deeper than the airspace rules know [m].
constexpr double deepest_space = 0.3;

std::vector<std::string> warnings_of(const Windows& parts, const std::vector<Shown>& shown) {
  std::vector<std::string> all;
  double deepest = 0.0;
  for (const Window& w : parts.all)
    for (const BlockAirSpace& s : find_air_spaces(w.block).spaces) deepest = std::max(deepest, s.depth);
  if (deepest > deepest_space)
    all.push_back(fmt::format("an air space {:.0f} mm deep is beyond the rule's {:.0f} mm", 1e3 * deepest,
                              1e3 * deepest_space));
  if (std::any_of(shown.begin(), shown.end(), [](const Shown& s) { return s.face->beyond_source; }))
    all.emplace_back("a material is at temperatures here that its source did not measure");
  return all;
}

/// Reads off what was solved.
WallFace read_off(const BuiltWall& wall, const Surroundings& air, const Windows& parts,
                  const std::vector<Shown>& shown) {
  const Joined joined{parts, shown, joined_across(parts, shown), joined_up(shown)};
  WallFace out{joined.map(&BlockFace::room),
               joined.map(&BlockFace::outer),
               {},
               joined.flux(&BlockFace::flux_room),
               0.0,
               0.0,
               0.0,
               0.0,
               0.0,
               {},
               warnings_of(parts, shown),
               {},
               {},
               true,
               0,
               {}};
  if (parts.all.front().block.sheathing) out.sheathing = joined.map(&BlockFace::sheathing);
  out.heat_flow = joined.heat(out.heat_flux_room);
  out.heat_to_outside = -joined.heat(joined.flux(&BlockFace::flux_outer));
  out.parts.reserve(shown.size());
  for (std::size_t w = 0; w < shown.size(); ++w) {
    const BlockFace& f = *shown[w].face;
    out.uncertainty = std::max(out.uncertainty, f.uncertainty + parts.uncertainty);
    out.heat_flow_uncertainty += f.heat_uncertainty;
    out.report.iterations = std::max(out.report.iterations, f.report.iterations);
    out.report.relative_residual = std::max(out.report.relative_residual, f.report.relative_residual);
    out.report.heat_imbalance = std::max(out.report.heat_imbalance, f.report.heat_imbalance);
    out.reached = out.reached && f.reached;
    out.cells = std::max(out.cells, f.cells);
    const Window& window = parts.all[w];
    out.parts.push_back({window.own, f.uncertainty + parts.uncertainty, f.heat_uncertainty,
                         f.worst_across + shown[w].moved, f.worst_up, f.reached, f.loops});
    if (window.like == w) out.refinements.push_back(f.log);
  }
  const bool anything_held =
      std::any_of(wall.pieces.begin(), wall.pieces.end(), [](const Piece& p) { return p.held.has_value(); });
  // What is held in one window is in part in the next; what goes in and out tells all of it.
  out.heat_from_held = anything_held ? out.heat_to_outside - out.heat_flow : 0.0;
  const double kelvin = mean_room_temperature(air, {0.0, wall.height}) - air.outside.temperature;
  if (!anything_held && kelvin != 0.0) out.u_value = out.heat_flow / (wall.width * wall.height * kelvin);
  return out;
}

}  // namespace

std::vector<WallFace> wall_faces(const std::vector<BuiltWall>& walls, const Surroundings& air,
                                 const FaceAccuracy& accuracy, const SolverOptions& options) {
  if (air.left || air.right)
    throw ModelError("sides", "the ends of a whole wall exchange no heat", "leave the sides adiabatic");
  // 1. Draw: what must be solved together, and what need not be solved twice.
  std::vector<Windows> parts;
  parts.reserve(walls.size());
  for (const BuiltWall& wall : walls) parts.push_back(windows(wall, air, 0.1 * accuracy.surface));

  // 2. Settle, judge and refine each of them.
  const std::vector<std::vector<Shown>> shown = solve_all(parts, air, accuracy, for_faces(options));

  // 3. Read off.
  std::vector<WallFace> faces;
  faces.reserve(walls.size());
  for (std::size_t w = 0; w < walls.size(); ++w) faces.push_back(read_off(walls[w], air, parts[w], shown[w]));
  return faces;
}

WallFace wall_face(const BuiltWall& wall, const Surroundings& surroundings, const FaceAccuracy& accuracy,
                   const SolverOptions& options) {
  return std::move(wall_faces({wall}, surroundings, accuracy, options).front());
}

WallFace wall_face(const Wall& wall, const Surroundings& air, const FaceAccuracy& accuracy,
                   const SolverOptions& options) {
  return wall_face(build(wall), air, accuracy, options);
}

}  // namespace coldbay
