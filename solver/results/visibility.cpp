#include "solver/results/visibility.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/results/face_sums.hpp"

namespace coldbay {
namespace {

/// Finest step of looking [m]: a lining of 10 mm and more spreads whatever lies behind it further than that.
constexpr double finest_step = 0.002;

/// Half a pixel, but fine enough to measure the regions by, however few pixels fall on them.
double step_for(const std::vector<FaceRegion>& regions, double pixel) {
  constexpr double parts = 16.0;
  double step = 0.5 * pixel;
  for (const FaceRegion& r : regions)
    step = std::min({step, r.across.length() / parts, r.up.length() / parts});
  return std::max(finest_step, step);
}

struct Spot {
  double across, up;
};

/// The face as built less the one built right, and what it is looked at with.
struct Difference {
  const FacePair& faces;
  FaceSums built, right;
  double step;

  double at(Spot p) const {
    return temperature_on(faces.built, p.across, p.up) - temperature_on(faces.right, p.across, p.up);
  }
  /// Mean over a square.
  double over(Spot middle, double side) const {
    const Span a{middle.across - 0.5 * side, middle.across + 0.5 * side},
        u{middle.up - 0.5 * side, middle.up + 0.5 * side};
    return mean_on(built, a, u) - mean_on(right, a, u);
  }
};

/// The middles of an even raster over a stretch.
std::vector<double> raster(Span s, double step) {
  const auto n = std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(s.length() / step - 1e-9)));
  std::vector<double> middles(n);
  for (std::size_t i = 0; i < n; ++i)
    middles[i] = s.from + s.length() * (static_cast<double>(i) + 0.5) / static_cast<double>(n);
  return middles;
}

/// Keeps the whole patch on the face where the face is wide enough.
double kept_on(const Axis& axis, double middle, double side) {
  const double low = axis.edges().front() + 0.5 * side, high = axis.edges().back() - 0.5 * side;
  return low < high ? std::clamp(middle, low, high) : 0.5 * (low + high);
}

/// Where the mean over a patch is furthest from nothing; of equals, the one nearest to the region's middle.
Spot strongest_patch(const Difference& d, const FaceRegion& region, double side) {
  std::vector<Spot> spots;
  std::vector<double> strengths;
  const auto columns = raster(region.across, d.step), rows = raster(region.up, d.step);
  spots.reserve(columns.size() * rows.size());
  strengths.reserve(columns.size() * rows.size());
  double most = 0.0;
  for (const double y : rows)
    for (const double x : columns) {
      const Spot p{kept_on(d.built.across, x, side), kept_on(d.built.up, y, side)};
      spots.push_back(p);
      strengths.push_back(std::abs(d.over(p, side)));
      most = std::max(most, strengths.back());
    }
  const double x = 0.5 * (region.across.from + region.across.to), y = 0.5 * (region.up.from + region.up.to);
  Spot best = spots.front();
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < spots.size(); ++i) {
    const double away = std::hypot(spots[i].across - x, spots[i].up - y);
    if (strengths[i] < most * (1.0 - 1e-6) || away >= nearest) continue;
    best = spots[i];
    nearest = away;
  }
  return best;
}

/// The point of a patch that is furthest from nothing on the side of `sign`.
Spot peak_in(const Difference& d, Spot middle, double side, double sign) {
  Spot best = middle;
  for (const double y : raster({middle.up - 0.5 * side, middle.up + 0.5 * side}, d.step))
    for (const double x : raster({middle.across - 0.5 * side, middle.across + 0.5 * side}, d.step))
      if (sign * d.at({x, y}) > sign * d.at(best)) best = {x, y};
  return best;
}

/// How far the spot reaches from its peak, in steps of (dx, dy), until it is below half of it or the face
/// ends; linear between the last two steps [m].
double reach(const Difference& d, Spot peak, double dx, double dy) {
  const double top = d.at(peak), length = std::hypot(dx, dy);
  const auto on = [](const Axis& axis, double x) {
    return x >= axis.edges().front() && x <= axis.edges().back();
  };
  double before = 1.0;
  for (int n = 1;; ++n) {
    const Spot p{peak.across + n * dx, peak.up + n * dy};
    if (!on(d.built.across, p.across) || !on(d.built.up, p.up)) return (n - 1) * length;
    const double share = d.at(p) / top;
    if (share < 0.5) return (n - 1 + (before - 0.5) / (before - share)) * length;
    before = share;
  }
}

double area_beyond(const Difference& d, const FaceRegion& region, double half) {
  const auto columns = raster(region.across, d.step), rows = raster(region.up, d.step);
  std::size_t n = 0;
  for (const double y : rows)
    for (const double x : columns) n += d.at({x, y}) / half >= 1.0 ? 1 : 0;
  const auto all = static_cast<double>(columns.size() * rows.size());
  return region.across.length() * region.up.length() * static_cast<double>(n) / all;
}

/// By noise, by size, and by the normal pattern. `sure` is what per_kelvin is known to [K/K].
void judge(Visibility& v, const Sight& sight, const NormalPattern& normal, double sure) {
  v.needed = times_noise * sight.noise / std::abs(v.seen_per_kelvin);  // infinite where nothing is seen
  // What cannot be seen even at the far end of its uncertainty is too weak, however unsure.
  const double at_best = times_noise * sight.noise / (std::abs(v.seen_per_kelvin) + sure);
  if (normal.studs && *normal.studs != 0.0) v.of_studs = std::abs(v.per_kelvin / *normal.studs);
  v.stands_out = std::abs(v.per_kelvin) > normal.bays_apart &&
                 std::abs(v.per_kelvin) >= share_of_stud * std::abs(normal.studs.value_or(0.0));
  const double least = std::min(v.width, v.height);
  if (!(at_best <= most_difference))
    v.showing = Showing::too_weak;
  else if (std::abs(v.per_kelvin) <= sure || v.needed > most_difference)
    v.showing = Showing::unsure;
  else if (least < 3.0 * sight.pixel) {
    v.showing = Showing::too_small;
    v.come_within = sight.distance * least / (3.0 * sight.pixel);
  } else
    v.showing = Showing::shows;
}

}  // namespace

double reading_slope(double celsius, double reflected_celsius, double emissivity) {
  const double T = celsius + 273.15, R = reflected_celsius + 273.15;
  const double reading =
      std::sqrt(std::sqrt(emissivity * std::pow(T, 4) + (1.0 - emissivity) * std::pow(R, 4)));
  return emissivity * std::pow(T / reading, 3);
}

std::vector<Visibility> visibility(const FacePair& faces, const std::vector<FaceRegion>& regions,
                                   const Sight& sight, const NormalPattern& normal) {
  const double kelvin = difference_of(faces);
  const Difference d{faces, face_sums(faces.built), face_sums(faces.right), step_for(regions, sight.pixel)};
  const double patch = 3.0 * sight.pixel, smeared = std::hypot(patch, std::sqrt(12.0) * sight.blur);
  std::vector<Visibility> all;
  all.reserve(regions.size());
  for (const FaceRegion& region : regions) {
    Visibility v;
    v.name = region.name;
    const Spot middle = strongest_patch(d, region, patch);
    const double contrast = d.over(middle, patch);
    v.per_kelvin = contrast / kelvin;
    v.across = middle.across;
    v.up = middle.up;
    v.seen_per_kelvin =
        d.over(middle, smeared) / kelvin *
        reading_slope(temperature_on(faces.right, v.across, v.up), sight.reflected, sight.emissivity);
    const Spot peak = peak_in(d, middle, patch, contrast);
    if (contrast * d.at(peak) > 0.0) {
      v.width = reach(d, peak, d.step, 0.0) + reach(d, peak, -d.step, 0.0);
      v.height = reach(d, peak, 0.0, d.step) + reach(d, peak, 0.0, -d.step);
      v.area = area_beyond(d, region, 0.5 * d.at(peak));
    }
    judge(v, sight, normal, faces.uncertainty / std::abs(kelvin));
    all.push_back(std::move(v));
  }
  return all;
}

bool shows_at(const Visibility& seen, double difference) {
  return seen.showing == Showing::shows && seen.stands_out && std::abs(difference) >= seen.needed;
}

}  // namespace coldbay
