#pragma once

#include <random>
#include <string>

#include "geometry/wall/build.hpp"
#include "geometry/wall/fill.hpp"
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

/// The place of a bay of a wall before anything is built.
inline Region space_of_bay(const Wall& wall, std::size_t bay) {
  const Elevation e = elevation_of(wall);
  return {e.bays[bay], e.up, depths_of(wall).frame};
}

/// A wall of one bay between two half studs, of seeded random dimensions, with a batt that fits: its label
/// is as thick as the frame is deep.
inline Wall random_bay(std::mt19937& rng) {
  Wall w = two_by_four();
  w.bays.resize(1);
  w.height = uniform(rng, 2.0, 3.0);
  w.frame.member_width = uniform(rng, 0.035, 0.05);
  w.frame.member_depth = uniform(rng, 0.08, 0.2);
  w.bays[0].clear_width = uniform(rng, 0.3, 0.6);
  const double depth = w.frame.member_depth, k = uniform(rng, 0.033, 0.045);
  w.bays[0].fills = {{material("batt", k), Batt{k, depth}, depth}};
  return w;
}

/// A cable of 10 mm from stud to stud, in the middle of a 2x4 frame.
inline ServiceRun cable_at(double height, ServiceRun::Laid laid = ServiceRun::Laid::over) {
  ServiceRun run;
  run.diameter = 0.010;
  run.material = material("cable", 0.25);
  run.at = height;
  run.depth = 0.0445;
  run.laid = laid;
  run.label = "cable";
  return run;
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
