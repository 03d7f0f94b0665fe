#include "solver/forecast.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/air_cavities.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "solver/refinement/carried_over.hpp"
#include "solver/refinement/strip_errors.hpp"
#include "solver/refinement/uncertainty.hpp"
#include "solver/results/dew_point.hpp"
#include "solver/results/warnings.hpp"
#include "solver/settle.hpp"

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
  const double T_in = air.inside.temperature, T_out = air.outside.temperature, kelvin = T_in - T_out;
  r.flows = heat_flows(grid, air, field);
  r.heat_flow = r.flows.inside;
  r.profile = room_face(grid, air, field);
  const std::size_t coldest = coldest_place(r.profile);
  r.coldest = r.profile.celsius[coldest];
  r.coldest_at = r.profile.across[coldest];
  if (humidity) r.dew_point = dew_point(T_in, *humidity);
  r.extreme = r.coldest;
  r.extreme_at = r.coldest_at;
  if (kelvin == 0.0) return r;

  r.reversed = kelvin < 0.0;
  const std::size_t extreme = r.reversed ? warmest_place(r.profile) : coldest;
  r.extreme = r.profile.celsius[extreme];
  r.extreme_at = r.profile.across[extreme];
  r.temperature_factor = (r.extreme - T_out) / kelvin;
  if (air.left || air.right) return r;
  r.u_value = r.heat_flow / (section.width * kelvin);
  r.limits = limits(grid, air);
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

/// Half the sum of the magnitudes of the flows: the heat that passes.
double size_of(const HeatFlows& f) {
  return 0.5 * (std::abs(f.inside) + std::abs(f.outside) + std::abs(f.left) + std::abs(f.right));
}

/// Where refinement of the small grid begins to be worth two halvings: its own error is some ten times that
/// of the finest.
constexpr double first_target = 8.0;

/// A section solved on one grid.
struct Solved {
  GridLines lines;
  Painting painting;
  AirSpaces air;
  Settled settled;
  SurfaceProfile face;
  double heat_flow = 0.0;
};

/// Draws the section on the lines and solves div(k grad T) = 0 with the films inside and out until the air
/// spaces conduct as they do at the temperatures found: 2 to 8 rounds with air, one without. Begins where
/// `before`, a solve on lines of which these are a refinement, has ended.
Solved solve_on(const Section& section, const Surroundings& air, GridLines lines, const Solved* before,
                const SolverOptions& options) {
  Painting painting = paint(section, lines.across, lines.depth);
  AirSpaces spaces = find_air_spaces(section, painting);
  std::vector<double> start;
  if (before) {
    start_from(spaces, before->air, section.air_rule);
    start = carried_over(before->settled.grid, air, before->settled.field, lines.across, lines.depth);
  }
  Settled settled = settle(section, painting, air, spaces, options, std::move(start));
  SurfaceProfile face = room_face(settled.grid, air, settled.field);
  const double heat_flow = heat_flows(settled.grid, air, settled.field).inside;
  return {std::move(lines),   std::move(painting), std::move(spaces),
          std::move(settled), std::move(face),     heat_flow};
}

Solved halved(const Section& section, const Surroundings& air, const Solved& s,
              const SolverOptions& options) {
  return solve_on(section, air, {bisected(s.lines.across), bisected(s.lines.depth)}, &s, options);
}

Refinement refinement(const Solved& s, bool nested) {
  return {s.settled.grid.cells(), s.heat_flow, s.face.celsius[coldest_place(s.face)], s.settled.rounds,
          nested};
}

/// Largest change anywhere on the room face when every cell is halved [K].
double face_change(const SurfaceProfile& coarse, const SurfaceProfile& fine) {
  double most = 0.0;
  for (std::size_t i = 0; i < coarse.celsius.size(); ++i)
    most =
        std::max(most, std::abs(0.5 * (fine.celsius[2 * i] + fine.celsius[2 * i + 1]) - coarse.celsius[i]));
  return most;
}

double extreme_change(const SurfaceProfile& coarse, const SurfaceProfile& fine, bool reversed) {
  const auto extreme = [&](const SurfaceProfile& f) {
    return f.celsius[reversed ? warmest_place(f) : coldest_place(f)];
  };
  return extreme(fine) - extreme(coarse);
}

/// How far three nested answers still are from the truth.
struct Judged {
  Convergence heat, face, extreme;
  double surface() const { return std::max(face.uncertainty, extreme.uncertainty); }
};
Judged judge(const Solved& a, const Solved& b, const Solved& c, bool reversed) {
  return {convergence(b.heat_flow - a.heat_flow, c.heat_flow - b.heat_flow),
          convergence(face_change(a.face, b.face), face_change(b.face, c.face)),
          convergence(extreme_change(a.face, b.face, reversed), extreme_change(b.face, c.face, reversed))};
}

/// Halves strips where they cost most until the estimate is down to `target` of the heat flow.
void refine_to(double target, const Section& section, const Surroundings& air, Solved& s, Index max_cells,
               const SolverOptions& options, std::vector<Refinement>& log) {
  while (true) {
    const StripErrors errors = strip_errors(s.settled.grid, air, s.settled.field);
    if (sum(errors) <= target) return;
    // A strip halved keeps about a quarter of its error.
    GridLines lines = refined(s.lines, errors, (1.0 - target / sum(errors)) / 0.75);
    const Index cells = lines.across.cells() * lines.depth.cells();
    if (cells > max_cells || cells == s.settled.grid.cells()) return;
    s = solve_on(section, air, std::move(lines), &s, options);
    log.push_back(refinement(s, false));
  }
}

}  // namespace

Forecast forecast(const Section& section, const Surroundings& air, std::optional<double> humidity,
                  const Accuracy& accuracy, const SolverOptions& options) {
  constexpr Index twice_halved = 16;  // cells of the finest grid for each of the small one
  constexpr double doubling = 0.01;   // [ISO10211]: twice as many subdivisions change the flow by less
  const bool unlimited = flow_is_unlimited(air);
  const bool reversed = air.outside.temperature > air.inside.temperature;

  // 1. A few grid lines: one on every material edge, more near it.
  const Index most_small = options.max_cells / twice_halved;
  std::vector<Refinement> log;
  Solved small =
      solve_on(section, air, grid_lines(section, unlimited ? 1.0 : 8.0, most_small), nullptr, options);
  log.push_back(refinement(small, false));

  // 2. More lines where they are missed most, then every cell halved twice, until both bounds hold.
  double target = unlimited ? INFINITY : first_target * accuracy.heat;
  while (true) {
    refine_to(target, section, air, small, most_small, options, log);
    const Solved half = halved(section, air, small, options);
    Solved full = halved(section, air, half, options);
    log.push_back(refinement(half, true));
    log.push_back(refinement(full, true));

    // 3. How far the grid still matters.
    const Judged judged = judge(small, half, full, reversed);
    const double size = size_of(heat_flows(full.settled.grid, air, full.settled.field));
    const double change = std::abs(full.heat_flow - half.heat_flow) / size;
    const double excess =
        std::max({unlimited ? 0.0 : judged.heat.uncertainty / size / accuracy.heat,
                  unlimited ? 0.0 : change / doubling, judged.surface() / accuracy.surface});
    const Index cells = small.settled.grid.cells();
    if (excess > 1.0) {
      // Ask for what is missing, and a little more.
      if (!unlimited)
        target = std::min(target, sum(strip_errors(small.settled.grid, air, small.settled.field))) /
                 std::clamp(1.2 * excess, 1.3, 8.0);
      refine_to(target, section, air, small, most_small, options, log);
      if (unlimited && 4 * cells <= most_small) small = halved(section, air, small, options);
      if (small.settled.grid.cells() > cells) continue;
    }

    // 4. Read off what people ask for.
    Results results = read_results(section, air, humidity, full.settled.grid, full.settled.field);
    results.warnings = warnings(section, full.painting, full.settled.grid, full.settled.field);
    results.flow_unlimited = unlimited;
    results.surface_uncertainty = judged.surface();
    results.heat_flow_uncertainty = judged.heat.uncertainty;
    if (results.u_value)
      results.u_value_uncertainty = judged.heat.uncertainty * std::abs(*results.u_value / results.heat_flow);
    return {std::move(full.settled.grid),
            std::move(full.settled.field),
            std::move(results),
            full.settled.last_change,
            std::move(log),
            judged.heat.order,
            change,
            excess <= 1.0};
  }
}

}  // namespace coldbay
