#pragma once

#include <Eigen/Core>

namespace coldbay {

/// Air between two faces of a wall.
struct GapLink {
  double conduction = 0.0;  ///< of still air, k/d [W/(m2 K)]; not used where the faces touch
  double radiation = 0.0;   ///< from face to face, per area and kelvin [W/(m2 K)]
  bool touching = false;    ///< no air: one face lies against the other
};

/// A wall from the room outward at one place of a bay, as resistances [m2 K/W].
///
///     room --inside--|gap|--batt--|gap|--outside-- outside air
struct ColumnLayers {
  double inside = 0.0;   ///< film and lining, up to the face of the first gap
  double batt = 0.0;     ///< of the batt
  double outside = 0.0;  ///< from the face of the second gap to the outside, film included
  GapLink room, sheathing;
};

/// The same with its faces eliminated: conductances per area between the room (i), the outside (e) and the
/// mean temperatures of the air in the two gaps (1: room side, 2: sheathing side) [W/(m2 K)]. Those of a gap
/// that is none are zero.
struct LoopColumn {
  double i1 = 0.0, i2 = 0.0, e1 = 0.0, e2 = 0.0, ie = 0.0, c12 = 0.0;

  double of_air_1() const { return i1 + e1 + c12; }  ///< all from air 1
  double of_air_2() const { return i2 + e2 + c12; }
};

/// Heat between developed laminar flow and its two faces a, b: a symmetric and an antisymmetric part. With Tm
/// the mean temperature of the flow,
///
///   q_a = h ((Ta + Tb)/2 - Tm) + k/d (Ta - Tb),   q_b = h ((Ta + Tb)/2 - Tm) - k/d (Ta - Tb),
///   h = Nu k/(2 d),
///
/// and radiation goes from face to face, not through the air. Nu = 140/17 = 8.235 for an even flux
/// [ShahLondon1978]; Nu = 4 puts k/(d/2) between the air and either face, as one cell across the gap does.
/// Where nothing flows the air settles halfway and the gap conducts k/d, whatever Nu is. The faces are
/// eliminated exactly (Schur complement), so the conductances may be negative for small radiation.
LoopColumn loop_column(const ColumnLayers& layers, double nusselt);

/// The order of the rows and columns of crossed_column().
enum ColumnNode : Eigen::Index { column_room, column_outside, column_air_1, column_air_2 };

/// The same where air passes through the batt: M with (M T)_i the heat per area that leaves node i into the
/// column, T the temperatures of room, outside, air 1 and air 2. `through` is what passes from the room side
/// to the other, as heat capacity flow g = rho cp v [W/(m2 K)], negative the other way. In the batt, with R
/// its resistance, conduction and what the air carries are together
///
///   J = g (Tb1 + (Tb1 - Tb2)/(exp(g R) - 1))
///
/// exact for a porous slab whose air is as warm as its fibre. The air comes to the batt as warm as the gap
/// that it leaves, and comes out of it as warm as the face. Where both gaps are none, or `through` is 0, M is
/// symmetric and holds what loop_column() does. Needs both gaps where `through` is not 0.
Eigen::Matrix4d crossed_column(const ColumnLayers& layers, double nusselt, double through);

/// Heat through the column from the room per area, for 1 K from inside to outside, with the air at these
/// temperatures (as shares of that kelvin) [W/(m2 K)].
double heat_from_room(const LoopColumn& column, double air_1, double air_2);

/// The same, into the outside.
double heat_to_outside(const LoopColumn& column, double air_1, double air_2);

/// Temperatures of the air where it stands still, as shares of the difference from outside to inside.
struct StillAir {
  double air_1 = 0.0, air_2 = 0.0;
};
StillAir still_air(const LoopColumn& column);

/// What the air of one gap exchanges with all round it while it loses its lead over the other's, which passes
/// it the other way: the heat capacity of its flow over this is the length it takes [W/(m2 K)]. The lesser of
/// the two eigenvalues' sizes of
///
///   G t1' = -(i1 + e1 + c12) t1 + c12 t2,   -G t2' = c12 t1 - (i2 + e2 + c12) t2
double exchange_conductance(const LoopColumn& column);

}  // namespace coldbay
