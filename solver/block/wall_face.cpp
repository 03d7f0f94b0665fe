#include "solver/block/wall_face.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/block/air_spaces.hpp"
#include "geometry/graded_axis.hpp"
#include "geometry/wall/build.hpp"
#include "materials/model_error.hpp"
#include "solver/block/windows.hpp"
#include "solver/parallel.hpp"

namespace coldbay {
namespace {

std::size_t at(Index i) { return static_cast<std::size_t>(i); }

/// The grids on the way need not be solved to more than the face can tell: a relative residual of 1e-6 is
/// some 1e-4 K, and a balance to 5e-7 is within what solve() lets pass.
SolverOptions for_faces(SolverOptions options) {
  options.relative_residual = std::max(options.relative_residual, 1e-6);
  options.heat_balance = std::max(options.heat_balance, 5e-7);
  return options;
}

/// Solves what is to be solved once.
std::vector<BlockFace> solve_all(const Windows& parts, const Surroundings& air, const FaceAccuracy& accuracy,
                                 SolverOptions options) {
  constexpr Index most_for_a_bay = 4'000'000;
  if (parts.all.size() > 1) options.max_cells = std::min(options.max_cells, most_for_a_bay);
  std::vector<std::size_t> once;
  for (std::size_t w = 0; w < parts.all.size(); ++w)
    if (parts.all[w].like == w) once.push_back(w);
  // The one with most in it first: it must not be begun when all the others are done.
  std::stable_sort(once.begin(), once.end(), [&](std::size_t a, std::size_t b) {
    return parts.all[a].block.shows.size() > parts.all[b].block.shows.size();
  });
  std::vector<std::optional<BlockFace>> solved(parts.all.size());
  in_parallel(std::ssize(once), options.max_cells, [&](Index n) {
    const Window& w = parts.all[once[at(n)]];
    solved[once[at(n)]] = block_face(w.block, air, w.own, accuracy, options);
  });
  std::vector<BlockFace> faces;
  faces.reserve(solved.size());
  for (const Window& w : parts.all) faces.push_back(*solved[w.like]);
  return faces;
}

/// The axis of all windows together: the cells of each in its own part.
Axis joined_across(const Windows& parts, const std::vector<BlockFace>& faces) {
  std::vector<double> edges;
  for (std::size_t w = 0; w < faces.size(); ++w)
    for (const double x : faces[w].across.edges())
      if (const Window& window = parts.all[w]; x + window.moved > window.own.from + merge_distance &&
                                               x + window.moved < window.own.to - merge_distance)
        edges.push_back(x + window.moved);
  for (const Window& window : parts.all) edges.push_back(window.own.from);
  return Axis(tidy(std::move(edges), {parts.all.front().own.from, parts.all.back().own.to}));
}

Axis joined_up(const std::vector<BlockFace>& faces) {
  std::vector<double> edges;
  for (const BlockFace& f : faces) edges.insert(edges.end(), f.up.edges().begin(), f.up.edges().end());
  return Axis(tidy(std::move(edges), {faces.front().up.edges().front(), faces.front().up.edges().back()}));
}

/// Reads all windows onto one pair of axes.
struct Joined {
  const Windows& parts;
  const std::vector<BlockFace>& faces;
  Axis across, up;

  std::size_t window_at(double x) const {
    std::size_t w = 0;
    while (w + 1 < parts.all.size() && x > parts.all[w].own.to) ++w;
    return w;
  }
  /// Temperatures, linear between the middles of the window's cells.
  FaceMap map(std::vector<double> BlockFace::*part) const {
    FaceMap out{across, up, {}};
    if (faces.size() == 1) {
      out.celsius = faces[0].*part;
      return out;
    }
    std::vector<FaceMap> maps;
    for (const BlockFace& f : faces) maps.push_back({f.across, f.up, f.*part});
    for (Index j = 0; j < up.cells(); ++j)
      for (Index i = 0; i < across.cells(); ++i) {
        const std::size_t w = window_at(across.centre(i));
        out.celsius.push_back(temperature_on(maps[w], across.centre(i) - parts.all[w].moved, up.centre(j)));
      }
    return out;
  }
  /// Fluxes, that of the cell: no heat is lost on the way.
  std::vector<double> flux(std::vector<double> BlockFace::*part) const {
    std::vector<double> out;
    for (Index j = 0; j < up.cells(); ++j)
      for (Index i = 0; i < across.cells(); ++i) {
        const std::size_t w = window_at(across.centre(i));
        const BlockFace& f = faces[w];
        const Index a = f.across.cell_at(across.centre(i) - parts.all[w].moved),
                    u = f.up.cell_at(up.centre(j));
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

std::vector<std::string> warnings_of(const Windows& parts, const std::vector<BlockFace>& faces) {
  std::vector<std::string> all;
  double deepest = 0.0;
  for (const Window& w : parts.all)
    for (const BlockAirSpace& s : find_air_spaces(w.block).spaces) deepest = std::max(deepest, s.depth);
  if (deepest > deepest_space)
    all.push_back(fmt::format("an air space {:.0f} mm deep is beyond the rule's {:.0f} mm", 1e3 * deepest,
                              1e3 * deepest_space));
  if (std::any_of(faces.begin(), faces.end(), [](const BlockFace& f) { return f.beyond_source; }))
    all.emplace_back("a material is at temperatures here that its source did not measure");
  return all;
}

}  // namespace

WallFace wall_face(const BuiltWall& wall, const Surroundings& surroundings, const FaceAccuracy& accuracy,
                   const SolverOptions& options) {
  if (surroundings.left || surroundings.right)
    throw ModelError("sides", "the ends of a whole wall exchange no heat", "leave the sides adiabatic");
  // 1. Draw: what must be solved together, and what need not be solved twice.
  const bool anything_held =
      std::any_of(wall.pieces.begin(), wall.pieces.end(), [](const Piece& p) { return p.held.has_value(); });
  const Windows parts = windows(wall, surroundings, 0.1 * accuracy.surface);
  Surroundings air = surroundings;
  if (const auto& film = parts.all.front().block.outside_film) air.outside.film = *film;

  // 2. Settle, judge and refine each of them.
  FaceAccuracy of_each = accuracy;
  of_each.surface -= parts.uncertainty;
  const std::vector<BlockFace> faces = solve_all(parts, air, of_each, for_faces(options));

  // 3. Read off.
  const Joined joined{parts, faces, joined_across(parts, faces), joined_up(faces)};
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
               warnings_of(parts, faces),
               {},
               {},
               true,
               0,
               {}};
  if (parts.all.front().block.sheathing) out.sheathing = joined.map(&BlockFace::sheathing);
  out.heat_flow = joined.heat(out.heat_flux_room);
  out.heat_to_outside = -joined.heat(joined.flux(&BlockFace::flux_outer));
  out.parts.reserve(faces.size());
  for (std::size_t w = 0; w < faces.size(); ++w) {
    const BlockFace& f = faces[w];
    out.uncertainty = std::max(out.uncertainty, f.uncertainty + parts.uncertainty);
    out.heat_flow_uncertainty += f.heat_uncertainty;
    out.report.iterations = std::max(out.report.iterations, f.report.iterations);
    out.report.relative_residual = std::max(out.report.relative_residual, f.report.relative_residual);
    out.report.heat_imbalance = std::max(out.report.heat_imbalance, f.report.heat_imbalance);
    out.reached = out.reached && f.reached;
    out.cells = std::max(out.cells, f.cells);
    const Window& window = parts.all[w];
    out.parts.push_back({window.own, f.uncertainty + parts.uncertainty, f.heat_uncertainty,
                         f.worst_across + window.moved, f.worst_up, f.reached, f.loops});
    if (window.like == w) out.refinements.push_back(f.log);
  }
  // What is held in one window is in part in the next; what goes in and out tells all of it.
  out.heat_from_held = anything_held ? out.heat_to_outside - out.heat_flow : 0.0;
  const double kelvin = mean_room_temperature(air, {0.0, wall.height}) - air.outside.temperature;
  if (!anything_held && kelvin != 0.0) out.u_value = out.heat_flow / (wall.width * wall.height * kelvin);
  return out;
}

WallFace wall_face(const Wall& wall, const Surroundings& air, const FaceAccuracy& accuracy,
                   const SolverOptions& options) {
  return wall_face(build(wall), air, accuracy, options);
}

}  // namespace coldbay
