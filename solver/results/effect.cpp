#include "solver/results/effect.hpp"

#include <algorithm>
#include <cmath>

namespace coldbay {
Effect effect(const Section& section, const Surroundings& air, const Forecast& built, const Forecast& right) {
  const Results &a = built.results, &b = right.results;
  const double kelvin = air.inside.temperature - air.outside.temperature;
  Effect e;
  const bool held = !built.grid.held.empty() || !right.grid.held.empty();
  const auto lost = [held](const Results& r) { return held ? -r.flows.outside : r.heat_flow; };
  e.extra = lost(a) - lost(b);
  e.uncertainty = a.heat_flow_uncertainty + b.heat_flow_uncertainty;
  e.share = e.extra / lost(b);
  if (a.u_value && b.u_value) e.of_u = *a.u_value - *b.u_value;
  if (kelvin != 0.0) e.per_kelvin = e.extra / kelvin;
  for (const Span& s : section.stands_for) e.stands_for += s.length();
  for (std::size_t i = 0; i < a.profile.across.size(); ++i) {
    const double difference = a.profile.celsius[i] - celsius_at(b.profile, a.profile.across[i]);
    if (std::abs(difference) <= std::abs(e.surface)) continue;
    e.surface = difference;
    e.surface_at = a.profile.across[i];
  }
  if (held) return e;
  for (std::size_t p = 0; p < std::min(a.parts.size(), b.parts.size()); ++p) {
    const double width = a.parts[p].across.length();
    const double extra = (a.parts[p].u_value - b.parts[p].u_value) * width * kelvin;
    e.parts.push_back({a.parts[p].name, extra, a.parts[p].u_value / b.parts[p].u_value - 1.0});
  }
  return e;
}

double whole_wall_u(double plan_u, double framing_of_plan, double framing, double framing_u) {
  const double more = std::max(0.0, (framing - framing_of_plan) / (1.0 - framing_of_plan));
  return plan_u * (1.0 - more) + framing_u * more;
}

}  // namespace coldbay
