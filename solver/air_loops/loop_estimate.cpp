#include "solver/air_loops/loop_estimate.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/wall/air_round.hpp"
#include "geometry/wall/build.hpp"
#include "solver/air_loops/bay_network.hpp"
#include "solver/air_loops/loop_of_bay.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

template <class P>
bool anywhere(const BayLoop& bay, P gap) {
  return std::any_of(bay.strips.begin(), bay.strips.end(), [&](const LoopStrip& s) { return s.*gap > 0.0; });
}

bool touches_both(const BayLoop& bay) {
  return !anywhere(bay, &LoopStrip::room_gap) && !anywhere(bay, &LoopStrip::sheathing_gap);
}

std::optional<NoLoop> why_none(const BayLoop& bay) {
  if (!anywhere(bay, &LoopStrip::room_gap)) return NoLoop::touches_lining;
  if (!anywhere(bay, &LoopStrip::sheathing_gap)) return NoLoop::touches_sheathing;
  const bool through = bay.permeability > 0.0 || bay.left_joint > 0.0 || bay.right_joint > 0.0,
             round = bay.bottom_slot > 0.0 && bay.top_slot > 0.0;
  if (!through && !round) return NoLoop::closed;
  if (bay.inside == bay.outside) return NoLoop::even;
  return {};
}

SteadyLoop flow_round(const BayLoop& bay) {
  return is_single_loop(bay) ? single_loop(bay) : network_loop(bay);
}

/// The same bay with every gap that it has changed.
BayLoop with_gaps(BayLoop bay, double change) {
  const auto changed = [change](double gap) { return gap > 0.0 ? std::max(0.0, gap + change) : 0.0; };
  for (LoopStrip& s : bay.strips) {
    s.room_gap = changed(s.room_gap);
    s.sheathing_gap = changed(s.sheathing_gap);
  }
  return bay;
}

OtherGaps other(const BayLoop& bay) {
  const SteadyLoop loop = flow_round(bay);
  return {loop.u_still, loop.u_loop};
}

LoopEstimate estimate_of(const BayLoop& bay, double tolerance) {
  LoopEstimate e;
  e.tolerance = tolerance;
  e.area = width_of(bay) * bay.height;
  e.none = why_none(bay);
  e.by_network = !e.none && !is_single_loop(bay);
  e.reversed = bay.inside < bay.outside;
  e.beyond_channel = std::any_of(bay.strips.begin(), bay.strips.end(), [](const LoopStrip& s) {
    return std::max(s.room_gap, s.sheathing_gap) > widest_channel;
  });
  try {
    e.loop = flow_round(bay);
    e.narrower = other(with_gaps(bay, -tolerance));
    e.wider = other(with_gaps(bay, tolerance));
  } catch (const SolverError&) {
    e.none = NoLoop::unsettled;
    BayLoop shut = bay;
    shut.inside = shut.outside;
    e.loop = flow_round(shut);
    e.narrower = e.wider = {e.loop.u_still, e.loop.u_still};
  }
  if (!e.none && bay.bottom_slot > 0.0 && e.loop.exchange_length < 0.5 * bay.height)
    e.foot = e.loop.exchange_length;
  e.extra_heat = (e.loop.u_loop - e.loop.u_still) * e.area * std::abs(bay.inside - bay.outside);
  return e;
}

/// Two spaces of one bay: U over both, the rest from the one with the stronger loop.
LoopEstimate together(const LoopEstimate& a, const LoopEstimate& b) {
  LoopEstimate e = a.none && !b.none ? b : a;
  if (!a.none && !b.none && std::abs(b.loop.flow) > std::abs(a.loop.flow)) e = b;
  e.area = a.area + b.area;
  e.extra_heat = a.extra_heat + b.extra_heat;
  e.by_network = a.by_network || b.by_network;
  e.beyond_channel = a.beyond_channel || b.beyond_channel;
  const auto mean = [&](double x, double y) { return (a.area * x + b.area * y) / e.area; };
  e.loop.u_still = mean(a.loop.u_still, b.loop.u_still);
  e.loop.u_loop = mean(a.loop.u_loop, b.loop.u_loop);
  e.narrower = {mean(a.narrower.u_still, b.narrower.u_still), mean(a.narrower.u_loop, b.narrower.u_loop)};
  e.wider = {mean(a.wider.u_still, b.wider.u_still), mean(a.wider.u_loop, b.wider.u_loop)};
  return e;
}

std::optional<LoopEstimate> estimate_of(const std::vector<BayLoop>& loops, double tolerance) {
  std::optional<LoopEstimate> all;
  if (std::all_of(loops.begin(), loops.end(), touches_both)) return all;
  for (const BayLoop& loop : loops) {
    const LoopEstimate e = estimate_of(loop, tolerance);
    all = all ? together(*all, e) : e;
  }
  return all;
}

/// Whether the fill itself leaves air on a face: a cable's pocket, or a hole, is no face to loop round.
bool leaves_air(const Bay& bay, const Region& space) {
  const AirRoundFill air = air_round(bay, space);
  return air.room > 0.0 || air.sheathing > 0.0;
}

/// What is worth telling of an estimate.
std::optional<LoopEstimate> told(std::optional<LoopEstimate> e, const Bay& bay, const Region& space) {
  const bool touches = e && (e->none == NoLoop::touches_lining || e->none == NoLoop::touches_sheathing);
  if (touches && !leaves_air(bay, space)) e.reset();
  return e;
}

}  // namespace

double loop_share(double u_still, double u_loop) { return u_loop / u_still - 1.0; }

std::optional<LoopEstimate> estimate_loop(const Wall& wall, std::size_t bay, const Surroundings& air,
                                          double gap_tolerance) {
  const BuiltWall built = build(wall);
  return told(estimate_of(loops_of_bay(wall, built, bay, air), gap_tolerance), wall.bays[bay],
              {built.bays[bay].clear, built.up, built.frame});
}

std::vector<std::optional<LoopEstimate>> estimate_loops(const Wall& wall, const Surroundings& air,
                                                        double gap_tolerance) {
  const BuiltWall built = build(wall);
  std::vector<std::vector<BayLoop>> seen;
  std::vector<std::optional<LoopEstimate>> reckoned, all;
  seen.reserve(wall.bays.size());
  reckoned.reserve(wall.bays.size());
  all.reserve(wall.bays.size());
  for (std::size_t b = 0; b < wall.bays.size(); ++b) {
    std::vector<BayLoop> loops = loops_of_bay(wall, built, b, air);
    const auto like = std::find(seen.begin(), seen.end(), loops);
    reckoned.push_back(like == seen.end() ? estimate_of(loops, gap_tolerance)
                                          : reckoned[static_cast<std::size_t>(like - seen.begin())]);
    all.push_back(told(reckoned.back(), wall.bays[b], {built.bays[b].clear, built.up, built.frame}));
    seen.push_back(std::move(loops));
  }
  return all;
}

}  // namespace coldbay
