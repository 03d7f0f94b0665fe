#pragma once

#include <vector>

#include "materials/air_properties.hpp"
#include "solver/air_loops/air_flow.hpp"
#include "solver/air_loops/loop_column.hpp"

namespace coldbay {

/// A stretch across a bay over which the batt lies alike.
struct LoopStrip {
  double width = 0.0;                          ///< [m]
  double room_gap = 0.0, sheathing_gap = 0.0;  ///< air in front of the batt and behind it; 0: it touches [m]
  double batt = 0.0;                           ///< resistance of the batt there [m2 K/W]
  bool operator==(const LoopStrip&) const = default;
};

/// A bay with a batt, as far as air may go round it. In its own plane, seen from the room:
///
///          top slot
///       +------------+
///       |  |  |   |  |   strips, left to right; air rises on the warm side of
///       |  |  |   |  |   the batt and falls on its cold side, through the slots,
///       |  |  |   |  |   the joints at its sides or the batt itself
///       +------------+
///         bottom slot
///
/// Units   metres, m2 K/W, W/(m2 K), degC.
/// Holds   height, path, the widths and the resistances above zero; gaps, slots and joints not below.
/// Not in  heat along the layers, the studs and the plates, leaks through lining or sheathing, wind.
struct BayLoop {
  double height = 0.0;  ///< of the batt [m]
  std::vector<LoopStrip> strips;
  double bottom_slot = 0.0, top_slot = 0.0;    ///< height of the air between its ends and the plates [m]
  double left_joint = 0.0, right_joint = 0.0;  ///< width of the air between its sides and the studs [m]
  double path = 0.0;                           ///< through slots and joints: the thickness of the batt [m]
  double permeability = 0.0;                   ///< of the batt [m2]; 0: airtight
  double inside_resistance = 0.0;              ///< film and lining [m2 K/W]
  double outside_resistance = 0.0;             ///< sheathing, what lies outside of it, film [m2 K/W]
  double room_radiation = 0.0, sheathing_radiation = 0.0;  ///< across the gaps, face to face [W/(m2 K)]
  double inside = 20.0, outside = 0.0;                     ///< [degC]
  bool operator==(const BayLoop&) const = default;
};

/// What the model takes for granted. Change one at a time.
///
/// Gaps wider than `widest_channel` flow as of that width and conduct as of it, too: the rule for air spaces
/// gains nothing there ([ISO6946]: 1.25 W/(m2 K) or k/d, whichever is more, up to 5 K from face to face).
struct LoopModel {
  double nusselt = 140.0 / 17.0;  ///< of flowing air, see loop_column.hpp
  /// Velocity heads lost in each gap, half where the air comes in and half where it leaves. Without them U is
  /// 2 % higher at 10 mm and 20 K.
  double heads = 2.0 * heads_lost_at_turn;
  double air_conductivity = still_air_conductivity;  ///< [W/(m K)]
};

/// A loop as it flows in the end. Per metre of the bay's width; U-values are the heat between the studs
/// alone, without them.
struct SteadyLoop {
  double flow = 0.0;  ///< up on the room side and down on the other, at the height where it is most [m2/s]
  /// Over how much height the air takes on the temperature of what it comes to: how high the cold foot and
  /// how deep the warm head is [m]. 0 where nothing flows.
  double exchange_length = 0.0;
  double velocity = 0.0;   ///< mean across a gap, where it is fastest [m/s]
  double reynolds = 0.0;   ///< 2 q / nu; the flow is laminar far below 2000
  double u_still = 0.0;    ///< with the air standing still [W/(m2 K)]
  double u_loop = 0.0;     ///< with the air flowing [W/(m2 K)]
  double imbalance = 0.0;  ///< |heat from the room - heat to the outside|, of the former
};

double width_of(const BayLoop& bay);

/// Whether all of the batt lies alike, so that one loop through the ends is all there is: one strip, no
/// joints at the sides, and a batt that is airtight.
bool is_single_loop(const BayLoop& bay);

/// The layers at a strip of the bay.
ColumnLayers layers_at(const BayLoop& bay, const LoopStrip& strip, const LoopModel& model = {});

/// The loop of a bay that is_single_loop(), solved exactly: gaps, slots and sides may all be unequal.
///
/// Flow, laminar between parallel faces, with losses at the ends:
///
///   12 mu q (H (1/d1^3 + 1/d2^3) + L (1/e0^3 + 1/e1^3)) + K rho q^2/2 (1/d1^2 + 1/d2^2)
///                                                        = rho g beta H |Ti - Te| (t1 - t2)          (1)
///
/// Heat, with G = rho cp q and the air as warm on both sides at either end:
///
///   G t1' = sum of (conductance x difference) into air 1,  -G t2' = the same into air 2              (3)
///
/// whose solution is two exponentials. Buoyancy only ever falls with q, so that (1) has one root. Derived for
/// this project from the equations of laminar flow and of a heat exchanger. Flow is zero where a gap or a
/// slot is, or where it is as warm inside as outside. Throws ModelError where the bay is no single loop.
SteadyLoop single_loop(const BayLoop& bay, const LoopModel& model = {});

/// The same by a closed form, with both sides of the batt alike: u, v the means over both of what links the
/// air to the near and to the far air, ub from gap to gap, a = u + v, M = H/2 sqrt(a (a + 2 ub)), N = M/G:
///
///   N - tanh N = N0 (1 + phi + kappa/N)                                                              (4)
///   U = U0 + (u - v)^2/(2 (a + 2 ub)) tanh N / N,   U0 = a/2 + C_ie - (u - v)^2/(2 (a + 2 ub))
///
/// N0 is N without slots and losses, phi what the slots resist over what the gaps do, kappa/N the same of the
/// losses. Exact where both sides are alike; derived for this project.
SteadyLoop closed_form_loop(const BayLoop& bay, const LoopModel& model = {});

}  // namespace coldbay
