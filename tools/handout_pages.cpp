#include "tools/handout_pages.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "materials/model_error.hpp"
#include "tools/case_camera.hpp"

namespace coldbay {
namespace {

/// Below this nothing per kelvin comes of a face (solver/results/normal_pattern.hpp) [K].
constexpr double least_difference_of_airs = 1.0;

std::optional<BaySection> section_of(const Wall& wall, const Wall& right, std::size_t bay,
                                     const std::vector<Fault>& faults) {
  try {
    return bay_section(wall, right, bay, faults);
  } catch (const ModelError&) {  // an opening without a U-value: the face is known, and no section
    return std::nullopt;
  }
}

/// Bays that a reader describes alike, between posts of one kind, are alike.
bool alike(const HandoutWall& wall, std::size_t a, std::size_t b) {
  const BayPlace &one = wall.faces.wall.bays[a], &other = wall.faces.wall.bays[b];
  constexpr double rounding = 1e-9;  // [m]
  return one.label == other.label && wall.faces.faults[a] == wall.faces.faults[b] &&
         std::abs(one.clear.length() - other.clear.length()) < rounding;
}

void add_cost(const WallFaces& faces, FaultPage& page) {
  for (const BayCost& cost : faces.costs)
    if (cost.index == page.bays.front()) page.cost = cost;
}

/// How each page's bay shows in the camera.
void add_sight(HandoutWall& wall, const FacePair& pair) {
  std::vector<FaceRegion> regions;
  for (const FaultPage& page : wall.pages) {
    const BayPlace& bay = wall.faces.wall.bays[page.bays.front()];
    regions.push_back({bay.name, bay.across, {0.0, wall.faces.wall.height}});
  }
  const std::vector<Visibility> seen = visibility(pair, regions, wall.sight, *wall.normal);
  for (std::size_t i = 0; i < seen.size(); ++i) wall.pages[i].seen = seen[i];
}

}  // namespace

bool costlier(const FaultPage& a, const FaultPage& b) {
  const auto heat = [](const FaultPage& p) {
    return p.cost ? std::abs(p.cost->extra) * static_cast<double>(p.bays.size()) : 0.0;
  };
  if (heat(a) != heat(b)) return heat(a) > heat(b);
  return std::abs(a.furthest.kelvin) > std::abs(b.furthest.kelvin);
}

HandoutWall handout_wall(Case c, Provenance provenance, std::size_t number, const FaceAccuracy& accuracy,
                         const std::function<void(const std::string&)>& progress) {
  WallFaces faces = solve_faces(c, accuracy, progress);
  HandoutWall wall{
      fmt::format("wall-{}", number), std::move(c), std::move(provenance), std::move(faces), {}, {}, {}};
  wall.sight = sight_of(wall.c, wall.faces.built.room);
  const Wall right = built_right(*wall.c.wall);
  for (std::size_t b = 0; b < wall.faces.faults.size(); ++b) {
    if (wall.faces.faults[b].empty()) continue;
    const auto same = std::find_if(wall.pages.begin(), wall.pages.end(),
                                   [&](const FaultPage& page) { return alike(wall, page.bays.front(), b); });
    if (same != wall.pages.end()) {
      same->bays.push_back(b);
      continue;
    }
    FaultPage page;
    page.id = fmt::format("{}-bay-{}", wall.id, b + 1);
    page.bays = {b};
    page.faults = wall.faces.faults[b];
    page.section = section_of(*wall.c.wall, right, b, page.faults);
    page.furthest =
        furthest_apart(wall.faces.built.room, wall.faces.right->room, wall.faces.wall.bays[b].clear);
    add_cost(wall.faces, page);
    wall.pages.push_back(std::move(page));
  }
  const double difference = wall.c.air.inside.temperature - wall.c.air.outside.temperature;
  if (std::abs(difference) >= least_difference_of_airs) {
    const FacePair pair = face_pair(wall.c, wall.faces);
    wall.normal = normal_pattern(pair, wall.faces.wall);
    add_sight(wall, pair);
  }
  std::stable_sort(wall.pages.begin(), wall.pages.end(), costlier);
  return wall;
}

}  // namespace coldbay
