#include "tools/wall_faces.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

#include "geometry/wall/build.hpp"
#include "solver/results/face_sums.hpp"
#include "tools/whole_wall.hpp"

namespace coldbay {
namespace {

/// Heat from the room into a stretch of the wall, floor to top [W].
double heat_into(const WallFace& face, Span across) {
  const Axis& up = face.room.up;
  const Span height{up.edges().front(), up.edges().back()};
  const FaceSums flux = face_sums({face.room.across, up, face.heat_flux_room});
  return mean_on(flux, across, height) * across.length() * height.length();
}

/// How far the heat into a stretch may be off [W]: the share of each part that lies in it.
double heat_within(const WallFace& face, Span across) {
  double sum = 0.0;
  for (const KnownPart& part : face.parts) {
    const double both = std::min(part.own.to, across.to) - std::max(part.own.from, across.from);
    sum += std::max(0.0, both / part.own.length()) * part.heat_uncertainty;
  }
  return sum;
}

/// True where a section of the case shows something wrong with a bay.
bool in_some_section(const Case& c, std::size_t bay) {
  return std::any_of(c.seen.begin(), c.seen.end(),
                     [bay](const std::vector<std::vector<Fault>>& section) { return !section[bay].empty(); });
}

std::vector<BayCost> costs_of(const Case& c, const WallFaces& faces, double kelvin) {
  std::vector<BayCost> all;
  for (std::size_t b = 0; b < faces.faults.size(); ++b) {
    if (faces.faults[b].empty()) continue;
    const BayPlace& bay = faces.wall.bays[b];
    const Span columns = columns_of(faces.faults, faces.wall, b);
    const double extra = heat_into(faces.built, columns) - heat_into(*faces.right, columns);
    BayCost cost{b,
                 bay.name,
                 faces.faults[b],
                 in_some_section(c, b),
                 extra / kelvin,
                 (heat_within(faces.built, columns) + heat_within(*faces.right, columns)) / std::abs(kelvin),
                 extra / heat_into(*faces.right, bay.across)};
    const Furthest furthest = furthest_apart(faces.built.room, faces.right->room, bay.across);
    cost.furthest = furthest.kelvin;
    cost.furthest_across = furthest.across;
    cost.furthest_up = furthest.up;
    all.push_back(std::move(cost));
  }
  return all;
}

}  // namespace

Furthest furthest_apart(const FaceMap& built, const FaceMap& right, Span across) {
  Furthest most;
  for (Index j = 0; j < built.up.cells(); ++j)
    for (Index i = 0; i < built.across.cells(); ++i) {
      const double x = built.across.centre(i), y = built.up.centre(j);
      if (x < across.from || x > across.to) continue;
      const double difference = built.at(i, j) - temperature_on(right, x, y);
      if (std::abs(difference) > std::abs(most.kelvin)) most = {difference, x, y};
    }
  return most;
}

Case read_wall_case(const SourceText& source, const Library& library) {
  Case c = read_case(source, library);
  if (!c.wall)
    throw InputErrors({{{},
                        "this case draws one section, and only a wall has a face",
                        "describe a wall, or use 'coldbay predict'",
                        ""}});
  for (const InputError& warning : c.warnings) fmt::print(stderr, "{}", render(warning, source, "warning"));
  return c;
}

WallFaces solve_faces(const Case& c, const FaceAccuracy& accuracy,
                      const std::function<void(const std::string&)>& progress) {
  const Wall& wall = *c.wall;
  std::vector<std::vector<Fault>> faults = faults_of(wall);
  std::vector<BuiltWall> walls{build(wall)};
  std::vector<std::string> not_compared;
  for (const std::size_t b : without_right_way(wall)) {
    faults[b].clear();
    not_compared.push_back(walls[0].bays[b].name);
  }
  const bool wrong =
      std::any_of(faults.begin(), faults.end(), [](const std::vector<Fault>& bay) { return !bay.empty(); });
  if (wrong) walls.push_back(build(built_right(wall)));
  progress(wrong ? "solving the face of the wall, as built and built right" : "solving the face of the wall");
  std::vector<WallFace> solved = wall_faces(walls, c.air, accuracy);
  WallFaces faces{
      std::move(walls[0]), std::move(faults), std::move(not_compared), std::move(solved[0]), {}, {}};
  if (wrong) faces.right = std::move(solved[1]);
  faces.loops = estimate_loops(wall, c.air, c.gap_tolerance);
  if (std::any_of(faces.built.parts.begin(), faces.built.parts.end(),
                  [](const KnownPart& part) { return part.loops; })) {
    progress("solving the face of the wall with still air");
    Surroundings still = c.air;
    still.gaps = AirInGaps::still;
    faces.still = wall_face(faces.wall, still, accuracy);
  }
  if (!wrong) return faces;
  const double kelvin = mean_room_temperature(c.air, {0.0, wall.height}) - c.air.outside.temperature;
  if (faces.built.u_value && kelvin != 0.0) faces.costs = costs_of(c, faces, kelvin);
  return faces;
}

FaceMap before_even_air(FaceMap face, const Surroundings& air) {
  for (Index j = 0; j < face.up.cells(); ++j) {
    const double warmer = room_temperature(air, face.up.centre(j)) - air.inside.temperature;
    for (Index i = 0; i < face.across.cells(); ++i)
      face.celsius[static_cast<std::size_t>(i + face.across.cells() * j)] -= warmer;
  }
  return face;
}

FacePair face_pair(const Case& c, const WallFaces& faces) {
  const WallFace& right = faces.right ? *faces.right : faces.built;
  return {before_even_air(faces.built.room, c.air), before_even_air(right.room, c.air),
          c.air.inside.temperature, c.air.outside.temperature,
          std::max(faces.built.uncertainty, right.uncertainty)};
}

}  // namespace coldbay
