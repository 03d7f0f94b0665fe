#include "solver/air_loops/flow_search.hpp"

#include <Eigen/Core>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <utility>

namespace coldbay {
LinkFlows FlowSearch::by_strength(const LinkFlows& tried, const LinkFlows& driven) {
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
    // Half the shape that was tried, half that of what was driven, at the strength that is sought: driven
    // alone, the shape swings round its own answer, in a face with growing swings.
    keep[p] = 0.5 * std::exp(step);
    take[p] = keep[p] * std::sqrt(s.tried / s.driven);
  }
  LinkFlows out(tried.size());
  for (std::size_t l = 0; l < out.size(); ++l) out[l] = keep[part(l)] * tried[l] + take[part(l)] * driven[l];
  return out;
}

LinkFlows FlowSearch::by_all_tries() const {
  const Try& last = tries_.back();
  const auto n = static_cast<Eigen::Index>(last.flows.size());
  const auto columns = static_cast<Eigen::Index>(tries_.size()) - 1;
  const auto as_vector = [n](const LinkFlows& f) { return Eigen::Map<const Eigen::VectorXd>(f.data(), n); };
  Eigen::VectorXd next = as_vector(last.flows) + part_taken_ * as_vector(last.error);
  if (columns > 0) {
    Eigen::MatrixXd dx(n, columns), df(n, columns);
    for (Eigen::Index c = 0; c < columns; ++c) {
      const Try &a = tries_[static_cast<std::size_t>(c)], &b = tries_[static_cast<std::size_t>(c) + 1];
      dx.col(c) = as_vector(b.flows) - as_vector(a.flows);
      df.col(c) = as_vector(b.error) - as_vector(a.error);
    }
    const Eigen::VectorXd gamma = df.colPivHouseholderQr().solve(as_vector(last.error));
    next -= (dx + part_taken_ * df) * gamma;
  }
  return {next.data(), next.data() + n};
}

LinkFlows FlowSearch::next(const LinkFlows& tried, const LinkFlows& driven) {
  constexpr double near = 0.5;        // strengths are, then
  constexpr std::size_t kept = 9;     // tries: eight differences
  constexpr double least_part = 0.1;  // taken where a try led away
  const double error = flow_change(tried, driven);
  if (tried.empty()) return {};
  if (tries_.empty() && error > near) return by_strength(tried, driven);
  Try now{tried, driven};
  for (std::size_t l = 0; l < tried.size(); ++l) now.error[l] -= tried[l];
  if (!tries_.empty() && error > 2.0 * last_error_) {
    part_taken_ = std::max(least_part, 0.5 * part_taken_);
    tries_.erase(tries_.begin(), tries_.end() - 1);
  }
  last_error_ = error;
  tries_.push_back(std::move(now));
  if (tries_.size() > kept) tries_.erase(tries_.begin());
  return by_all_tries();
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
