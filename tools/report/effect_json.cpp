#include "tools/report/effect_json.hpp"

#include <nlohmann/json.hpp>

#include "tools/report/fault_words.hpp"
#include "tools/report/loop_estimate_json.hpp"

namespace coldbay {
namespace {

using Json = nlohmann::ordered_json;

Json filling_json(const Filling& f) {
  return {{"area_m2", f.area},
          {"nothing", f.nothing},
          {"incomplete", f.incomplete},
          {"compressed", f.compressed}};
}

}  // namespace

Json effect_json(const Outcome& outcome) {
  const Outcome& o = outcome;
  const Effect& e = *o.effect;
  Json out = {{"extra_heat_W_per_m", e.extra},
              {"extra_heat_uncertainty_W_per_m", e.uncertainty},
              {"extra_heat_share", e.share},
              {"u_value_change_W_per_m2K", e.of_u ? Json(*e.of_u) : Json(nullptr)},
              {"extra_heat_W_per_mK", e.per_kelvin},
              {"stands_for_m", e.stands_for},
              {"extra_heat_W_per_K", e.per_kelvin * e.stands_for},
              {"inside_surface_change_K", e.surface},
              {"inside_surface_change_at_m", e.surface_at}};
  const Results& right = o.right->results;
  out["built_right"] = {{"u_value_W_per_m2K", right.u_value ? Json(*right.u_value) : Json(nullptr)},
                        {"heat_flow_W_per_m", right.heat_flow},
                        {"inside_surface_min_C", right.coldest},
                        {"cells", o.right->grid.cells()}};
  out["bays"] = Json::array();
  for (const PartEffect& p : e.parts)
    out["bays"].push_back({{"name", p.name}, {"extra_heat_W_per_m", p.extra}, {"extra_heat_share", p.share}});
  return out;
}

Json scraps_json(const Outcome& outcome) {
  Json all = Json::array();
  for (const ScrapsRange& range : outcome.scraps)
    all.push_back({{"name", range.bay}, {"extra_heat_share_by_stuffing", range.shares}});
  return all;
}

Json wall_json(const Case& c, const Outcomes& outcomes) {
  const Outcomes& all = outcomes;
  const Measured& m = *all.measured;
  Json out = {{"area_m2", m.area}, {"framing_share", m.framing}};
  if (all.wall) {
    out["u_value_W_per_m2K"] = all.wall->u_built;
    out["u_value_built_right_W_per_m2K"] = all.wall->u_right;
    out["extra_heat_W_per_K"] = all.wall->extra;
    out["in_no_section"] = Json::array();
    for (const WholeWall::Unseen& unseen : all.wall->unseen)
      out["in_no_section"].push_back({{"name", unseen.bay}, {"share_of_height", unseen.share}});
  }
  out["filling"] = filling_json(m.all);
  const auto faults = faults_of(*c.wall);
  out["bays"] = Json::array();
  for (std::size_t b = 0; b < faults.size(); ++b) {
    Json bay = {{"name", "bay " + std::to_string(b + 1)}, {"holds", c.wall->bays[b].label}};
    bay["wrong"] = Json::array();
    for (const Fault f : faults[b])
      bay["wrong"].push_back({{"what", words_of(f).name}, {"right", words_of(f).right}});
    bay["filling"] = filling_json(m.bays[b]);
    if (all.loops[b]) bay["loop"] = loop_json(*all.loops[b]);
    out["bays"].push_back(std::move(bay));
  }
  return out;
}

}  // namespace coldbay
