#include "tools/report/result_json.hpp"

#include <fmt/chrono.h>
#include <fmt/core.h>
#include <sodium/crypto_hash_sha256.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdlib>
#include <cstring>
#include <nlohmann/json.hpp>
#include <vector>

#include "tools/report/amounts.hpp"
#include "tools/report/cut_words.hpp"
#include "tools/report/effect_json.hpp"
#include "tools/report/loop_json.hpp"
#include "tools/report/optional_json.hpp"

namespace coldbay {
namespace {

using Json = nlohmann::ordered_json;

Json span_json(Span s) { return Json::array({s.from, s.to}); }

/// How a section of a wall lies, and how much of the wall it stands for.
void add_cut(Json& out, const Section& section) {
  if (section.cut == CutKind::drawn) return;
  out["cut"] = section.cut == CutKind::vertical ? "vertical" : "plan";
  out["stands_for_m"] = Json::array();
  for (const Span& stretch : section.stands_for) out["stands_for_m"].push_back(span_json(stretch));
  out["stands_of_m"] = section.stands_of > 0.0 ? Json(section.stands_of) : Json(nullptr);
}

Json probes_json(const Section& section, const Forecast& f) {
  Json probes = Json::object();
  for (const Probe& p : section.probes) probes[p.name] = temperature_at(f.grid, f.air, f.field, p.at);
  return probes;
}

Json parts_json(const Results& r) {
  Json parts = Json::array();
  for (const PartResult& p : r.parts)
    parts.push_back({{"name", p.name},
                     {"holds", p.label},
                     {"across_m", span_json(p.across)},
                     {"u_value_W_per_m2K", p.u_value},
                     {"inside_surface_extreme_C", p.extreme},
                     {"inside_surface_extreme_at_m", p.extreme_at},
                     {"inside_surface_mean_C", p.mean_surface}});
  return parts;
}

Json cavities_json(const ConductivityGrid& grid) {
  Json cavities = Json::array();
  for (const AirCavity& a : grid.cavities)
    cavities.push_back({{"across_m", span_json(a.across)},
                        {"depth_m", span_json(a.depth)},
                        {"heat_goes", a.heat_goes == Direction::depth ? "depth" : "across"},
                        {"mean_temperature_C", a.outward.mean_temperature},
                        {"difference_K", a.outward.difference},
                        {"emissivity_of_its_ends", {a.outward.emissivity_low, a.outward.emissivity_high}},
                        {"resistance_m2K_per_W", a.resistance},
                        {"equivalent_conductivity_W_per_mK", a.conductivity},
                        {"equivalent_conductivity_sideways_W_per_mK", a.conductivity_sideways}});
  return cavities;
}

/// How the answer was closed in on.
Json accuracy_json(const Accuracy& asked, const Forecast& f) {
  Json grids = Json::array();
  for (const Refinement& g : f.refinements)
    grids.push_back({{"cells", g.cells},
                     {"every_cell_halved", g.nested},
                     {"heat_flow_W_per_m", g.heat_flow},
                     {"inside_surface_min_C", g.coldest},
                     {"rounds", g.rounds}});
  return {{"asked", {{"U", asked.heat}, {"surface_K", asked.surface}}},
          {"aimed_at", {{"U", f.accuracy.heat}, {"surface_K", f.accuracy.surface}}},
          {"reached", f.reached},
          {"memory_ran_out", f.memory_ran_out},
          {"observed_order", optional_json(f.order)},
          {"heat_flow_has_no_limit", f.results.flow_unlimited},
          {"iso_10211",
           {{"change_by_doubling", f.doubling_change},
            {"change_allowed", doubling_allowed},
            {"sum_of_flows", f.field.report.heat_imbalance},
            {"sum_allowed", imbalance_allowed}}},
          {"grids", grids}};
}

/// The room's air held against the room face and the plane behind the frame.
void add_moisture(Json& out, const Results& r) {
  out["dew_point_C"] = r.moisture ? Json(r.moisture->dew_point) : Json(nullptr);
  if (!r.moisture) return;
  const MoistureRisk& m = *r.moisture;
  out["moisture"] = {{"humidity_at_coldest", m.humidity_at_coldest},
                     {"face_below_dew_point", m.face_below_dew_point},
                     {"mould_point_C", m.mould_point},
                     {"face_below_mould_point", m.face_below_mould_point}};
  if (m.sheathing)
    out["moisture"]["behind_the_frame"] = {{"min_C", m.sheathing->coldest},
                                           {"min_at_m", m.sheathing->coldest_at},
                                           {"below_dew_point", m.sheathing->below_dew_point}};
}

/// The fixed keys first, then the rest of one section.
void add_section(Json& out, const Section& section, const Case& c, const Outcome& outcome) {
  const Forecast& f = outcome.built;
  const Results& r = f.results;
  out["u_value_W_per_m2K"] = optional_json(r.u_value);
  out["r_value_m2K_per_W"] = r.u_value ? Json(1.0 / *r.u_value) : Json(nullptr);
  out["heat_flow_W_per_m"] = r.heat_flow;
  out["inside_surface_min_C"] = r.coldest;
  out["temperature_factor"] = optional_json(r.temperature_factor);
  out["probes_C"] = probes_json(section, f);
  out["cells"] = f.grid.cells();
  out["iterations"] = f.field.report.iterations;
  out["relative_residual"] = f.field.report.relative_residual;
  out["heat_imbalance"] = f.field.report.heat_imbalance;
  out["u_value_uncertainty_W_per_m2K"] = optional_json(r.u_value_uncertainty);

  add_cut(out, section);
  out["u_value_Btu_per_h_ft2_F"] = r.u_value ? Json(*r.u_value / ip_transmittance) : Json(nullptr);
  out["r_value_h_ft2_F_per_Btu"] = r.u_value ? Json(ip_transmittance / *r.u_value) : Json(nullptr);
  out["heat_flow_uncertainty_W_per_m"] = r.heat_flow_uncertainty;
  out["heat_into_section_W_per_m"] = {{"inside", r.flows.inside},
                                      {"outside", r.flows.outside},
                                      {"left", r.flows.left},
                                      {"right", r.flows.right}};
  if (!f.grid.held.empty()) out["heat_into_section_W_per_m"]["held"] = r.flows.held;
  out["inside_surface_min_at_m"] = r.coldest_at;
  out["inside_surface_uncertainty_K"] = r.surface_uncertainty;
  out["inside_surface_extreme_C"] = r.extreme;
  out["inside_surface_extreme_at_m"] = r.extreme_at;
  add_moisture(out, r);
  if (r.limits)
    out["limits"] = {{"parallel_path_W_per_m2K", r.limits->parallel_path},
                     {"isothermal_planes_W_per_m2K", r.limits->isothermal_planes},
                     {"mean_W_per_m2K", r.limits->mean},
                     {"combined_method_holds", r.limits->combined_method_holds}};
  if (!r.parts.empty()) out["bays"] = parts_json(r);
  if (outcome.loop) out["loop"] = loop_json(outcome);
  if (r.loop_left_out) out["loop_left_out"] = true;
  if (outcome.effect) out["against_built_right"] = effect_json(outcome);
  if (!outcome.scraps.empty()) out["scraps"] = scraps_json(outcome);
  if (r.stud_contrast) out["stud_less_bay_K"] = *r.stud_contrast;
  for (const StillBay& still : outcome.still_bays)
    out["loops_left_out"].push_back({{"name", still.bay},
                                     {"u_value_W_per_m2K", still.loop.loop.u_loop},
                                     {"u_value_still_W_per_m2K", still.loop.loop.u_still}});
  out["warnings"] = r.warnings;
  out["air_rule"] =
      section.air_rule == AirRule::layer ? "ISO 6946 airspace annex" : "ISO 10077-2 frame cavities";
  out["accuracy"] = accuracy_json(c.accuracy, f);
  out["rounds"] = f.refinements.back().rounds;
  out["last_change"] = f.last_change;
  out["air_spaces"] = cavities_json(f.grid);
  out["inside_surface"] = {{"across_m", r.profile.across}, {"celsius", r.profile.celsius}};
  out["not_modelled"] = not_modelled(section, r, c.units);
}

Json outline_json(const Outline& outline) {
  if (const auto* r = std::get_if<Rectangle>(&outline))
    return {{"across_m", span_json(r->across)}, {"depth_m", span_json(r->depth)}};
  if (const auto* c = std::get_if<Circle>(&outline))
    return {{"circle", {{"centre_m", {c->centre.across, c->centre.depth}}, {"radius_m", c->radius}}}};
  Json corners = Json::array();
  for (const Point& p : std::get<Polygon>(outline).corners) corners.push_back({p.across, p.depth});
  return {{"polygon_m", corners}};
}

Json exchange_json(const std::optional<Exchange>& e) {
  return e ? Json{{"temperature_C", e->temperature}, {"film_m2K_per_W", e->film}} : Json("adiabatic");
}

/// The case as it was understood: every default filled in, every wall cut and drawn.
Json resolved_case(const Case& c) {
  Json out = {{"title", c.title}, {"units", c.units == UnitSystem::metric ? "metric" : "inch-pound"}};
  out["air"] = {{"inside", exchange_json(c.air.inside)}, {"outside", exchange_json(c.air.outside)}};
  out["air"]["inside"]["humidity"] = optional_json(c.humidity);
  for (const AirLevel& level : c.air.by_height)
    out["air"]["inside"]["by_height"].push_back({{"up_m", level.up}, {"temperature_C", level.celsius}});
  out["sides"] = {{"left", exchange_json(c.air.left)}, {"right", exchange_json(c.air.right)}};
  out["accuracy"] = {{"U", c.accuracy.heat}, {"surface_K", c.accuracy.surface}};
  out["sections"] = Json::array();
  for (const Section& s : c.sections) {
    Json section = {{"name", s.name}, {"width_m", s.width}, {"depth_m", s.depth}};
    section["shapes"] = Json::array();
    for (const Shape& shape : s.shapes) {
      Json drawn = {{"material", s.materials[shape.material].name}};
      drawn.update(outline_json(shape.outline));
      section["shapes"].push_back(drawn);
    }
    section["probes"] = Json::object();
    for (const Probe& p : s.probes) section["probes"][p.name] = {p.at.across, p.at.depth};
    out["sections"].push_back(section);
  }
  return out;
}

Json materials_json(const Case& c) {
  Json out = Json::array();
  std::vector<Material> seen;
  for (const Section& s : c.sections)
    for (const Material& m : s.materials) {
      if (std::find(seen.begin(), seen.end(), m) != seen.end()) continue;
      seen.push_back(m);
      Json material = {{"name", m.name}};
      if (!m.is_air_space) material["conductivity_W_per_mK"] = m.conductivity;
      material["emissivity"] = m.emissivity;
      material["source"] = m.source;
      out.push_back(material);
    }
  return out;
}

/// The moment the caller wants on record, and no other.
std::optional<std::string> date_on_record() {
  const char* epoch = std::getenv("SOURCE_DATE_EPOCH");
  std::int64_t seconds = 0;
  if (!epoch || std::from_chars(epoch, epoch + std::strlen(epoch), seconds).ec != std::errc())
    return std::nullopt;
  return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(static_cast<std::time_t>(seconds)));
}

}  // namespace

std::string version() { return COLDBAY_VERSION; }

std::string sha256(const std::string& text) {
  std::array<unsigned char, crypto_hash_sha256_BYTES> hash{};
  crypto_hash_sha256(hash.data(), reinterpret_cast<const unsigned char*>(text.data()), text.size());
  std::string hex;
  for (const unsigned char byte : hash) hex += fmt::format("{:02x}", byte);
  return hex;
}

std::vector<std::string> not_modelled(const Section& section, const Results& results, UnitSystem units) {
  std::vector<std::string> all{
      fmt::format("air leakage, moisture, sun, heat stored in the wall, and air moving inside it{}",
                  results.loop ? " other than round a fill" : "")};
  if (!section.parts.empty() && section.cut != CutKind::vertical)
    all.emplace_back("the plates: U is that of the wall between bottom plate and top plates");
  const LengthUnit length = units == UnitSystem::metric ? LengthUnit::millimetre : LengthUnit::inch;
  if (std::string words = stands_for_text(section, length); !words.empty()) all.push_back(std::move(words));
  return all;
}

std::string result_json(const Case& c, const Outcomes& outcomes, const Provenance& provenance) {
  Json out = {{"program", "coldbay"}, {"version", version()}};
  if (const auto date = date_on_record()) out["date"] = *date;
  out["input"] = {{"file", provenance.case_file}, {"sha256", provenance.sha256}};
  if (!provenance.materials_file.empty())
    out["input"]["materials"] = {{"file", provenance.materials_file},
                                 {"sha256", provenance.materials_sha256}};
  out["title"] = c.title;
  if (c.sections.size() == 1) add_section(out, c.sections[0], c, outcomes.sections[0]);
  if (!c.direct_form) {
    out["sections"] = Json::array();
    for (std::size_t s = 0; s < c.sections.size(); ++s) {
      out["sections"].push_back(c.sections[s].name);
      add_section(out[c.sections[s].name], c.sections[s], c, outcomes.sections[s]);
    }
  }
  if (outcomes.measured) out["wall"] = wall_json(c, outcomes);
  out["materials"] = materials_json(c);
  out["case"] = resolved_case(c);
  return out.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace coldbay
