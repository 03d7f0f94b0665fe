#include "tools/verify.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/forecast.hpp"

namespace coldbay {
namespace {

double ours(const PublishedValue& p, const Case& c, const Forecast& f) {
  const Results& r = f.results;
  if (p.key == "u_value_W_per_m2K") return r.u_value.value();
  if (p.key == "r_value_m2K_per_W") return 1.0 / r.u_value.value();
  if (p.key == "heat_flow_W_per_m") return r.heat_flow;
  if (p.key == "air_flow_m2_per_s") return r.loop ? r.loop->flow : 0.0;
  if (p.key == "inside_surface_min_C") return r.coldest;
  if (p.key == "temperature_factor") return r.temperature_factor.value();
  const auto& probes = c.sections[0].probes;
  const auto probe =
      std::find_if(probes.begin(), probes.end(), [&](const Probe& q) { return q.name == p.probe; });
  return temperature_at(f.grid, f.air, f.field, probe->at);
}

}  // namespace

std::vector<Comparison> compare_with_published(const SourceText& source) {
  const Case c = read_case(source);
  if (c.sections.size() != 1) throw std::logic_error(source.name + ": a check case has one section");
  const Forecast f = forecast(c.sections[0], c.air, c.humidity, c.accuracy);
  std::vector<Comparison> out;
  for (const PublishedValue& p : c.published) {
    const double value = ours(p, c, f);
    out.push_back({p, value, std::abs(value - p.value) <= p.within});  // NaN does not agree
  }
  return out;
}

std::string comparison_table(const std::string& name, const std::vector<Comparison>& comparisons) {
  std::string out = fmt::format("{}\n  {:<28} {:>10} {:>10} {:>9}  {:<6} {:<3}  {}\n", name, "number",
                                "published", "ours", "within", "unit", "", "source");
  for (const Comparison& c : comparisons)
    out += fmt::format("  {:<28} {:>10.5g} {:>10.5g} {:>9.2g}  {:<6} {:<3}  {}\n", c.published.what,
                       c.published.value, c.ours, c.published.within, c.published.unit,
                       c.agrees ? "yes" : "NO", c.published.source);
  return out;
}

}  // namespace coldbay
