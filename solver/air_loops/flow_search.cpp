#include "solver/air_loops/flow_search.hpp"

#include <algorithm>
#include <cmath>

namespace coldbay {
namespace {

std::size_t at(Index i) { return static_cast<std::size_t>(i); }

}  // namespace

LinkFlows FlowSearch::next(const LinkFlows& tried, const LinkFlows& driven) {
  struct Sums {
    double tried = 0.0, both = 0.0, driven = 0.0;
  };
  std::vector<Sums> sums(last_.size());
  const auto part = [&](std::size_t link) { return at(paths_.part_of[at(paths_.links[link].a)]); };
  for (std::size_t l = 0; l < tried.size(); ++l) {
    Sums& s = sums[part(l)];
    s.tried += tried[l] * tried[l];
    s.both += tried[l] * driven[l];
    s.driven += driven[l] * driven[l];
  }
  std::vector<double> keep(sums.size(), 0.0), take(sums.size(), 0.0);
  for (std::size_t p = 0; p < sums.size(); ++p) {
    const Sums& s = sums[p];
    if (!(s.driven > 0.0)) continue;
    // Against what was tried: the loop turns round.
    if (!(s.both > 0.0)) {
      take[p] = s.tried > 0.0 ? 0.1 * std::sqrt(s.tried / s.driven) : 0.1;
      last_[p].known = false;
      continue;
    }
    const double strength = 0.5 * std::log(s.tried), excess = std::log(s.both / s.tried);
    double slope = -2.0;
    if (Last& last = last_[p]; last.known && std::abs(strength - last.strength) > 1e-12)
      slope = std::clamp((excess - last.excess) / (strength - last.strength), -3.5, -1.0);
    last_[p] = {true, strength, excess};
    const double step = std::clamp(-excess / slope, -2.0, 2.0);
    // The shape of what was driven, at the strength that is sought.
    keep[p] = 0.0;
    take[p] = std::exp(step) * std::sqrt(s.tried / s.driven);
  }
  LinkFlows out(tried.size());
  for (std::size_t l = 0; l < out.size(); ++l) out[l] = keep[part(l)] * tried[l] + take[part(l)] * driven[l];
  return out;
}

double flow_change(const LinkFlows& tried, const LinkFlows& driven) {
  constexpr double rounding = 1e-11;  // [m3/s], of a link; a gap of 1 mm lets through 1e-6 per metre
  double change = 0.0, size = 0.0, most = 0.0;
  for (std::size_t l = 0; l < tried.size(); ++l) {
    change += (driven[l] - tried[l]) * (driven[l] - tried[l]);
    size += tried[l] * tried[l];
    most = std::max({most, std::abs(tried[l]), std::abs(driven[l])});
  }
  if (most < rounding) return 0.0;
  return size > 0.0 ? std::sqrt(change / size) : 1.0;
}

}  // namespace coldbay
