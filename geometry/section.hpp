#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "materials/air_space.hpp"
#include "materials/material.hpp"

namespace coldbay {

/// The three directions of a wall, in storage order.
enum class Direction : std::size_t { across = 0, up = 1, depth = 2 };

/// A point of a section: across (left to right, seen from the room) and depth (from the room face
/// outward), both in metres.
struct Point {
  double across = 0.0;
  double depth = 0.0;
};

/// A stretch of one axis [m], from < to.
struct Span {
  double from = 0.0;
  double to = 0.0;
  double length() const { return to - from; }
};

struct Rectangle {
  Span across, depth;
};
struct Polygon {
  std::vector<Point> corners;  ///< at least three, either way round, not crossing itself
};
struct Circle {
  Point centre;
  double radius = 0.0;  ///< [m]
};
using Outline = std::variant<Rectangle, Polygon, Circle>;

/// One painted shape. `path` names its place in the case, for messages.
struct Shape {
  Outline outline;
  std::size_t material = 0;  ///< index into Section::materials
  std::string path;
  /// Which way the grain of its material runs: up in the studs of a plan section, so that heat goes
  /// across it both ways.
  Direction grain = Direction::up;
  /// An air space with slots to one side of 500 to 1500 mm2 per metre: it conducts twice as well.
  bool slightly_ventilated = false;
  bool well_ventilated = false;     ///< more than that: the section ends at its inner face
  std::optional<double> held = {};  ///< kept at this temperature [degC]: the fluid that runs in a pipe
};

struct Probe {
  std::string name;
  Point at;
  std::string path;
};

/// A named stretch of the room face whose heat flow is reported by itself: one bay of a framed
/// wall, from the middle of its left stud to the middle of its right stud.
struct FacePart {
  std::string name;   ///< "bay 2"
  std::string label;  ///< what is in it: "batt R-13, gap 12.7 mm left"
  Span across;
  Span clear;          ///< between its studs
  bool sound = false;  ///< filled without a gap or a box, so that its pattern is the normal one
  /// Air on the room side and on the sheathing side of its fill: a loop may run round it.
  bool air_on_both_faces = false;
};

/// How a section lies in its wall. In a vertical cut the axis called across runs up: 0 is the floor.
enum class CutKind { drawn, plan, vertical };

/// A cut through a wall, as drawn.
///
///     depth        +------------------------------+   outside face
///       ^          |   shapes, painted in order,  |
///       |          |   later over earlier         |
///       |          +------------------------------+   room face, depth 0
///       +--> across 0                           width
///
/// Units   metres.
/// Holds   (once geometry/section_checks.hpp finds no problem) every size finite and positive,
///         every point of the section covered by at least one shape.
/// Owns    its materials and shapes; copies are deep.
/// Not in  the air on either side (see Surroundings), the third axis, contact resistance.
struct Section {
  std::string name;
  double width = 0.0;  ///< [m]
  double depth = 0.0;  ///< [m]
  std::vector<Material> materials;
  std::vector<Shape> shapes;
  std::vector<Probe> probes;
  std::vector<FacePart> parts;        ///< empty for the direct form
  AirRule air_rule = AirRule::layer;  ///< for its air spaces
  CutKind cut = CutKind::drawn;
  /// Where a cut would look the same: heights above the floor for a plan, distances across for a vertical
  /// one, out of `stands_of` in all [m].
  std::vector<Span> stands_for;
  double stands_of = 0.0;
  /// Depth of the plane between the frame and what is outside of it: the inner face of the sheathing [m].
  std::optional<double> sheathing = {};
  /// Of a vertical cut: the bay with air on both faces of its fill, round which a loop may run.
  std::vector<std::string> loops_round;
};

/// What one face of the section exchanges heat with.
struct Exchange {
  double temperature = 0.0;  ///< of the air [degC]; of the surface itself where film is 0
  double film = 0.0;         ///< surface resistance [m2 K/W], >= 0
};

/// How warm the room's air is at a height.
struct AirLevel {
  double up = 0.0;       ///< above the floor [m]
  double celsius = 0.0;  ///< [degC]
};

/// Whether air in gaps may loop round a batt, or stands still wherever it is.
enum class AirInGaps { loops, still };

/// The air on every side. A side left empty is adiabatic.
struct Surroundings {
  Exchange inside{20.0, 0.13};
  Exchange outside{0.0, 0.04};
  std::optional<Exchange> left, right;
  /// The room's air where it is warmer above than below, in rising order; between two levels it changes
  /// evenly, beyond the last it stays. Empty where it is equally warm at all heights: then `inside` says how
  /// warm.
  std::vector<AirLevel> by_height = {};
  Direction height_runs = Direction::up;  ///< the axis of the grid along which those heights count
  AirInGaps gaps = AirInGaps::loops;      ///< what the air within the wall does
};

/// The surroundings of a section of a wall: heights run across in a vertical cut. Any other lies at one
/// height or none, and its room is as warm as `inside` says.
Surroundings air_of(const Section& section, Surroundings air);

/// How warm the room's air is at a height [degC].
double room_temperature(const Surroundings& air, double up);

/// Mean of that over a stretch of heights [degC].
double mean_room_temperature(const Surroundings& air, Span up);

/// Index of the material at a point: that of the last shape painted over it; empty where no shape
/// covers it. Points on an edge count as inside.
std::optional<std::size_t> material_at(const Section& section, Point at);

/// True where `at` lies in the outline or on its edge.
bool contains(const Outline& outline, Point at);

/// The smallest axis-parallel rectangle round an outline.
Rectangle bounding_box(const Outline& outline);

/// Area [m2] of an outline.
double area(const Outline& outline);

}  // namespace coldbay
