#include <nlohmann/json.hpp>

#include "tools/report/result_json.hpp"
#include "tools/report/side_by_side_text.hpp"

namespace coldbay {
namespace {

using Json = nlohmann::ordered_json;

/// NAME, and NAME_uncertainty with the unit of a difference.
void add(Json& out, const std::string& name, const std::string& unit, const std::string& of_difference,
         const std::optional<Sure>& sure) {
  out[name + unit] = sure ? Json(sure->value) : Json(nullptr);
  out[name + "_uncertainty" + of_difference] = sure ? Json(sure->within) : Json(nullptr);
}

Json section_json(const SideSection& s) {
  Json out = {{"section", s.name}};
  add(out, "u_value", "_W_per_m2K", "_W_per_m2K", s.u);
  out["r_value_m2K_per_W"] = s.u ? Json(1.0 / s.u->value) : Json(nullptr);
  add(out, "heat_flow", "_W_per_m", "_W_per_m", s.heat);
  add(out, "inside_surface_min", "_C", "_K", s.coldest);
  add(out, "temperature_factor", "", "", s.factor);
  return out;
}

Json case_json(const SideBySide& all, std::size_t i) {
  const SideCase& c = all.cases[i];
  Json out = {{"rank", all.ranks[i]},         {"case", c.name},         {"title", c.title},
              {"sha256", c.sha256},           {"room_air_C", c.inside}, {"outside_air_C", c.outside},
              {"accuracy_reached", c.reached}};
  add(out, "whole_wall_u_value", "_W_per_m2K", "_W_per_m2K", c.wall_u);
  out["workmanship_W_per_K"] = c.extra ? Json(*c.extra) : Json(nullptr);
  Json sections = Json::array();
  for (const SideSection& s : c.sections) sections.push_back(section_json(s));
  out["sections"] = std::move(sections);
  return out;
}

}  // namespace

std::string side_by_side_json(const SideBySide& all) {
  Json out = {{"program", "coldbay"}, {"version", version()}};
  out["ranked_by"] = all.by == RankedBy::wall_u      ? "whole_wall_u_value_W_per_m2K"
                     : all.by == RankedBy::section_u ? "u_value_W_per_m2K"
                                                     : "heat_flow_W_per_m";
  out["same_airs"] = all.same_airs;
  Json cases = Json::array(), pairs = Json::array();
  for (std::size_t i = 0; i < all.cases.size(); ++i) {
    cases.push_back(case_json(all, i));
    for (std::size_t j = i + 1; j < all.cases.size(); ++j) {
      const SureDifference d = difference_of(ranked_value(all, j), ranked_value(all, i));
      pairs.push_back({{"case", all.cases[j].name},
                       {"less", all.cases[i].name},
                       {"difference", d.value},
                       {"uncertainty", d.within},
                       {"equal", d.equal}});
    }
  }
  out["cases"] = std::move(cases);
  out["differences"] = std::move(pairs);
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace coldbay
