#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/section.hpp"
#include "materials/batt.hpp"
#include "materials/material.hpp"
#include "materials/model_error.hpp"

namespace coldbay {

/// One layer of a wall; the frame layer is as deep as its members.
struct Layer {
  Material material;       ///< not used for the frame layer
  double thickness = 0.0;  ///< [m]
  bool is_frame = false;
  bool slightly_ventilated = false, well_ventilated = false;  ///< of an air layer, see Shape
};

/// Studs at a spacing, with plates at the bottom and the top of the wall.
struct Frame {
  Material material;
  double member_width = 0.0;  ///< of a stud, across the wall; of a plate, upward [m]
  double member_depth = 0.0;  ///< [m]
  double spacing = 0.0;       ///< of the studs, centre to centre [m]
  int bottom_plates = 1, top_plates = 1;
};

/// Air beside the fill of a bay, as thick as given on each of its four sides in plan [m].
struct Gap {
  double left = 0.0, right = 0.0, room = 0.0, sheathing = 0.0;
};

/// An electrical box, fixed to a stud with its front flush with the room face, closed there by a
/// cover plate, air inside.
struct Box {
  enum class Stud { left, right };
  enum class Behind { open, filled };
  double centre = 0.0;                            ///< height of its middle above the floor [m]
  double height = 0.0, width = 0.0, depth = 0.0;  ///< outside, depth from the room face [m]
  double wall = 0.0;                              ///< thickness of its sides and back [m]
  Material material;                              ///< of its sides and back
  Material cover;                                 ///< of its cover plate
  Stud stud = Stud::left;
  Behind behind = Behind::open;  ///< open: air from its back to the sheathing; filled: the bay's fill
  std::string label;             ///< in the reader's words
};

struct Bay {
  double clear_width = 0.0;  ///< between its studs [m]
  Material fill;             ///< air space for an empty bay
  /// The label, where the fill is a batt. One thicker than the room it has is squeezed (materials/batt.hpp).
  std::optional<Batt> batt;
  /// Scraps of the batt, stuffed in: their density over that of the batt at its label thickness. Empty where
  /// the batt is whole.
  std::optional<double> fill_fraction;
  Gap gap;
  std::optional<Box> box;
  std::string label;  ///< in the reader's words, without the box
  std::string path;
};

/// A framed wall as built, seen from the room.
///
///      | stud | bay 1 | stud | bay 2 | stud |     layers from the room outward, one of them the frame
///
/// Units   metres.
/// Not in  openings, corners, services other than boxes, faults that change along the height.
struct Wall {
  double height = 0.0;
  std::vector<Layer> layers;
  Frame frame;
  std::vector<Bay> bays;  ///< left to right
  Material air;           ///< what fills gaps and boxes
};

/// Everything about a wall that cannot be built as described. Empty where all is well.
std::vector<Problem> check(const Wall& wall);

/// The horizontal cut at a height above the floor [m], from the middle of the first stud to the middle of
/// the last. Boxes that reach over this height are drawn; all else runs the full height.
///
/// Throws ModelError at `path` where the height lies outside the wall or in a plate.
Section plan_section(const Wall& wall, double height, const std::string& name, const std::string& path);

}  // namespace coldbay
