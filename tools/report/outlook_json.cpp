#include "tools/report/outlook_json.hpp"

#include <cmath>

#include "tools/report/mornings_words.hpp"
#include "tools/report/optional_json.hpp"

namespace coldbay {
namespace {

using Json = nlohmann::ordered_json;

/// JSON knows no infinity.
Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

const char* key_of(Showing showing) {
  switch (showing) {
    case Showing::shows:
      return "shows";
    case Showing::too_small:
      return "too small";
    case Showing::unsure:
      return "unsure";
    case Showing::too_weak:
      break;
  }
  return "too weak";
}

Json fault_json(const Outlook& o, const OutlookFault& fault) {
  const Visibility& v = fault.seen;
  Json out = {{"name", v.name},
              {"what", fault.what},
              {"contrast_K_per_K", v.per_kelvin},
              {"seen_contrast_K_per_K", v.seen_per_kelvin},
              {"at_m", Json::array({v.across, v.up})},
              {"size_m", Json::array({v.width, v.height})},
              {"area_m2", v.area},
              {"showing", key_of(v.showing)},
              {"needed_difference_K", finite(v.needed)},
              {"come_within_m", optional_json(v.come_within)},
              {"times_stud_contrast", optional_json(v.of_studs)},
              {"stands_out", v.stands_out},
              {"shows_at_10_K", shows_at(v, standard_difference)}};
  out["shows_at_least_of_rules"] = Json::object();
  const auto rules = survey_rules();
  for (std::size_t r = 0; r < rules.size(); ++r)
    out["shows_at_least_of_rules"][letter_of(r)] = shows_at(v, least_difference(rules[r], o.wall));
  if (o.weather) out["mornings"] = mornings_showing(o.weather->mornings, v);
  return out;
}

Json words_json(const std::vector<Against>& all) {
  Json out = Json::array();
  for (const Against a : all) out.push_back(words_of(a));
  return out;
}

Json rules_json(const Outlook& o) {
  Json out = Json::array();
  const auto rules = survey_rules();
  for (std::size_t r = 0; r < rules.size(); ++r)
    out.push_back({{"letter", letter_of(r)},
                   {"name", rules[r].name},
                   {"source", rules[r].source},
                   {"least_difference_K", least_difference(rules[r], o.wall)},
                   {"mornings", mornings_under(o.weather->mornings, r)},
                   {"not_judged", words_json(not_judged(o.weather->weather, rules[r]))}});
  return out;
}

Json morning_json(const Outlook& o, const Morning& m) {
  Json out = {{"date", iso_day(m.day)}, {"rules", Json::array()}};
  for (const std::size_t r : m.rules) out["rules"].push_back(letter_of(r));
  if (m.rules.empty()) {
    out["against"] = words_json(m.against);
    return out;
  }
  const auto of_day = [&](std::size_t i) { return o.weather->weather.hour_at(i) - 24 * m.day; };
  out["hours"] = Json::array({of_day(m.window.first), of_day(m.window.last) + 1});
  out["difference_K"] = Json::array({m.window.least, m.window.most});
  out["lasting_difference_K"] = m.window.lasting;
  out["hours_by_rule"] = Json::object();
  for (std::size_t r = 0; r < m.by_rule.size(); ++r)
    if (m.by_rule[r])
      out["hours_by_rule"][letter_of(r)] =
          Json::array({of_day(m.by_rule[r]->first), of_day(m.by_rule[r]->last) + 1});
  out["shows"] = Json::array();
  for (const OutlookFault& fault : o.faults)
    if (shows_at(fault.seen, m.window.lasting)) out["shows"].push_back(fault.seen.name);
  return out;
}

}  // namespace

Json outlook_json(const Outlook& o) {
  Json out = {{"camera",
               {{"distance_m", o.sight.distance},
                {"pixel_m", o.sight.pixel},
                {"blur_m", o.sight.blur},
                {"noise_K", o.sight.noise},
                {"emissivity", o.sight.emissivity},
                {"reflected_C", o.sight.reflected}}},
              {"settling_h", o.wall.settling},
              {"normal",
               {{"stud_less_bay_K_per_K", optional_json(o.normal.studs)},
                {"plate_less_bay_K_per_K", optional_json(o.normal.plates)},
                {"floor_plate_less_bay_K_per_K", optional_json(o.normal.floor_plates)},
                {"top_plate_less_bay_K_per_K", optional_json(o.normal.top_plates)},
                {"bays_apart_K_per_K", o.normal.bays_apart},
                {"bays", o.normal.bays}}}};
  out["not_compared"] = o.not_compared;
  out["faults"] = Json::array();
  for (const OutlookFault& fault : o.faults) out["faults"].push_back(fault_json(o, fault));
  out["notes"] = o.notes;
  out["warnings"] = o.warnings;
  if (!o.weather) return out;
  out["rules"] = rules_json(o);
  out["mornings"] = Json::array();
  for (const Morning& m : o.weather->mornings) out["mornings"].push_back(morning_json(o, m));
  return out;
}

}  // namespace coldbay
