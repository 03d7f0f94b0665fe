#pragma once

#include <string>

#include "geometry/wall/wall.hpp"
#include "tests/support/sections.hpp"

namespace coldbay::test {

/// Three bays of a 2x4 wall, each with a batt that fits.
inline Wall two_by_four() {
  Wall w;
  w.height = 2.4;
  Layer frame;
  frame.is_frame = true;
  w.layers = {{material("lining", 0.16), 0.0127, false}, frame, {material("sheathing", 0.1), 0.0111, false}};
  w.frame.material = material("softwood", 0.115);
  w.frame.member_width = 0.038;
  w.frame.member_depth = 0.089;
  w.frame.spacing = 0.4064;
  w.frame.top_plates = 2;
  w.air = still_air();
  Bay bay;
  bay.clear_width = 0.3684;
  bay.fills = {{material("batt", 0.039), Batt{0.039, 0.089}, 0.089}};
  bay.label = "batt";
  for (int b = 0; b < 3; ++b) {
    bay.path = "wall.bays[" + std::to_string(b) + "]";
    w.bays.push_back(bay);
  }
  return w;
}

/// A steel box with its middle at a height.
inline Enclosure box_at(double height) {
  Enclosure box;
  box.centre = height;
  box.height = 0.095;
  box.width = 0.057;
  box.depth = 0.07;
  box.wall = 0.0016;
  box.material = material("steel", 50.0);
  box.cover = material("plastic", 0.2);
  box.foam = material("foam", 0.037);
  box.label = "steel box";
  return box;
}

}  // namespace coldbay::test
