#include "tools/side_by_side.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace coldbay {
namespace {

SideSection side_section(const Case& c, const Section& section, const Results& r) {
  SideSection side{section.name, section.cut, section.width, {}, {}, {}, {}, r.profile};
  if (r.u_value) side.u = Sure{*r.u_value, r.u_value_uncertainty.value_or(0.0)};
  side.heat = {r.heat_flow, r.heat_flow_uncertainty};
  side.coldest = {r.coldest, r.surface_uncertainty};
  const double across = std::abs(c.air.inside.temperature - c.air.outside.temperature);
  if (r.temperature_factor && across > 0.0)
    side.factor = Sure{*r.temperature_factor, r.surface_uncertainty / across};
  return side;
}

/// Of any section's U, as built or built right, relative.
double least_sure(const Outcomes& outcomes) {
  double worst = 0.0;
  for (const Outcome& o : outcomes.sections)
    for (const Forecast* f : {&o.built, o.right ? &*o.right : nullptr})
      if (f && f->results.u_value && f->results.u_value_uncertainty)
        worst = std::max(worst, *f->results.u_value_uncertainty / *f->results.u_value);
  return worst;
}

RankedBy ranked_by(const std::vector<SideCase>& cases) {
  const auto all = [&](auto has) { return std::all_of(cases.begin(), cases.end(), has); };
  if (all([](const SideCase& c) { return c.wall_u.has_value(); })) return RankedBy::wall_u;
  if (all([](const SideCase& c) { return c.sections[c.leading].u.has_value(); })) return RankedBy::section_u;
  return RankedBy::heat_flow;
}

Sure value_of(const SideCase& c, RankedBy by) {
  const SideSection& leading = c.sections[c.leading];
  return by == RankedBy::wall_u ? *c.wall_u : by == RankedBy::section_u ? *leading.u : leading.heat;
}

}  // namespace

SureDifference difference_of(const Sure& a, const Sure& b) {
  const double value = a.value - b.value, within = a.within + b.within;
  return {value, within, std::abs(value) <= within};
}

SideCase side_case(const Case& c, const Outcomes& outcomes, std::string name, std::string sha256) {
  SideCase side;
  side.name = std::move(name);
  side.title = c.title;
  side.sha256 = std::move(sha256);
  side.inside = c.air.inside.temperature;
  side.outside = c.air.outside.temperature;
  for (std::size_t i = 0; i < outcomes.sections.size(); ++i) {
    const Outcome& o = outcomes.sections[i];
    side.sections.push_back(side_section(c, c.sections[i], o.built.results));
    side.reached = side.reached && o.built.reached && (!o.right || o.right->reached);
  }
  const auto with_u = std::find_if(side.sections.begin(), side.sections.end(),
                                   [](const SideSection& s) { return s.u.has_value(); });
  if (with_u != side.sections.end()) side.leading = static_cast<std::size_t>(with_u - side.sections.begin());
  if (outcomes.wall) {
    side.wall_u = Sure{outcomes.wall->u_built, least_sure(outcomes) * outcomes.wall->u_built};
    side.extra = outcomes.wall->extra;
  }
  return side;
}

SideBySide side_by_side(std::vector<SideCase> cases, UnitSystem units) {
  SideBySide all;
  all.units = units;
  all.by = ranked_by(cases);
  constexpr double same = 1e-9;  // [K]: rounding of units
  for (const SideCase& c : cases)
    all.same_airs = all.same_airs && std::abs(c.inside - cases.front().inside) < same &&
                    std::abs(c.outside - cases.front().outside) < same;
  std::stable_sort(cases.begin(), cases.end(), [&](const SideCase& a, const SideCase& b) {
    return value_of(a, all.by).value < value_of(b, all.by).value;
  });
  all.cases = std::move(cases);
  for (std::size_t i = 0; i < all.cases.size(); ++i) {
    std::size_t less = 0;
    for (std::size_t j = 0; j < i; ++j)
      if (!difference_of(ranked_value(all, i), ranked_value(all, j)).equal) ++less;
    all.ranks.push_back(less + 1);
  }
  return all;
}

Sure ranked_value(const SideBySide& all, std::size_t i) { return value_of(all.cases[i], all.by); }

}  // namespace coldbay
