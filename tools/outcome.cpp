#include "tools/outcome.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "tools/whole_wall.hpp"

namespace coldbay {
namespace {

/// The bays whose loop a section leaves out: a plan cuts across every loop, a vertical one leaves it out
/// where the case asks for still air.
std::vector<StillBay> still_bays(const Section& section, const Results& r,
                                 const std::vector<std::optional<LoopEstimate>>& loops) {
  std::vector<StillBay> all;
  std::vector<std::string> names;
  if (r.loop_left_out) names = section.loops_round;
  for (const FacePart& part : section.parts)
    if (part.air_on_both_faces) names.push_back(part.name);
  for (std::size_t b = 0; b < loops.size(); ++b) {
    const std::string name = fmt::format("bay {}", b + 1);
    if (loops[b] && !loops[b]->none && std::find(names.begin(), names.end(), name) != names.end())
      all.push_back({name, *loops[b]});
  }
  return all;
}

}  // namespace

Outcomes solve_case(const Case& c, const std::function<void(const std::string&)>& progress) {
  Outcomes all;
  if (c.wall) {
    progress("reckoning how air may loop round each batt");
    all.loops = estimate_loops(*c.wall, c.air, c.gap_tolerance);
  }
  for (std::size_t s = 0; s < c.sections.size(); ++s) {
    const Section& section = c.sections[s];
    const std::string name = section.name.empty() ? "the section" : section.name;
    progress(fmt::format("solving {}", name));
    Outcome o{forecast(section, c.air, c.humidity, c.accuracy), {}, {}, {}, {}};
    o.still_bays = still_bays(section, o.built.results, all.loops);
    if (s < c.right.size() && c.right[s]) {
      progress(fmt::format("solving {}, built right", name));
      o.right = forecast(*c.right[s], c.air, c.humidity, c.accuracy);
      o.effect = effect(section, c.air, o.built, *o.right);
    }
    if (o.built.results.loop) {
      progress(fmt::format("solving {}, air standing still", name));
      Surroundings still = c.air;
      still.gaps = AirInGaps::still;
      o.still = forecast(section, still, c.humidity, c.accuracy);
      o.loop = loop_effect(o.built, *o.still);
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
