#include "tools/report/handout/label_dots.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>

namespace coldbay {
namespace {

constexpr double clear_enough = 1.2;  ///< [mm]

double along(PaperPoint at, bool down) { return down ? at.y : at.x; }

double best_clear(const LabelWish& wish) {
  double best = 0.0;
  for (const DotPlace& place : wish.places) best = std::max(best, place.clear);
  return std::min(best, clear_enough);
}

/// How far the good places of a wish reach along the labels: those with the least choice choose first.
double reach(const LabelWish& wish, bool down) {
  const double good = 0.6 * best_clear(wish);
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const DotPlace& place : wish.places) {
    if (place.clear < good) continue;
    low = std::min(low, along(place.at, down));
    high = std::max(high, along(place.at, down));
  }
  return high - low;
}

}  // namespace

std::vector<DotPlace> chosen_dots(const std::vector<LabelWish>& wishes, bool down, double apart,
                                  PaperBox across) {
  std::vector<std::size_t> order(wishes.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return reach(wishes[a], down) < reach(wishes[b], down);
  });
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const LabelWish& wish : wishes)
    for (const DotPlace& place : wish.places) {
      low = std::min(low, along(place.at, down));
      high = std::max(high, along(place.at, down));
    }
  std::vector<DotPlace> dots(wishes.size());
  std::vector<double> taken;
  for (const std::size_t i : order) {
    const LabelWish& wish = wishes[i];
    const double best = std::max(best_clear(wish), 1e-6), width = lettering_width(wish.name);
    double most = -HUGE_VAL;
    for (const DotPlace& place : wish.places) {
      const double here = along(place.at, down);
      constexpr double far = 40.0;  // further away is no better [mm]
      double nearest = far;
      for (const double other : taken) nearest = std::min(nearest, std::abs(other - here));
      // The weights were found by looking at drawings: apart first, then clear, then spread out, with
      // room for the name and close to it.
      double worth = 4.0 * std::min(1.0, nearest / apart) + 2.0 * std::min(1.0, place.clear / best) +
                     0.8 * std::min({nearest, here - low + apart, high - here + apart}) / far;
      if (!down && here + width + 1.0 <= across.right) worth += 0.5;
      worth -= 0.01 * (down ? place.at.x : place.at.y);  // a short line
      if (worth > most) {
        most = worth;
        dots[i] = place;
      }
    }
    taken.push_back(along(dots[i].at, down));
  }
  return dots;
}

}  // namespace coldbay
