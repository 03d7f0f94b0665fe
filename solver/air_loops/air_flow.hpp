#pragma once

#include <vector>

#include "geometry/air_paths.hpp"
#include "materials/air_properties.hpp"

namespace coldbay {

/// Volume flow through every link of the paths [m3/s], positive from a to b.
using LinkFlows = std::vector<double>;

/// The flows that buoyancy drives at the temperatures of the cells [degC]:
///
///     q_ab = C_ab / mu (p_a - p_b + rho g beta ((T_a + T_b)/2 - T_0) (z_b - z_a)),   sum over b of q_ab = 0,
///
/// T_a the mean over the row of cells, for the air of a gap moves as a whole; into a flat slot that of the
/// other row alone. The pressures solve a symmetric positive definite system, one for each connected part, up
/// to a constant. Where the way turns, one and a half velocity heads are lost (`heads_lost_at_turn`),
/// linearised about the flows of `before`, or not at all where those are empty.
///
/// Throws SolverError where the system cannot be solved.
LinkFlows driven_flows(const AirPaths& paths, const std::vector<double>& celsius, const AirProperties& air,
                       const LinkFlows& before);

/// A bend and the developing of the flow after it, in velocity heads; from memory, and it hardly matters:
/// none or twice as much is 1 to 2 % of U where a loop is strongest.
inline constexpr double heads_lost_at_turn = 1.5;

/// Air that goes from one cell to a neighbour, in a direction such that `flow` > 0 [m3/s].
struct CellFlow {
  Index from = 0, to = 0;
  double flow = 0.0;
};

/// The same cell by cell. What enters a row at one cell and leaves it at another goes across the gap in
/// between, so that in every cell as much comes as goes, to rounding.
std::vector<CellFlow> cell_flows(const AirPaths& paths, const LinkFlows& flows);

}  // namespace coldbay
