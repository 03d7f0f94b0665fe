#include "tools/outlook.hpp"

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

#include "geometry/air_cavities.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "solver/results/settling_time.hpp"
#include "tools/case_camera.hpp"
#include "tools/report/fault_words.hpp"
#include "tools/report/files.hpp"
#include "tools/report/loop_rows.hpp"
#include "tools/report/loop_text.hpp"
#include "tools/report/outlook.hpp"
#include "tools/report/outlook_json.hpp"
#include "tools/report/outlook_text.hpp"
#include "tools/wall_faces.hpp"

namespace coldbay {
namespace {

/// How long the slowest section takes to come within 5 % of a change outside. Of a plain grid: a wall's
/// slowest part is smooth, and hours are not told to the minute.
struct Settles {
  double hours = 0.0;
  std::vector<std::string> unknown;  ///< materials without density or specific heat
};
Settles settles(const Case& c) {
  Settles slowest;
  for (const Section& section : c.sections) {
    const GridLines lines = grid_lines(section, 4.0, SolverOptions{}.max_cells);
    const Painting painting = paint(section, lines.across, lines.depth);
    const ConductivityGrid grid = conductivity_grid(section, painting, find_air_spaces(section, painting));
    const HeatCapacities capacities = heat_capacities(section, painting);
    const SettlingTime time = settling_time(grid, air_of(section, c.air), capacities.per_cell);
    constexpr double left = 0.05;
    slowest.hours = std::max(slowest.hours, time.to_within(left) / 3600.0);
    for (const std::string& name : capacities.unknown)
      if (std::find(slowest.unknown.begin(), slowest.unknown.end(), name) == slowest.unknown.end())
        slowest.unknown.push_back(name);
  }
  return slowest;
}

/// Masonry outside of the frame: 50 mm or more of something heavier than 1200 kg/m3 (common practice, no
/// source).
bool heavy_outside(const Wall& wall) {
  bool outside = false, heavy = false;
  for (const Layer& layer : wall.layers) {
    if (outside) heavy = heavy || (layer.thickness >= 0.05 && layer.material.density.value_or(0.0) > 1200.0);
    outside = outside || layer.is_frame;
  }
  return heavy;
}

/// Of the wall as a whole; where pipes give or take heat, by what it loses to the outside.
double u_of(const WallFaces& faces, double difference) {
  const double area = faces.built.room.across.length() * faces.built.room.up.length();
  return faces.built.u_value.value_or(std::abs(faces.built.heat_to_outside / (area * difference)));
}

/// Fault by fault: a bay's rectangle, plates and half of either post with it.
std::vector<OutlookFault> faults_of_wall(const WallFaces& faces, const FacePair& pair, const Sight& sight,
                                         const NormalPattern& normal) {
  std::vector<FaceRegion> regions;
  std::vector<std::string> what;
  for (std::size_t b = 0; b < faces.faults.size(); ++b) {
    if (faces.faults[b].empty()) continue;
    const BayPlace& bay = faces.wall.bays[b];
    regions.push_back({bay.name, bay.across, {0.0, faces.wall.height}});
    what.push_back(names_of(faces.faults[b]));
  }
  const std::vector<Visibility> seen = visibility(pair, regions, sight, normal);
  std::vector<OutlookFault> all;
  all.reserve(seen.size());
  for (std::size_t i = 0; i < seen.size(); ++i) all.push_back({what[i], seen[i]});
  return all;
}

}  // namespace

bool outlook(const SourceText& source, const MaterialsFile& materials,
             const std::optional<NamedWeather>& weather, const std::optional<std::filesystem::path>& out,
             double within) {
  // 1. Read the case: it needs a wall, for a section has no face.
  const Case c = read_wall_case(source, materials.library);

  // 2. Solve its face as built and built right: what differs is what there is to see.
  const WallFaces faces = solve_faces(c, {within}, show_progress);
  show_progress("");
  const FacePair pair = face_pair(c, faces);

  // 3. What is normal, and how each fault shows in the camera.
  Outlook o;
  o.units = c.units;
  o.title = c.title;
  o.difference = c.air.inside.temperature - c.air.outside.temperature;
  o.sight = sight_of(c, faces.built.room);
  o.normal = normal_pattern(pair, faces.wall);
  o.faults = faults_of_wall(faces, pair, o.sight, o.normal);
  o.not_compared = faces.not_compared;

  // 4. When to go: the wall must have settled, and the weather must be what the rules ask for.
  const Settles time = settles(c);
  o.wall = {c.air.inside.temperature, u_of(faces, o.difference), static_cast<int>(std::ceil(time.hours)),
            heavy_outside(*c.wall)};
  o.without_capacity = time.unknown;
  for (const std::string_view note : notes_of(faces.faults)) o.notes.emplace_back(note);
  for (const std::string& line : loop_lines(faces.loops, c.units))
    o.notes.push_back(fmt::format("{} ({})", line, loop_checked_against));
  o.warnings = faces.built.warnings;
  if (weather)
    o.weather = {weather->name, weather->file.weather,
                 mornings(weather->file.weather, survey_rules(), o.wall)};

  if (out) {
    nlohmann::ordered_json json = {{"program", "coldbay"}, {"version", version()}};
    const Provenance provenance = provenance_of(source, materials);
    json["case"] = provenance.case_file;
    json["sha256"] = provenance.sha256;
    json.update(outlook_json(o));
    const std::string text =
        json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
    write_all(*out, {{"outlook.json", {text.begin(), text.end()}}}, is_ours);
    fmt::print(stderr, "wrote {}\n", (*out / "outlook.json").string());
  }
  fmt::print("{}", outlook_text(o));
  return faces.built.reached && (!faces.right || faces.right->reached);
}

}  // namespace coldbay
