#include "solver/forecast.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <new>
#include <utility>

#include "geometry/air_cavities.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "solver/air_loops/carried_errors.hpp"
#include "solver/assemble.hpp"
#include "solver/refinement/carried_over.hpp"
#include "solver/refinement/face_strips.hpp"
#include "solver/refinement/strip_errors.hpp"
#include "solver/refinement/thin_sheets.hpp"
#include "solver/refinement/uncertainty.hpp"
#include "solver/results/warnings.hpp"
#include "solver/settle.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

/// What is read off the room face between two places.
PartResult read_face(const SurfaceProfile& face, Span across, double kelvin) {
  const double sign =
      kelvin > 0.0 ? 1.0 : -1.0;  // in a warm season the warmest point is the furthest from the room
  PartResult part;
  part.across = across;
  part.extreme = sign * INFINITY;
  double heat = 0.0, warmth = 0.0, width = 0.0;
  for (std::size_t i = 0; i < face.across.size(); ++i) {
    if (face.across[i] < across.from || face.across[i] > across.to) continue;
    heat += face.heat_flux[i] * face.width[i];
    warmth += face.celsius[i] * face.width[i];
    width += face.width[i];
    if (sign * face.celsius[i] < sign * part.extreme) {
      part.extreme = face.celsius[i];
      part.extreme_at = face.across[i];
    }
  }
  part.u_value = heat / width / kelvin;
  part.mean_surface = warmth / width;
  return part;
}

/// Temperature of the room face at x: that of the first cell whose middle is not left of it.
double face_at(const SurfaceProfile& face, double x) {
  const auto it = std::lower_bound(face.across.begin(), face.across.end(), x);
  const auto i = std::min<std::ptrdiff_t>(it - face.across.begin(), std::ssize(face.across) - 1);
  return face.celsius[static_cast<std::size_t>(i)];
}

std::optional<double> stud_contrast(const SurfaceProfile& face, const std::vector<FacePart>& parts) {
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (!parts[i].sound) continue;
    const Span across = parts[i].across;
    const double middle = face_at(face, 0.5 * (across.from + across.to));
    // The outermost studs are cut in the middle, so the wall beyond mirrors this bay.
    // (A sound bay to the left has answered already, by its right stud.)
    if (i == 0) return face_at(face, across.from) - middle;
    if (i + 1 == parts.size() || parts[i + 1].sound) return face_at(face, across.to) - middle;
  }
  return std::nullopt;
}

Results read_results(const Section& section, const Surroundings& air, std::optional<double> humidity,
                     const ConductivityGrid& grid, const TemperatureField& field) {
  Results r;
  const double T_in = mean_room_temperature(air, {0.0, section.width}), T_out = air.outside.temperature,
               kelvin = T_in - T_out;
  r.flows = heat_flows(grid, air, field);
  r.heat_flow = r.flows.inside;
  r.profile = room_face(grid, air, field);
  const std::size_t coldest = coldest_place(r.profile);
  r.coldest = r.profile.celsius[coldest];
  r.coldest_at = r.profile.across[coldest];
  if (humidity) r.moisture = moisture_risk(section, grid, air, field, r.profile, *humidity);
  r.extreme = r.coldest;
  r.extreme_at = r.coldest_at;
  if (kelvin == 0.0) return r;

  r.reversed = kelvin < 0.0;
  const std::size_t extreme = r.reversed ? warmest_place(r.profile) : coldest;
  r.extreme = r.profile.celsius[extreme];
  r.extreme_at = r.profile.across[extreme];
  r.temperature_factor = (r.extreme - T_out) / kelvin;
  if (air.left || air.right) return r;
  if (grid.held.empty()) {
    r.u_value = r.heat_flow / (section.width * kelvin);
    r.limits = limits(grid, air);
  }
  for (const FacePart& part : section.parts) {
    PartResult result = read_face(r.profile, part.across, kelvin);
    result.name = part.name;
    result.label = part.label;
    r.parts.push_back(std::move(result));
  }
  r.stud_contrast = stud_contrast(r.profile, section.parts);
  return r;
}

/// Two held faces of different temperature meet at a corner.
bool flow_is_unlimited(const Surroundings& air) {
  for (const auto& side : {air.left, air.right})
    for (const Exchange& face : {air.inside, air.outside})
      if (side && side->film == 0.0 && face.film == 0.0 && side->temperature != face.temperature) return true;
  return false;
}

/// The small grid's own error is some ten times that of the finest: with more of it than this times what is
/// asked for, three answers that agree do so by luck.
constexpr double trusted = 8.0;

/// A section solved on one grid.
struct Solved {
  GridLines lines;
  Painting painting;
  AirSpaces air;
  MovingAir moving;
  Settled settled;
  SurfaceProfile face;
  HeatFlows flows;
};

/// Draws the section on the lines and solves div(k grad T) = 0 with the films inside and out until the air
/// spaces conduct as they do at the temperatures found: 2 to 8 rounds with air, one without. Begins where
/// `before`, a solve on lines of which these are a refinement, has ended.
Solved solve_on(const Section& section, const Surroundings& air, GridLines lines, const Solved* before,
                const SolverOptions& options) {
  Painting painting = paint(section, lines.across, lines.depth);
  AirSpaces spaces = find_air_spaces(section, painting);
  MovingAir moving = moving_air(section, painting, air);
  std::vector<double> start;
  if (before) {
    start_from(spaces, before->air, section.air_rule);
    moving.strength = strength_of(before->moving);
    start = carried_over(before->settled.grid, air, before->settled.field, lines.across, lines.depth);
  }
  Settled settled = moving.paths.empty()
                        ? settle(section, painting, air, spaces, options, std::move(start))
                        : settle(section, painting, air, spaces, moving, options, std::move(start));
  SurfaceProfile face = room_face(settled.grid, air, settled.field);
  const HeatFlows flows = heat_flows(settled.grid, air, settled.field);
  return {std::move(lines),
          std::move(painting),
          std::move(spaces),
          std::move(moving),
          std::move(settled),
          std::move(face),
          flows};
}

/// Where cells cost most: of conduction, and of what moving air carries.
StripErrors errors_of(const Solved& s, const Surroundings& air) {
  StripErrors errors = strip_errors(s.settled.grid, air, s.settled.field);
  if (s.moving.paths.empty()) return errors;
  const TemperatureRange range = range_of(s.settled.grid, air);
  const StripErrors carried = carried_errors(s.settled.grid, s.settled.field, s.moving, s.flows.passing(),
                                             range.warmest - range.coldest);
  for (std::size_t i = 0; i < errors.across.size(); ++i) errors.across[i] += carried.across[i];
  for (std::size_t k = 0; k < errors.depth.size(); ++k) errors.depth[k] += carried.depth[k];
  return errors;
}

Solved halved(const Section& section, const Surroundings& air, const Solved& s,
              const SolverOptions& options) {
  return solve_on(section, air, {bisected(s.lines.across), bisected(s.lines.depth)}, &s, options);
}

Refinement refinement(const Solved& s, bool nested) {
  return {s.settled.grid.cells(), s.flows.inside, s.face.celsius[coldest_place(s.face)], s.settled.rounds,
          nested};
}

/// Change of each cell of the room face when every cell is halved [K].
std::vector<double> face_changes(const SurfaceProfile& coarse, const SurfaceProfile& fine) {
  std::vector<double> changes;
  for (std::size_t i = 0; i < coarse.celsius.size(); ++i)
    changes.push_back(std::abs(0.5 * (fine.celsius[2 * i] + fine.celsius[2 * i + 1]) - coarse.celsius[i]));
  return changes;
}

/// The largest of them.
double face_change(const SurfaceProfile& coarse, const SurfaceProfile& fine) {
  const std::vector<double> changes = face_changes(coarse, fine);
  return *std::max_element(changes.begin(), changes.end());
}

double extreme_change(const SurfaceProfile& coarse, const SurfaceProfile& fine, bool reversed) {
  const auto extreme = [&](const SurfaceProfile& f) {
    return f.celsius[reversed ? warmest_place(f) : coldest_place(f)];
  };
  return extreme(fine) - extreme(coarse);
}

/// How far three nested answers still are from the truth; for the heat, through the room face or from what is
/// held, whichever is known worse.
struct Judged {
  Convergence heat, face, extreme;
  double surface() const { return std::max(face.uncertainty, extreme.uncertainty); }
};
Judged judge(const Solved& a, const Solved& b, const Solved& c, bool reversed) {
  const auto& mixed = c.settled.grid.mixed;
  const bool crossed =
      std::any_of(mixed.begin(), mixed.end(), [](const auto& m) { return !m.second.held.empty(); });
  const auto of = [order = crossed ? 1.0 : 2.0](double change_before, double last_change) {
    return convergence(change_before, last_change, order);
  };
  const Convergence face = of(b.flows.inside - a.flows.inside, c.flows.inside - b.flows.inside),
                    held = of(b.flows.held - a.flows.held, c.flows.held - b.flows.held);
  return {held.uncertainty > face.uncertainty ? held : face,
          of(face_change(a.face, b.face), face_change(b.face, c.face)),
          of(extreme_change(a.face, b.face, reversed), extreme_change(b.face, c.face, reversed))};
}

/// The small grid, every cell of it halved twice, and what follows of the finest.
struct Nested {
  Solved full;
  Judged judged;
  double change = 0.0;  ///< of the heat flow by the last halving, relative
  double excess = 0.0;  ///< the largest of what was reached over what is asked for
  /// Of the strips across of the small grid: how far the room face is from what is asked for. Empty where
  /// that is not what is missing.
  std::vector<double> face_excess;
  ThinSheets sheets;  ///< thinner than the cells of the middle grid
  std::vector<Refinement> log;
};

Nested twice_halved(const Section& section, const Surroundings& air, const Solved& small,
                    const Accuracy& accuracy, const SolverOptions& options, std::vector<Refinement> log) {
  const Solved half = halved(section, air, small, options);
  Nested n{halved(section, air, half, options), {}, 0.0, 0.0, {}, {}, std::move(log)};
  n.log.push_back(refinement(half, true));
  n.log.push_back(refinement(n.full, true));
  n.judged = judge(small, half, n.full, air.outside.temperature > air.inside.temperature);
  n.sheets = thin_sheets(half.settled.grid);
  const double size = n.full.flows.passing();
  // Nothing is known better than what is settled to, or than what the solver leaves.
  const TemperatureRange range = range_of(n.full.settled.grid, air);
  const bool loops = !n.full.moving.paths.empty();
  // The coldest point of a loop's foot lies in its steepest rise: that of the middle of the lowest cell,
  // which is another place on every grid, tells nothing of how well the face is known.
  if (loops) n.judged.extreme = n.judged.face;
  const double left = loops ? 0.5 * flows_settled : n.full.settled.rounds > 1 ? settled : 1e-9;
  n.judged.heat.uncertainty += left * size;
  n.judged.face.uncertainty += left * (range.warmest - range.coldest);
  n.judged.extreme.uncertainty += left * (range.warmest - range.coldest);
  n.change = std::max(std::abs(n.full.flows.inside - half.flows.inside),
                      std::abs(n.full.flows.held - half.flows.held)) /
             size;
  const double of_face = n.judged.surface() / accuracy.surface;
  n.excess = of_face;
  if (flow_is_unlimited(air)) return n;
  const double of_heat =
      std::max(n.judged.heat.uncertainty / size / accuracy.heat, n.change / doubling_allowed);
  n.excess = std::max(of_face, of_heat);
  if (of_face <= 1.0 || of_heat > 1.0) return n;
  const std::vector<double> changes = face_changes(half.face, n.full.face);
  const double most = *std::max_element(changes.begin(), changes.end());
  for (std::size_t i = 0; i + 1 < changes.size(); i += 2)
    n.face_excess.push_back(std::max(changes[i], changes[i + 1]) / most * of_face);
  return n;
}

/// More lines on the small grid: where a sheet is thinner than the cells, else where strips cost most, until
/// the estimate is down by what is missing; `at_face`, where the room face is what is missing, there. Leaves
/// the grid as it is where that would take more than `most` cells.
void refine(const Section& section, const Surroundings& air, Solved& small, const Nested& reached,
            double estimate, const Accuracy& accuracy, Index most, bool at_face, const SolverOptions& options,
            std::vector<Refinement>& log) {
  const auto solve_finer = [&](GridLines lines) {
    const Index cells = lines.across.cells() * lines.depth.cells();
    if (cells > most || cells == small.settled.grid.cells()) return false;
    small = solve_on(section, air, std::move(lines), &small, options);
    log.push_back(refinement(small, false));
    return true;
  };
  if (reached.sheets.matter()) {
    solve_finer(halved_at(small.lines, reached.sheets));
    return;
  }
  if (flow_is_unlimited(air)) {
    solve_finer({bisected(small.lines.across), bisected(small.lines.depth)});
    return;
  }
  if (at_face && !reached.face_excess.empty() &&
      solve_finer(refined_at_face(small.lines, reached.face_excess)))
    return;
  const double target =
      reached.excess <= 1.0 ? trusted * accuracy.heat : estimate / std::clamp(1.2 * reached.excess, 1.3, 8.0);
  for (StripErrors errors = errors_of(small, air); sum(errors) > target; errors = errors_of(small, air)) {
    // A strip halved keeps about a quarter of its error.
    const double share = (1.0 - target / sum(errors)) / 0.75;
    if (!solve_finer(refined(small.lines, errors, share)) &&
        !solve_finer(refined(small.lines, errors, 0.3 * share)))
      return;
  }
}

/// What people ask for, with how sure it is.
Forecast read_off(const Section& section, const Surroundings& air, std::optional<double> humidity, Nested n,
                  bool memory_ran_out) {
  Settled& settled = n.full.settled;
  Results results = read_results(section, air, humidity, settled.grid, settled.field);
  results.loop = loop_flow(n.full.moving, settled.grid);
  results.loop_left_out = air.gaps == AirInGaps::still && !n.full.moving.paths.empty();
  // They are those of conduction from cell to cell, and know nothing of what flows or of radiation past it.
  if (!n.full.moving.paths.empty()) results.limits.reset();
  results.warnings = warnings(section, n.full.painting, settled.grid, settled.field);
  results.flow_unlimited = flow_is_unlimited(air);
  if (n.sheets.matter())
    results.warnings.emplace_back(
        "a sheet that runs askew is thinner than the cells, though there are as many as are allowed: these "
        "numbers are not to be relied on");
  results.surface_uncertainty = n.judged.surface();
  results.heat_flow_uncertainty = n.judged.heat.uncertainty;
  if (results.u_value)
    results.u_value_uncertainty = n.judged.heat.uncertainty * std::abs(*results.u_value / results.heat_flow);
  return {air,
          std::move(settled.grid),
          std::move(settled.field),
          std::move(results),
          settled.last_change,
          std::move(n.log),
          n.judged.heat.order,
          n.change,
          n.excess <= 1.0 && !n.sheets.matter(),
          memory_ran_out,
          {}};
}

/// The loop itself is known to 1.5 % of U and 0.15 K of the face at 20 K (DEVELOPERS.md, "Validation"): a
/// grid much finer than that would say nothing more.
Accuracy where_air_loops(const Accuracy& asked, TemperatureRange range) {
  constexpr double heat = 3e-3, surface = 5e-3;  // of what passes; of the difference of temperature
  return {std::max(asked.heat, heat), std::max(asked.surface, surface * (range.warmest - range.coldest))};
}

}  // namespace

Forecast forecast(const Section& section, Surroundings air, std::optional<double> humidity,
                  const Accuracy& asked, const SolverOptions& options) {
  air = air_of(section, std::move(air));
  // 1. A few grid lines: one on every material edge, more near it. (Where the flow has no limit there is no
  //    refining towards it: then more lines, evenly.)
  const bool unlimited = flow_is_unlimited(air);
  const Index most_small = options.max_cells / 16;  // of a grid whose cells are to be halved twice
  Solved small =
      solve_on(section, air, grid_lines(section, unlimited ? 1.0 : 8.0, options.max_cells), nullptr, options);
  if (small.settled.grid.cells() > most_small)
    throw SolverError(fmt::format(
        "the coarsest grid that shows this section has {} cells, and halving them twice takes more "
        "than the {} that are allowed",
        small.settled.grid.cells(), options.max_cells));
  const Accuracy accuracy =
      small.moving.paths.empty() ? asked : where_air_loops(asked, range_of(small.settled.grid, air));
  std::vector<Refinement> log{refinement(small, false)};
  std::optional<Nested> reached;
  bool memory_ran_out = false;
  bool at_face = true;  // in turns: what bends the face may stand in it, or behind the lining
  while (true) {
    try {
      // 2. Every cell halved twice: how far does the grid still matter?
      reached = twice_halved(section, air, small, accuracy, options, log);
      const double conducted =
          unlimited ? 0.0 : sum(strip_errors(small.settled.grid, air, small.settled.field));
      const double estimate = unlimited ? 0.0 : sum(errors_of(small, air));
      const bool sound = !reached->sheets.matter() && conducted <= trusted * accuracy.heat;
      if (reached->excess <= 1.0 && sound) break;

      // 3. More lines where they are missed most: enough for what is missing, and a little more.
      const Index before = small.settled.grid.cells();
      refine(section, air, small, *reached, estimate, accuracy, most_small, at_face, options, log);
      at_face = !at_face;
      if (small.settled.grid.cells() == before) break;
    } catch (const std::bad_alloc&) {
      if (!reached) throw;
      memory_ran_out = true;
      break;
    }
  }

  // 4. Read off what people ask for.
  Forecast found = read_off(section, air, humidity, std::move(*reached), memory_ran_out);
  found.accuracy = accuracy;
  return found;
}

}  // namespace coldbay
