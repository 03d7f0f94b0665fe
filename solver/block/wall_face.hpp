#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "geometry/wall/pieces.hpp"
#include "geometry/wall/wall.hpp"
#include "solver/block/block_face.hpp"
#include "solver/results/face_map.hpp"
#include "solver/solve.hpp"

namespace coldbay {

/// How well one part of the wall is known that was solved by itself.
struct KnownPart {
  Span own;                                   ///< across [m]
  double uncertainty = 0.0;                   ///< of the room face there, anywhere [K]
  double heat_uncertainty = 0.0;              ///< of the heat through it [W]
  double worst_across = 0.0, worst_up = 0.0;  ///< where it is least known [m]
  bool reached = false;                       ///< the accuracy asked for
  bool loops = false;                         ///< air loops in it
};

/// The room face and the outer face of a whole wall, in three dimensions.
///
/// Heat counts positive from the room outward. The outer face is that of the inner side of a well-ventilated
/// layer, where the wall has one.
struct WallFace {
  FaceMap room, outer;
  std::optional<FaceMap> sheathing;    ///< the room side of what lies outside of the frame; on the same axes
  std::vector<double> heat_flux_room;  ///< from the room into the wall, by cell of the room face [W/m2]
  double uncertainty = 0.0;            ///< of the room face, anywhere on it [K]
  double heat_flow = 0.0;              ///< from the room into the wall [W]
  double heat_to_outside = 0.0;        ///< from the wall to the outside [W]
  double heat_from_held = 0.0;         ///< from what is held within the wall [W]
  double heat_flow_uncertainty = 0.0;  ///< of each of these [W]
  std::optional<double> u_value;       ///< over the whole elevation [W/(m2 K)]; empty where something is held
  std::vector<std::string> warnings;
  std::vector<std::vector<FaceRefinement>> refinements;  ///< of each part that was solved
  SolveReport report;                                    ///< the worst of all solves
  bool reached = false;                                  ///< the accuracy asked for
  Index cells = 0;                                       ///< of the largest grid
  std::vector<KnownPart> parts;  ///< left to right; together the whole wall, each a bay or all of it
};

/// The face of a wall: drawn, its air spaces settled, judged by halving each axis, refined where it is not
/// known well enough (solver/block/block_face.hpp), bay by bay where that takes fewer cells
/// (solver/block/windows.hpp). A bay that cannot be known so well with four million cells is given as well as
/// it is known, with its uncertainty (WallFace::parts); its neighbours do not wait for it.
///
/// Throws ModelError where the wall cannot be drawn (geometry/block/block.hpp) or an end of it is not
/// adiabatic, SolverError where a solve fails.
WallFace wall_face(const BuiltWall& wall, const Surroundings& surroundings, const FaceAccuracy& accuracy = {},
                   const SolverOptions& options = {});

/// Of several walls between the same air, as one built and the same built right: bays that show the same, in
/// whichever of them, are solved once.
std::vector<WallFace> wall_faces(const std::vector<BuiltWall>& walls, const Surroundings& air,
                                 const FaceAccuracy& accuracy = {}, const SolverOptions& options = {});

/// The same of a wall not yet built.
WallFace wall_face(const Wall& wall, const Surroundings& air, const FaceAccuracy& accuracy = {},
                   const SolverOptions& options = {});

}  // namespace coldbay
