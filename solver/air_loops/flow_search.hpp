#pragma once

#include <vector>

#include "solver/air_loops/air_flow.hpp"

namespace coldbay {

/// Looks for the flows that drive themselves: those whose temperatures drive the same flows.
///
/// The more air goes round, the less it is driven, for it evens the temperatures out; so the answer is
/// unique. Taking what was driven for the next try would overshoot without end where a loop is strong. At
/// first only the strength of each connected part is looked for, by the secant rule in its logarithm, with
/// the slope kept where theory has it, between -1 and -3 for ln(driven / tried), so that no step leads away.
/// Once that is near, what is left is how the flow is shared out among the ways, and all tries so far say
/// where that leads
/// ([Anderson1965]: the combination of them whose errors cancel best, and a part of what is left).
class FlowSearch {
 public:
  explicit FlowSearch(const AirPaths& paths) : paths_(paths), last_(static_cast<std::size_t>(paths.parts)) {}

  /// What to try next, after `tried` drove `driven`.
  LinkFlows next(const LinkFlows& tried, const LinkFlows& driven);

 private:
  struct Last {
    bool known = false;
    double strength = 0.0, excess = 0.0;  ///< both logarithms
  };
  struct Try {
    LinkFlows flows, error;  ///< driven - tried
  };
  LinkFlows by_strength(const LinkFlows& tried, const LinkFlows& driven);
  LinkFlows by_all_tries() const;

  const AirPaths& paths_;
  std::vector<Last> last_;
  std::vector<Try> tries_;
  double part_taken_ = 0.5;  ///< of what is left
  double last_error_ = 0.0;
};

/// || driven - tried || / || tried ||, 0 where nothing flows but rounding.
double flow_change(const LinkFlows& tried, const LinkFlows& driven);

}  // namespace coldbay
