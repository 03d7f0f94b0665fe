#pragma once

#include <array>
#include <optional>
#include <vector>

#include "geometry/block/block.hpp"
#include "solver/results/face_map.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/solve.hpp"

namespace coldbay {

/// How sure the reader wants to be of the face of a wall.
struct FaceAccuracy {
  double surface = 0.05;  ///< of the room face, anywhere on it [K]
  double heat = 0.01;     ///< of the heat through it, of that and of what is held together
};

/// One grid on the way to the faces of a block.
struct FaceRefinement {
  Index cells = 0;           ///< of the grid that is halved along each axis
  double uncertainty = 0.0;  ///< of the room face anywhere [K]
  int rounds = 0;            ///< solves until the air spaces settled
};

/// What is seen and felt on the faces of a block.
///
/// Shape   face[i + across.cells() * j], all on the axes of one grid.
struct BlockFace {
  Axis across, up;
  std::vector<double> room, outer;            ///< temperatures [degC]
  std::vector<double> sheathing;              ///< empty where there is none
  std::vector<double> flux_room, flux_outer;  ///< into the block [W/m2]
  double held = 0.0;                          ///< heat from what is held [W]
  double uncertainty = 0.0;                   ///< of the room face, anywhere between `own` [K]
  double worst_across = 0.0, worst_up = 0.0;  ///< where it is least known [m]
  double heat_uncertainty = 0.0;  ///< of the heat through either face there, and from what is held [W]
  bool reached = false;
  Index cells = 0;             ///< of the largest grid
  SolveReport report;          ///< the worst of all solves
  bool beyond_source = false;  ///< a material is at temperatures that its source did not measure
  std::vector<FaceRefinement> log;
  bool loops = false;  ///< air loops in it
};

/// The lines that a block is first solved on for the face of `own`, a stretch across: few enough to take no
/// time, fine enough that their changes tell where they are not. `coarser`: how much larger cells may be, 1
/// to 2, where little is asked and no air loops.
std::array<Axis, 3> first_lines(const Block& block, Span own, double coarser = 1.0);

/// The faces of a block.
///
/// One small grid, and three more of which each has the cells halved along one axis. Errors of the three axes
/// add up where they are small, so the small grid's answer and the three changes together are as good as a
/// grid with every cell halved, eight times as large, at the cost of seven; and 1.25 times the sum of the
/// changes (the safety factor of [Roache1994]) is how far that may still be off. Where it is more than
/// `asked` allows between `own`, a stretch across, those strips of the small grid are halved that cost the
/// face most there (solver/block/block_errors.hpp); as long as that promises to get there before the largest
/// grid has options.max_cells.
///
/// Throws SolverError where a solve fails.
BlockFace block_face(const Block& block, const Surroundings& air, Span own, const FaceAccuracy& asked,
                     const SolverOptions& options);

}  // namespace coldbay
