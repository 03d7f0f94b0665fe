#include "tools/report/face_json.hpp"

#include <nlohmann/json.hpp>
#include <utility>

#include "solver/results/dew_point.hpp"
#include "solver/results/surface_humidity.hpp"
#include "tools/report/fault_words.hpp"
#include "tools/report/loop_estimate_json.hpp"
#include "tools/report/optional_json.hpp"

namespace coldbay {
namespace {

using Json = nlohmann::ordered_json;

Json point_json(const ColdestPoint& p) {
  return {{"celsius", p.celsius}, {"across_m", p.across}, {"up_m", p.up}};
}

Json below_json(const FaceMap& face, double threshold) {
  const AreaBelow below = area_below(face, threshold);
  return {{"threshold_C", threshold}, {"area_below_m2", below.area}, {"share_below", below.share}};
}

Json wall_json(const Case& c, const WallFace& f) {
  Json out = {{"u_value_W_per_m2K", optional_json(f.u_value)},
              {"heat_from_room_W", f.heat_flow},
              {"heat_to_outside_W", f.heat_to_outside},
              {"heat_from_held_W", f.heat_from_held},
              {"heat_uncertainty_W", f.heat_flow_uncertainty},
              {"surface_uncertainty_K", f.uncertainty},
              {"coldest", point_json(coldest_point(f.room))},
              {"cells", f.cells},
              {"iterations", f.report.iterations},
              {"relative_residual", f.report.relative_residual},
              {"heat_imbalance", f.report.heat_imbalance},
              {"reached", f.reached},
              {"warnings", f.warnings}};
  out["parts"] = Json::array();
  for (const KnownPart& part : f.parts)
    out["parts"].push_back({{"across_m", {part.own.from, part.own.to}},
                            {"surface_uncertainty_K", part.uncertainty},
                            {"least_known_at_m", {part.worst_across, part.worst_up}},
                            {"reached", part.reached}});
  if (f.sheathing) out["behind_the_frame"]["coldest"] = point_json(coldest_point(*f.sheathing));
  if (!c.humidity) return out;
  const double room = c.air.inside.temperature, dew = dew_point(room, *c.humidity);
  out["dew_point"] = below_json(f.room, dew);
  out["mould"] = below_json(f.room, critical_surface_temperature(room, *c.humidity));
  if (f.sheathing) out["behind_the_frame"]["dew_point"] = below_json(*f.sheathing, dew);
  return out;
}

}  // namespace

std::string face_json(const Case& c, const WallFaces& faces, const std::optional<WholeWall>& sections,
                      const Provenance& provenance) {
  Json out = {{"program", "coldbay"},
              {"version", version()},
              {"case", provenance.case_file},
              {"sha256", provenance.sha256}};
  if (!provenance.materials_file.empty())
    out["materials_file"] = {{"name", provenance.materials_file}, {"sha256", provenance.materials_sha256}};
  out["title"] = c.title;
  out["as_built"] = wall_json(c, faces.built);
  if (faces.still)
    out["as_built_with_still_air"] = {
        {"heat_W", faces.still->heat_flow},
        {"u_value_W_per_m2K", faces.still->u_value ? Json(*faces.still->u_value) : Json(nullptr)},
        {"loops_checked_against", "a flow solution, not yet a measured wall"}};
  out["built_right"] = faces.right ? wall_json(c, *faces.right) : Json(nullptr);
  out["not_compared"] = faces.not_compared;
  out["bays"] = Json::array();
  for (const BayCost& bay : faces.costs)
    out["bays"].push_back(
        {{"name", bay.bay},
         {"faults", names_of(bay.faults)},
         {"extra_W_per_K", bay.extra},
         {"extra_uncertainty_W_per_K", bay.uncertainty},
         {"extra_share", bay.share},
         {"extra_by_sections_W_per_K",
          sections && bay.in_some_section ? Json(sections->bays[bay.index]) : Json(nullptr)},
         {"furthest_K", bay.furthest},
         {"furthest_across_m", bay.furthest_across},
         {"furthest_up_m", bay.furthest_up}});
  out["air_loops"] = Json::array();
  for (std::size_t b = 0; b < faces.loops.size(); ++b) {
    if (!faces.loops[b]) continue;
    Json loop = {{"name", faces.wall.bays[b].name}};
    loop.update(loop_json(*faces.loops[b]));
    out["air_loops"].push_back(std::move(loop));
  }
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace coldbay
