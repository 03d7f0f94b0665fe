#include "solver/forecast.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/air_cavities.hpp"
#include "geometry/rasterise.hpp"
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

}  // namespace

Forecast forecast(const Section& section, const Surroundings& air, std::optional<double> humidity,
                  GridDensity density, const SolverOptions& options) {
  // 1. Grid lines on every material edge, dense where heat turns.
  const GridLines lines = grid_lines(section, density, options.max_cells);

  // 2. Draw the section on them and on their halves, and find its air spaces.
  const Painting coarse = paint(section, lines.across, lines.depth);
  const Painting fine = paint(section, bisected(lines.across), bisected(lines.depth));
  AirSpaces coarse_air = find_air_spaces(section, coarse), fine_air = find_air_spaces(section, fine);

  // 3. Solve div(k grad T) = 0 with the films inside and out, on both, until the air spaces conduct as
  //    they do at the temperatures found. Expect 5 to 8 rounds with air, one without.
  const Settled half = settle(section, coarse, air, coarse_air, options);
  start_from(fine_air, coarse_air, section.air_rule);
  Settled full = settle(section, fine, air, fine_air, options);

  // 4. Read off what people ask for, and how far the grid still matters.
  const Results before = read_results(section, air, humidity, half.grid, half.field);
  Results results = read_results(section, air, humidity, full.grid, full.field);
  results.warnings = warnings(section, fine, full.grid, full.field);
  results.coldest_uncertainty = std::abs(results.coldest - before.coldest);
  results.heat_flow_uncertainty = std::abs(results.heat_flow - before.heat_flow);
  if (results.u_value) results.u_value_uncertainty = std::abs(*results.u_value - *before.u_value);

  return {std::move(full.grid), std::move(full.field), std::move(results), full.rounds,
          full.last_change,     before.u_value,        half.grid.cells()};
}

}  // namespace coldbay
