#pragma once

#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "solver/forecast.hpp"
#include "tests/support/sections.hpp"

namespace coldbay::test {

inline ConductivityGrid grid_of(const Section& s, double factor = 1.0) {
  const GridLines lines = grid_lines(s, factor, 10'000'000);
  return rasterise(s, lines.across, lines.depth);
}

inline Surroundings winter() { return {{20.0, 0.13}, {0.0, 0.04}, {}, {}}; }

/// A wall section drawn by a seeded generator: lining, a cavity with one to three things in it (timber,
/// steel, void, a slanted piece), sheathing. All plain conductivities.
inline Section random_wall(unsigned seed, bool slants = true) {
  std::mt19937 rng(seed);
  const double lining = uniform(rng, 0.01, 0.02), cavity = uniform(rng, 0.06, 0.2),
               sheathing = uniform(rng, 0.008, 0.03);
  Section s = layered(uniform(rng, 0.2, 0.8), {{lining, uniform(rng, 0.15, 0.3)},
                                               {cavity, uniform(rng, 0.03, 0.05)},
                                               {sheathing, uniform(rng, 0.05, 0.2)}});
  const int n = 1 + static_cast<int>(rng() % 3);
  for (int i = 0; i < n; ++i) {
    const double x = uniform(rng, 0.0, 0.7 * s.width), y0 = lining + uniform(rng, 0.0, 0.3) * cavity;
    switch (rng() % (slants ? 4 : 3)) {
      case 0:
        add(s, 0.12, {x, x + 0.045}, {lining, lining + cavity});
        break;
      case 1:
        add(s, 50.0, {x, x + 0.0012}, {lining, lining + cavity});
        break;
      case 2:
        add(s, uniform(rng, 0.08, 0.5), {x, x + uniform(rng, 0.005, 0.1)}, {y0, lining + cavity});
        break;
      default:
        s.materials.push_back(material("wedge", uniform(rng, 0.1, 0.4)));
        s.shapes.push_back({Polygon{{{x, lining}, {x + 0.08, lining}, {x + 0.02, lining + 0.8 * cavity}}},
                            s.materials.size() - 1, ""});
    }
  }
  return s;
}

}  // namespace coldbay::test
