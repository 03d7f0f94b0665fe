#include "tools/whole_wall.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/wall/cuts.hpp"
#include "geometry/wall/seen.hpp"

namespace coldbay {
namespace {

/// Heat through stretches of a face [W per metre the other way].
double heat_through(const SurfaceProfile& face, const std::vector<Span>& stretches) {
  double heat = 0.0;
  for (std::size_t i = 0; i < face.across.size(); ++i) {
    const Span cell{face.across[i] - 0.5 * face.width[i], face.across[i] + 0.5 * face.width[i]};
    for (const Span& s : stretches)
      heat += face.heat_flux[i] * std::max(0.0, std::min(cell.to, s.to) - std::max(cell.from, s.from));
  }
  return heat;
}

/// What a section loses more than built right through stretches of its face [W per metre the other way].
double extra_through(const Outcome& o, const Forecast& built, const std::vector<Span>& stretches) {
  if (!o.right) return 0.0;
  return heat_through(built.results.profile, stretches) - heat_through(o.right->results.profile, stretches);
}
double extra_through(const Outcome& o, const std::vector<Span>& stretches) {
  return extra_through(o, o.built, stretches);
}

/// The same at one place of its face [W/m2], as a plan there shows it: in a plan air stands still.
double extra_in_plan(const Outcome& o, double place) {
  constexpr double half = 1e-3;  // a mean over 2 mm: less than any fault is high
  return extra_through(o, o.still ? *o.still : o.built, {{place - half, place + half}}) / (2.0 * half);
}

bool shows(const Case& c, std::size_t section, CutKind kind, const Bay& bay) {
  return c.sections[section].cut == kind && c.right[section] &&
         differ(c.sections[section], *c.right[section], bay);
}

struct BaySum {
  double extra = 0.0;   ///< [W]
  double unseen = 0.0;  ///< share of the heights between the plates that no section shows as it is
};

BaySum sum_of_bay(const Case& c, const BuiltWall& built, const BuiltWall& right, const Outcomes& all,
                  Span columns, std::size_t b) {
  const Bay& bay = c.wall->bays[b];
  const Span clear = built.bays[b].clear;
  BaySum sum;
  // Plans, each over the heights at which the bay looks so.
  struct Height {
    double at, length;
  };
  std::vector<Height> planned;
  std::vector<Span> open =
      without({built.up}, right_heights(built, right, b));  // heights to be accounted for
  for (std::size_t s = 0; s < c.sections.size() && !open.empty(); ++s) {
    if (c.sections[s].cut != CutKind::plan) continue;
    std::vector<Span> left = without(open, alike_heights(built, b, c.plan_heights[s]));
    planned.push_back({c.plan_heights[s], length_of(open) - length_of(left)});
    sum.extra += planned.back().length * extra_through(all.sections[s], {columns});
    open = std::move(left);
  }
  // Verticals, each over the columns it stands for: what they show beyond what the plans have counted there.
  std::vector<Span> claimed;
  for (std::size_t s = 0; s < c.sections.size(); ++s) {
    if (!shows(c, s, CutKind::vertical, bay)) continue;
    std::vector<Span> mine;
    for (const Span& span : c.sections[s].stands_for)
      mine.push_back({std::max(span.from, clear.from), std::min(span.to, clear.to)});
    std::erase_if(mine, [](const Span& span) { return span.length() <= 0.0; });
    mine = without(mine, claimed);
    double beyond = extra_through(all.sections[s], {{0.0, built.height}});
    for (const Height& plan : planned) beyond -= plan.length * extra_in_plan(all.sections[s], plan.at);
    sum.extra += length_of(mine) * beyond;
    claimed.insert(claimed.end(), mine.begin(), mine.end());
  }
  // Where verticals stand for the whole bay there is nothing left to show.
  const double unclaimed = 1.0 - std::min(1.0, length_of(claimed) / clear.length());
  sum.unseen = length_of(open) / built.up.length() * unclaimed;
  return sum;
}

bool has_opening(const Case& c, const Section& s) {
  return std::any_of(s.shapes.begin(), s.shapes.end(), [&](const Shape& shape) {
    return std::any_of(c.wall->bays.begin(), c.wall->bays.end(), [&](const Bay& bay) {
      return bay.opening && shape.path == bay.opening->path &&
             s.materials[shape.material].name == opening_filling;
    });
  });
}

bool has_services(const Case& c, const Section& s) {
  return std::any_of(s.shapes.begin(), s.shapes.end(), [&](const Shape& shape) {
    return std::any_of(c.wall->bays.begin(), c.wall->bays.end(), [&](const Bay& bay) {
      const auto is = [&](const auto& thing) { return thing.path == shape.path; };
      return std::any_of(bay.enclosures.begin(), bay.enclosures.end(), is) ||
             std::any_of(bay.runs.begin(), bay.runs.end(), is);
    });
  });
}

/// The plan that is most like the wall at large: without things in it, then for the most of the height.
std::optional<std::size_t> plainest_plan(const Case& c, const Outcomes& all) {
  std::optional<std::size_t> best;
  const auto rank = [&](std::size_t s) {
    return std::pair(!has_services(c, c.sections[s]), length_of(c.sections[s].stands_for));
  };
  for (std::size_t s = 0; s < c.sections.size(); ++s) {
    if (c.sections[s].cut != CutKind::plan || !all.sections[s].built.results.u_value ||
        has_opening(c, c.sections[s]))
      continue;
    if (!best || rank(s) > rank(*best)) best = s;
  }
  return best;
}

}  // namespace

Span columns_of(const std::vector<std::vector<Fault>>& faults, const BuiltWall& built, std::size_t bay) {
  Span columns = built.bays[bay].across;
  const auto middle = [&](std::size_t b) {
    return 0.5 * (built.bays[b].clear.from + built.bays[b].clear.to);
  };
  if (bay > 0 && faults[bay - 1].empty()) columns.from = middle(bay - 1);
  if (bay + 1 < faults.size() && faults[bay + 1].empty()) columns.to = middle(bay + 1);
  return columns;
}

std::optional<WholeWall> whole_wall(const Case& c, const BuiltWall& built, const Outcomes& all) {
  const bool held = std::any_of(all.sections.begin(), all.sections.end(),
                                [](const Outcome& o) { return !o.built.grid.held.empty(); });
  const double kelvin = c.air.inside.temperature - c.air.outside.temperature;
  const auto plan = plainest_plan(c, all);
  if (held || !plan || kelvin == 0.0) return std::nullopt;

  const Outcome& o = all.sections[*plan];
  const Forecast& right = o.right ? *o.right : o.built;
  WholeWall w;
  double framing_u = *right.results.u_value;
  if (!c.wall->frame.sheet) framing_u = *forecast(framing_section(*c.wall), c.air, {}, rough).results.u_value;
  w.u_right = whole_wall_u(*right.results.u_value, framing_of_plan(built, c.plan_heights[*plan]),
                           all.measured->framing, framing_u);

  const BuiltWall right_wall = build(built_right(*c.wall));
  const auto faults = faults_of(*c.wall);
  w.bays.resize(faults.size());
  for (std::size_t b = 0; b < faults.size(); ++b) {
    if (faults[b].empty()) continue;
    const BaySum sum = sum_of_bay(c, built, right_wall, all, columns_of(faults, built, b), b);
    w.bays[b] = sum.extra / kelvin;
    w.extra += w.bays[b];
    constexpr double worth_saying = 0.02;
    if (sum.unseen > worth_saying) w.unseen.push_back({built.bays[b].name, sum.unseen});
  }
  w.u_built = w.u_right + w.extra / all.measured->area;
  return w;
}

}  // namespace coldbay
