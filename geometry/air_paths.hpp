#pragma once

#include <array>
#include <vector>

#include "geometry/axis.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// The widest gap that air flows through as through a channel [m]. Beyond it the laminar, fully developed
/// profile ends: flow is reckoned as of this width, heat across the gap by the rule for air spaces.
inline constexpr double widest_channel = 0.020;

/// How air may pass a cell: through a gap, through a fill of this permeability [m2], or not at all.
struct Passage {
  bool gap = false;
  double permeability = 0.0;
  bool held = false;  ///< a pipe that is held at a temperature: air round it is not air round a fill
};

/// Where air can go in a grid, as a network: one node for every row of cells across a gap, for there the
/// pressure is the same, and links between rows that touch and through permeable fill.
///
/// The thickness of a gap at a place is that of the row there, so sheets, slots at the ends, joints along a
/// side and tapered pockets are all drawn by the same rule: between two rows side by side air meets two half
/// cells of plane channel in series, w t^3 / 12 per length ([White1991], the flow between parallel plates).
/// At a corner, where the rows turn, a row offers none along itself.
///
/// Holds   only what a loop can run through: connected air with two gaps behind each other in depth
/// somewhere.
struct AirPaths {
  struct Row {
    Index first = 0, stride = 0, count = 0;  ///< its cells: first + stride * n
    Direction across = Direction::depth;     ///< the gap
    double thickness = 0.0;                  ///< of the gap there [m]
    double height = 0.0;                     ///< of its middle [m]
  };
  /// One of the cell faces that a link goes through, and its share of the flow.
  struct Face {
    Index from = 0, to = 0;
    double share = 1.0;
  };
  struct Link {
    Index a = 0, b = 0;        ///< rows; flow counts positive from a to b
    double conductance = 0.0;  ///< times the pressure difference over the viscosity it is the flow [m3]
    /// Where the way turns from one gap into another: the area by which the flow has its greatest speed [m2];
    /// 0 where it goes straight on.
    double turn_area = 0.0;
    Index first_face = 0, faces = 0;  ///< in AirPaths::faces
  };
  Direction up = Direction::up;  ///< the axis of the grid along which heights count
  std::vector<Row> rows;
  std::vector<Link> links;
  std::vector<Face> faces;
  std::vector<Index> row_of;   ///< [cell]; -1 where no air loops
  std::vector<double> reach;   ///< [cell]: its size across the gap [m]; 0 where no air loops
  std::vector<Index> part_of;  ///< [row]: which connected part it belongs to, from 0
  Index parts = 0;

  bool empty() const { return rows.empty(); }
};

/// Finds them. `passages` has one entry for every cell, across fastest, then up, then depth.
AirPaths air_paths(const std::array<Axis, 3>& axis, const std::vector<Passage>& passages, Direction up);

}  // namespace coldbay
