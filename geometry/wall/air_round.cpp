#include "geometry/wall/air_round.hpp"

#include <algorithm>

namespace coldbay {
namespace {

constexpr double touching = 1e-6;  ///< [m]

double or_touching(double depth) { return depth > touching ? depth : 0.0; }

}  // namespace

AirRoundFill air_round(const Bay& bay, const Region& space) {
  AirRoundFill air;
  const std::vector<Laid> laid = laid_fills(bay, space);
  const auto is_air = [](const Laid& l) { return l.fill->material.is_air_space; };
  const auto first = std::find_if_not(laid.begin(), laid.end(), is_air);
  if (first == laid.end()) return air;
  const Laid& last = *std::find_if_not(laid.rbegin(), laid.rend(), is_air);
  const double shoulders = shoulder_radius(bay, space);
  air.room = or_touching(first->at.depth.from - space.depth.from + (bay.staples ? bay.staples->depth : 0.0));
  air.sheathing = or_touching(space.depth.to - last.at.depth.to +
                              (shoulders > 0.0 ? quarter_round(shoulders).front() : 0.0));
  const auto open_end = [&](BayEnd end) {
    return bay.short_end && bay.short_end->at == end && !bay.short_end->filled;
  };
  air.top = bay.gap.top > 0.0 || open_end(BayEnd::top) || bay.fallen + bay.settled > 0.0;
  air.bottom = bay.gap.bottom > 0.0 || open_end(BayEnd::bottom);
  const double room = space.across.length() - bay.gap.left - bay.gap.right;
  const bool strip = bay.width && *bay.width < room - touching && !bay.strip_filled && !bay.flange_stretched;
  air.left = bay.gap.left > 0.0 || (strip && bay.strip == Side::left);
  air.right = bay.gap.right > 0.0 || (strip && bay.strip == Side::right);
  return air;
}

}  // namespace coldbay
