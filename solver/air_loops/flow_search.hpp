#pragma once

#include <vector>

#include "solver/air_loops/air_flow.hpp"

namespace coldbay {

/// Looks for the flows that drive themselves: those whose temperatures drive the same flows.
///
/// The more air goes round, the less it is driven, for it evens the temperatures out; so the answer is
/// unique. Taking what was driven for the next try would overshoot without end where a loop is strong. In
/// each connected part the strength is found by the secant rule in its logarithm, with the slope kept where
/// theory has it, between -1 and -3 for ln(driven / tried), so that no step leads away; how the flow is
/// shared out among the ways follows what was driven.
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
  const AirPaths& paths_;
  std::vector<Last> last_;
};

/// || driven - tried || / || tried ||, 0 where nothing flows but rounding.
double flow_change(const LinkFlows& tried, const LinkFlows& driven);

}  // namespace coldbay
