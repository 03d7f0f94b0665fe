#include "tools/report/loop_json.hpp"

#include <nlohmann/json.hpp>

#include "tools/report/loop_rows.hpp"

namespace coldbay {
namespace {

using Json = nlohmann::ordered_json;

Json mark_json(const std::optional<LoopMark>& mark) {
  if (!mark) return nullptr;
  return {{"at", mark->at_top ? "top" : "bottom"},
          {"change_K", mark->change},
          {"change_at_m", mark->change_at},
          {"height_m", mark->height}};
}

Json face_json(const SurfaceProfile& face) { return {{"across_m", face.across}, {"celsius", face.celsius}}; }

}  // namespace

Json loop_json(const Outcome& outcome) {
  const Outcome& o = outcome;
  const LoopFlow& flow = *o.built.results.loop;
  const LoopEffect& e = *o.loop;
  const Results& still = o.still->results;
  Json out = {{"flow_m2_per_s", flow.flow},
              {"speed_m_per_s", flow.speed},
              {"reynolds", flow.reynolds},
              {"widest_gap_m", flow.widest},
              {"channel_law_holds", channel_law_holds(flow)}};
  out["loops"] = Json::array();
  for (const Loop& loop : flow.loops)
    out["loops"].push_back({{"up_m", {loop.up.from, loop.up.to}},
                            {"flow_m2_per_s", loop.flow},
                            {"speed_m_per_s", loop.speed},
                            {"reynolds", loop.reynolds}});
  out["extra_heat_W_per_m"] = e.extra;
  out["extra_heat_uncertainty_W_per_m"] = e.uncertainty;
  out["extra_heat_share"] = e.share;
  out["room_face"] = mark_json(e.room_face);
  out["outer_face"] = mark_json(e.outer_face);
  out["outside_surface"] = face_json(outer_face(o.built.grid, o.built.air, o.built.field));
  out["still_air"] = {
      {"u_value_W_per_m2K", still.u_value ? Json(*still.u_value) : Json(nullptr)},
      {"heat_flow_W_per_m", still.heat_flow},
      {"inside_surface_min_C", still.coldest},
      {"reached", o.still->reached},
      {"cells", o.still->grid.cells()},
      {"inside_surface", face_json(still.profile)},
      {"outside_surface", face_json(outer_face(o.still->grid, o.still->air, o.still->field))}};
  out["checked_against"] = loop_checked_against;
  return out;
}

}  // namespace coldbay
