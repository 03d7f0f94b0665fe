#pragma once

#include "geometry/wall/faults.hpp"
#include "tests/support/walls.hpp"

namespace coldbay::test {

inline constexpr std::size_t fault_count = static_cast<std::size_t>(Fault::box_margin) + 1;

/// Does one thing to a bay that was built right, in a frame 80 mm deep or more, more of it the larger `size`
/// (0 to 1). What stands in the bay then, box or cable, is at 1.2 m.
inline void make(Fault fault, Bay& bay, double size, double frame_depth = 0.089) {
  using Behind = Enclosure::Behind;
  const auto box = [&](Behind behind) {
    bay.enclosures = {box_at(1.2)};
    bay.enclosures[0].behind = behind;
    bay.enclosures[0].depth = 0.0127 + 0.6 * frame_depth;
  };
  switch (fault) {
    case Fault::missing:
      bay.fills.clear();
      break;
    case Fault::gap:
      bay.gap.left = 0.03 * size;
      break;
    case Fault::narrow:
      bay.width = bay.clear_width - 0.01 - 0.04 * size;
      break;
    case Fault::forced:
      bay.width = bay.clear_width + friction_fit + 0.003 + 0.04 * size;
      break;
    case Fault::short_end:
      bay.short_end = ShortEnd{0.15 * size, BayEnd::top, false};
      break;
    case Fault::folded:
      bay.folded = FoldedEnd{0.02 + 0.15 * size, BayEnd::bottom};
      break;
    case Fault::fallen:
      bay.fallen = 0.3 * size;
      break;
    case Fault::settled_fill:
      bay.fills[0].batt.reset();
      bay.settled = 0.2 * size;
      break;
    case Fault::thin:
      bay.thickness = (0.95 - 0.4 * size) * frame_depth;
      break;
    case Fault::squeezed:
      bay.fills[0].batt->thickness = bay.fills[0].thickness = (1.05 + size) * frame_depth;
      break;
    case Fault::inset_staples:
      bay.staples = InsetStaples{0.003 + 0.02 * size, 0.0508, false};
      break;
    case Fault::shoulders:
      bay.shoulders = 0.04 * size;
      break;
    case Fault::scraps:
      bay.fill_fraction = 0.7;
      bay.scraps = Scraps{static_cast<std::uint64_t>(1000.0 * size), 0.06, 0.1, 2};
      break;
    case Fault::hole:
      bay.voids = {{Direction::up, Rectangle{{0.1, 0.1 + 0.1 * size}, {0.02, 0.06}}, {}, bay.path + ".void"}};
      break;
    case Fault::pushed_over:
      bay.runs = {cable_at(1.2)};
      break;
    case Fault::cold_pipe:
      bay.runs = {cable_at(1.2)};
      bay.runs[0].kind = ServiceRun::Kind::pipe;
      bay.runs[0].diameter = 0.022;
      bay.runs[0].wall = 0.0009;
      bay.runs[0].inside = material("water", 0.6);
      break;
    case Fault::box_open:
      box(Behind::open);
      break;
    case Fault::box_squeezed:
      box(Behind::squeezed);
      break;
    case Fault::box_piece:
      box(Behind::piece);
      bay.enclosures[0].piece = 0.005 + 0.02 * (1.0 - size);
      break;
    case Fault::box_margin:
      box(Behind::filled);
      bay.enclosures[0].margin = 0.02 * size;
      break;
  }
  for (Enclosure& e : bay.enclosures) e.path = bay.path + ".box";
  for (ServiceRun& r : bay.runs) r.path = bay.path + ".cable";
}

/// A random wall with everything in it: every fault once, in wood with a window and corners, blocking and
/// posts of several studs between; in steel without window and corners.
inline Wall everything(std::mt19937& rng, bool steel) {
  Wall w = two_by_four();
  const Bay sound = w.bays[0];
  w.bays.clear();
  w.height = uniform(rng, 2.3, 2.7);
  w.frame.blocking = {uniform(rng, 1.3, 1.5)};
  if (steel) {
    w.frame.material = material("steel", 50.0);
    w.frame.sheet = 0.0011;
    w.frame.member_width = 0.041;
    w.frame.top_plates = 1;
  }
  const auto path = [&] { return "wall.bays[" + std::to_string(w.bays.size()) + "]"; };
  for (std::size_t f = 0; f < fault_count; ++f) {
    Bay bay = sound;
    bay.path = path();
    bay.clear_width = uniform(rng, 0.25, 0.5);
    make(static_cast<Fault>(f), bay, uniform(rng, 0.2, 1.0));
    w.bays.push_back(bay);
  }
  // A pipe and a cable that run up, too.
  for (const ServiceRun::Laid laid : {ServiceRun::Laid::behind, ServiceRun::Laid::split}) {
    Bay bay = sound;
    bay.path = path();
    make(Fault::cold_pipe, bay, 1.0);
    bay.runs[0].laid = laid;
    bay.runs[0].runs_up = true;
    bay.runs[0].at = uniform(rng, 0.05, 0.3);
    w.bays.push_back(bay);
  }
  w.posts.resize(w.bays.size() + 1);
  for (Post& p : w.posts) p.studs = 1 + static_cast<int>(rng() % 2);
  if (steel) return w;
  Bay window = sound;
  window.path = path();
  Opening o;
  o.width = 0.6;
  o.sill = 0.9;
  o.head = 1.9;
  o.header = 0.1;
  o.u_value = 1.4;
  o.path = window.path + ".opening";
  window.clear_width = o.width + 2.0 * w.frame.member_width;
  window.opening = o;
  w.bays.push_back(window);
  w.bays.push_back(sound);
  w.bays.back().path = "wall.bays[" + std::to_string(w.bays.size() - 1) + "]";
  w.posts.resize(w.bays.size() + 1);
  w.posts.front().kind = Post::Kind::corner_three;
  w.posts.back().kind = Post::Kind::corner_open;
  return w;
}

}  // namespace coldbay::test
