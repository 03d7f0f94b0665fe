#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "geometry/section.hpp"
#include "geometry/wall/wall.hpp"
#include "solver/air_loops/bay_loop.hpp"

namespace coldbay {

/// Why no air goes round a fill that has air on a face.
enum class NoLoop {
  touches_lining,     ///< nowhere is there air on its room side
  touches_sheathing,  ///< nowhere on its other side
  closed,             ///< its ends and sides leave no way round, and it is airtight
  even,               ///< it is as warm inside as outside
  unsettled           ///< it could not be reckoned
};

/// U with the gaps other than described [W/(m2 K)].
struct OtherGaps {
  double u_still = 0.0, u_loop = 0.0;
};

/// What a loop round the fill of a bay does to it, reckoned without the grid: the bay by itself, between its
/// studs and over the height of its fill, all else adiabatic.
struct LoopEstimate {
  std::optional<NoLoop> none;   ///< and the flow is zero then, and both U are the same
  SteadyLoop loop;              ///< the strongest of the bay; its U are those of all of them
  bool by_network = false;      ///< else by the single loop, exactly (bay_loop.hpp)
  bool beyond_channel = false;  ///< a gap is wider than widest_channel, and reckoned as if it were not
  /// How high its cold foot and how deep its warm head is; empty where air turns elsewhere than at the lower
  /// end, or more than half of the height is foot and head [m].
  std::optional<double> foot;
  double area = 0.0;          ///< [m2]
  double extra_heat = 0.0;    ///< by the loop, from the warmer side to the colder [W]
  double tolerance = 0.0;     ///< of the gaps [m]
  OtherGaps narrower, wider;  ///< all gaps that there are by the tolerance; closed where nothing is left
  bool reversed = false;      ///< the room is colder: air falls on its side
};

/// Share of the still heat that the loop adds; of either end of the range, too.
double loop_share(double u_still, double u_loop);

/// One bay; nothing where its fill has no faces, or lies against both, or against one but for what runs or
/// stands in the bay.
///
/// Measured against a flow solution in two dimensions (own): U within 2 %, the flow within 4 % for 2.4 m high
/// bays; 4 % of either at 0.6 m (tests/solver/bay_loop_test.cpp). Not yet against a measured wall. The range
/// is wider than that: the flow goes with the third power of the gap.
std::optional<LoopEstimate> estimate_loop(const Wall& wall, std::size_t bay, const Surroundings& air,
                                          double gap_tolerance);

/// All bays of a wall. Those that are alike are reckoned once.
std::vector<std::optional<LoopEstimate>> estimate_loops(const Wall& wall, const Surroundings& air,
                                                        double gap_tolerance);

}  // namespace coldbay
