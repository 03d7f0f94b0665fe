#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "solver/air_loops/bay_loop.hpp"

namespace coldbay {

/// A way for air from one node to the next.
struct AirLink {
  Eigen::Index from = 0, to = 0;
  double conductance = 0.0;               ///< flow per pressure, laminar, over the viscosity of 1 Pa s [m3]
  double lift_from = 0.0, lift_to = 0.0;  ///< how far it goes up at the temperature of either node [m]
  double area = 0.0;                      ///< that a flow along the height has; 0 for any other [m2]
  double heads = 0.0;                     ///< velocity heads lost on it
  double conducts = 0.0;                  ///< area over length for heat in its air, where it counts [m]
  std::optional<int> room_row = {};       ///< where it leads up the room side: into which row from below
};

/// Wall, gap, batt, gap, wall at one place of the bay. A gap that is none has no node.
struct BayColumn {
  double area = 0.0;  ///< [m2]
  ColumnLayers layers;
  std::optional<Eigen::Index> air_1, air_2;
  std::optional<std::size_t> through;  ///< the link through the batt, from air 1 to air 2
};

/// The air of a bay in its plane: nodes in each gap by strip and row, and one in each slot by strip.
///
///     slot   o---o---o      gaps: Hele-Shaw sheets, d^3/12 times width over length, up and across;
///            |   |   |      slots: channels e high, through the thickness of the batt and across;
///     gap    o---o---o      joints: channels s wide, from gap to gap along the sides;
///            |   |   |      the batt: its permeability, from gap to gap
///
/// Air rises or falls in the gaps only; the joints at the sides are crossed level. It conducts heat across
/// and in the slots, where it may stand still; along the height of a gap that is left out, as in
/// single_loop().
struct BayMesh {
  Eigen::Index nodes = 0;
  std::vector<AirLink> links;
  std::vector<BayColumn> columns;
  int rows = 0;
  double width = 0.0, height = 0.0;  ///< [m]
};

/// Rows and strips are finest at the ends and beside the joints. A bay that is the same from left and right
/// is meshed to its middle.
BayMesh bay_mesh(const BayLoop& bay, const LoopModel& model);

}  // namespace coldbay
