#include "geometry/wall/bay_section.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/wall/build.hpp"
#include "geometry/wall/cuts.hpp"
#include "geometry/wall/seen.hpp"

namespace coldbay {
namespace {

/// The wall as if it had this bay alone, with what stands on either side of it.
Wall alone(const Wall& wall, std::size_t bay) {
  Wall one = wall;
  one.bays = {wall.bays[bay]};
  one.posts = {post_of(wall, bay), post_of(wall, bay + 1)};
  return one;
}

bool is_along_the_height(Fault fault, const Bay& bay) {
  switch (fault) {
    case Fault::short_end:
    case Fault::folded:
    case Fault::fallen:
    case Fault::settled_fill:
      return true;
    case Fault::pushed_over:
    case Fault::cold_pipe:
      return std::any_of(bay.runs.begin(), bay.runs.end(), [](const ServiceRun& run) {
        return !run.runs_up && run.laid != ServiceRun::Laid::split;
      });
    case Fault::gap:
      return bay.gap.left <= 0.0 && bay.gap.right <= 0.0 && (bay.gap.top > 0.0 || bay.gap.bottom > 0.0);
    default:
      return false;
  }
}

/// The height of the middle of what is boxed in, where that is what is wrong; a duct runs all the way up.
std::optional<double> boxed_height(const Bay& bay, const std::vector<Fault>& faults) {
  const bool boxed = std::any_of(faults.begin(), faults.end(), [](Fault f) {
    return f == Fault::box_open || f == Fault::box_squeezed || f == Fault::box_piece ||
           f == Fault::box_margin;
  });
  if (!boxed || bay.enclosures.empty() || bay.enclosures.front().kind == Enclosure::Kind::duct)
    return std::nullopt;
  return bay.enclosures.front().centre;
}

/// The middle of the stretch between two changes, within `reach`, at which a plane shows most of the bay's
/// faults, and of those the one nearest to the middle of `reach`.
double best_place(const Wall& one, const BuiltWall& built, Direction normal, Span reach) {
  std::vector<double> changes = cut_changes(built, normal);
  changes.insert(changes.end(), {reach.from, reach.to});
  std::sort(changes.begin(), changes.end());
  const double middle = 0.5 * (reach.from + reach.to);
  double best = middle;
  std::size_t most = seen_faults(one, normal, middle)[0].size();
  for (std::size_t i = 0; i + 1 < changes.size(); ++i) {
    const Span s{std::max(changes[i], reach.from), std::min(changes[i + 1], reach.to)};
    const double place = 0.5 * (s.from + s.to);
    constexpr double least = 1e-6;  // [m]: a stretch, not two changes at one place
    if (s.length() < least) continue;
    const std::size_t shown = seen_faults(one, normal, place)[0].size();
    if (shown < most || (shown == most && std::abs(place - middle) >= std::abs(best - middle))) continue;
    most = shown;
    best = place;
  }
  return best;
}

}  // namespace

BaySection bay_section(const Wall& wall, const Wall& right, std::size_t bay,
                       const std::vector<Fault>& faults) {
  const Wall one = alone(wall, bay), as_right = alone(right, bay);
  const BuiltWall built = build(one), built_as_right = build(as_right);
  const BayPlace& place = built.bays[0];
  const bool upright =
      std::any_of(faults.begin(), faults.end(), [&](Fault f) { return is_along_the_height(f, one.bays[0]); });
  const std::string name = fmt::format("bay {}", bay + 1), path = wall.bays[bay].path;
  if (upright) {
    const double at = best_place(one, built, Direction::across, place.clear);
    return {vertical_section(one, built, at, name, path),
            vertical_section(as_right, built_as_right, at, name, path), at - place.clear.from};
  }
  const auto boxed = boxed_height(one.bays[0], faults);
  const double at = boxed ? *boxed : best_place(one, built, Direction::up, place.up);
  return {plan_section(one, built, at, name, path), plan_section(as_right, built_as_right, at, name, path),
          at};
}

}  // namespace coldbay
