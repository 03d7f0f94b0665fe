#include "solver/results/loop_effect.hpp"

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <vector>

namespace coldbay {
namespace {

/// The mark on one face: where it is furthest from still air the way of `sign`, over the heights of a loop.
std::optional<LoopMark> mark_on(const SurfaceProfile& face, const SurfaceProfile& still, Span loop,
                                double sign, double least) {
  std::vector<double> up, change;  // counted the way of the sign
  for (std::size_t i = 0; i < face.across.size(); ++i) {
    if (face.across[i] < loop.from || face.across[i] > loop.to) continue;
    up.push_back(face.across[i]);
    change.push_back(sign * (face.celsius[i] - celsius_at(still, face.across[i])));
  }
  if (up.empty()) return std::nullopt;
  const std::ptrdiff_t n = std::ssize(up),
                       strongest = std::max_element(change.begin(), change.end()) - change.begin();
  const auto s = static_cast<std::size_t>(strongest);
  if (change[s] < least) return std::nullopt;
  LoopMark mark;
  mark.at_top = up[s] > 0.5 * (loop.from + loop.to);
  mark.change = sign * change[s];
  mark.change_at = up[s];
  mark.height = loop.length();
  const double left = mark_ends * change[s];
  for (std::ptrdiff_t i = strongest, step = mark.at_top ? -1 : 1; i + step >= 0 && i + step < n; i += step) {
    const auto a = static_cast<std::size_t>(i), b = static_cast<std::size_t>(i + step);
    if (change[b] > left) continue;
    const double end = up[a] + (change[a] - left) / (change[a] - change[b]) * (up[b] - up[a]);
    mark.height = mark.at_top ? loop.to - end : end - loop.from;
    break;
  }
  return mark;
}

}  // namespace

LoopEffect loop_effect(const Forecast& looping, const Forecast& still) {
  assert(looping.results.loop && !looping.results.loop->loops.empty());
  const Results &a = looping.results, &b = still.results;
  const bool held = !looping.grid.held.empty();
  const auto lost = [held](const Results& r) { return held ? -r.flows.outside : r.heat_flow; };
  LoopEffect e;
  e.extra = lost(a) - lost(b);
  e.uncertainty = a.heat_flow_uncertainty + b.heat_flow_uncertainty;
  if (lost(b) != 0.0) e.share = e.extra / lost(b);
  const double colder_inside = a.reversed ? 1.0 : -1.0,
               least = std::max(least_mark, a.surface_uncertainty + b.surface_uncertainty);
  const Span loop = a.loop->loops[0].up;
  e.room_face = mark_on(a.profile, b.profile, loop, colder_inside, least);
  e.outer_face = mark_on(outer_face(looping.grid, looping.air, looping.field),
                         outer_face(still.grid, still.air, still.field), loop, -colder_inside, least);
  return e;
}

}  // namespace coldbay
