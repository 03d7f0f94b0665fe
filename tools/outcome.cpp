#include "tools/outcome.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/wall/cuts.hpp"

namespace coldbay {
namespace {

/// Good enough for a range over seeds, which is some per cent wide.
constexpr Accuracy rough{5e-3, 0.1};

/// What a vertical section adds that no plan shows: the extra heat over its width, where the bay it goes
/// through looks right in every plan [W/K]. Each bay once.
double extra_of_verticals(const Case& c, const BuiltWall& built, const Outcomes& all) {
  double extra = 0.0;
  for (std::size_t b = 0; b < built.bays.size(); ++b) {
    const Bay& bay = c.wall->bays[b];
    const auto shown_by = [&](std::size_t s, CutKind kind) {
      return c.sections[s].cut == kind && c.right[s] && differ(c.sections[s], *c.right[s], bay);
    };
    std::optional<std::size_t> vertical;
    bool in_plan = false;
    for (std::size_t s = 0; s < c.sections.size(); ++s) {
      in_plan = in_plan || shown_by(s, CutKind::plan);
      if (!vertical && shown_by(s, CutKind::vertical)) vertical = s;
    }
    if (in_plan || !vertical) continue;
    // Of what it stands for, the part in this bay: others that look alike are wrong in the same way, and
    // counted by themselves.
    double width = 0.0;
    for (const Span& span : c.sections[*vertical].stands_for)
      width += std::max(
          0.0, std::min(span.to, built.bays[b].clear.to) - std::max(span.from, built.bays[b].clear.from));
    extra += all.sections[*vertical].effect->per_kelvin * width;
  }
  return extra;
}

/// The wall as a whole from its plan sections; nothing where no plan misses every opening, or U has no
/// meaning.
std::optional<WholeWall> whole_wall(const Case& c, const BuiltWall& built, const Outcomes& all) {
  const auto cuts_opening = [&](const Section& s) {
    return std::any_of(s.shapes.begin(), s.shapes.end(), [&](const Shape& shape) {
      return std::any_of(c.wall->bays.begin(), c.wall->bays.end(), [&](const Bay& bay) {
        return bay.opening && shape.path == bay.opening->path &&
               s.materials[shape.material].name == opening_filling;
      });
    });
  };
  const auto length = [](const Section& s) {
    double sum = 0.0;
    for (const Span& span : s.stands_for) sum += span.length();
    return sum;
  };
  std::optional<std::size_t> longest;
  std::vector<Span> seen;
  WholeWall w;
  for (std::size_t s = 0; s < c.sections.size(); ++s) {
    const Section& section = c.sections[s];
    const Outcome& o = all.sections[s];
    // Two plans through the same stretch stand for it once.
    const bool again = std::any_of(seen.begin(), seen.end(), [&](const Span& span) {
      return !section.stands_for.empty() && span.from == section.stands_for.front().from;
    });
    if (section.cut != CutKind::plan || section.stands_for.empty() || again) continue;
    seen.insert(seen.end(), section.stands_for.begin(), section.stands_for.end());
    w.shown += length(section);
    if (o.effect) w.extra += o.effect->per_kelvin * length(section);
    if (!o.built.results.u_value || cuts_opening(section)) continue;
    if (!longest || length(section) > length(c.sections[*longest])) longest = s;
  }
  if (!longest) return std::nullopt;
  const Section& section = c.sections[*longest];
  const Outcome& o = all.sections[*longest];
  const Forecast& right = o.right ? *o.right : o.built;
  const double height = 0.5 * (section.stands_for.front().from + section.stands_for.front().to);
  double framing_u = *right.results.u_value;
  if (!c.wall->frame.sheet) framing_u = *forecast(framing_section(*c.wall), c.air, {}, rough).results.u_value;
  w.u_right =
      whole_wall_u(*right.results.u_value, framing_of_plan(built, height), all.measured->framing, framing_u);
  w.extra += extra_of_verticals(c, built, all);
  w.u_built = w.u_right + w.extra / all.measured->area;
  w.between_plates = built.up.length();
  return w;
}

}  // namespace

Outcomes solve_case(const Case& c, const std::function<void(const std::string&)>& progress) {
  Outcomes all;
  for (std::size_t s = 0; s < c.sections.size(); ++s) {
    const Section& section = c.sections[s];
    const std::string name = section.name.empty() ? "the section" : section.name;
    progress(fmt::format("solving {}", name));
    Outcome o{forecast(section, c.air, c.humidity, c.accuracy), {}, {}, {}};
    if (s < c.right.size() && c.right[s]) {
      progress(fmt::format("solving {}, built right", name));
      o.right = forecast(*c.right[s], c.air, c.humidity, c.accuracy);
      o.effect = effect(section, c.air, o.built, *o.right);
    }
    for (const Stuffings& stuffings : c.stuffings) {
      if (stuffings.section != s) continue;
      const double right = forecast(stuffings.right, c.air, {}, rough).results.heat_flow;
      ScrapsRange range{stuffings.bay, {}};
      for (const Section& stuffed : stuffings.stuffed) {
        progress(fmt::format("solving {}, {} stuffed, {} of {}", name, range.bay, range.shares.size() + 1,
                             stuffings.stuffed.size()));
        range.shares.push_back(forecast(stuffed, c.air, {}, rough).results.heat_flow / right - 1.0);
      }
      o.scraps.push_back(std::move(range));
    }
    all.sections.push_back(std::move(o));
  }
  if (!c.wall) return all;
  const BuiltWall built = build(*c.wall);
  all.measured = measured(*c.wall, built);
  all.wall = whole_wall(c, built, all);
  return all;
}

}  // namespace coldbay
