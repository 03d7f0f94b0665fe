#include "solver/settle.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "geometry/grid_lines.hpp"
#include "solver/results/heat_flow.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::settle_test {
namespace {

/// Lining, 90 mm of still air, sheathing.
Section empty_bay() {
  Section s = test::layered(0.4, {{0.0125, 0.16}, {0.09, 1.0}, {0.011, 0.13}});
  s.materials[1] = test::still_air();
  return s;
}

Settled settled_from(const Section& s, const Surroundings& air, double mean, double difference) {
  const GridLines g = grid_lines(s, 2.0, 10'000'000);
  const Painting painting = paint(s, g.across, g.depth);
  AirSpaces spaces = find_air_spaces(s, painting);
  for (AirCavity& c : spaces.cavities) {
    c.outward.mean_temperature = c.sideways.mean_temperature = mean;
    c.outward.difference = c.sideways.difference = difference;
    apply_rule(c, s.air_rule);
  }
  return settle(s, painting, air, spaces, {});
}

// In one dimension the fixed point is a scalar equation: the difference across the layer is its share of the
// whole resistance. Solved here by bisection with the published rule alone.
TEST(Settle, FindsTheFixedPointOfALayer) {
  const Surroundings cold{{20.0, 0.13}, {-20.0, 0.04}, {}, {}};
  const double rest_in = 0.13 + 0.0125 / 0.16, rest_out = 0.011 / 0.13 + 0.04;
  const auto R_at = [&](double dT) {
    AirSpace space;
    space.thickness = 0.09;
    space.difference = dT;
    double R = 0.15;  // the mean temperature depends on R, weakly: iterate it to rounding
    for (int i = 0; i < 200; ++i) {
      const double flux = 40.0 / (rest_in + R + rest_out);
      space.mean_temperature = 20.0 - flux * (rest_in + 0.5 * R);
      R = air_space_resistance(space);
    }
    return R;
  };
  double low = 0.0, high = 40.0;
  for (int i = 0; i < 100; ++i) {
    const double dT = 0.5 * (low + high), R = R_at(dT);
    (dT < 40.0 * R / (rest_in + R + rest_out) ? low : high) = dT;
  }
  const double R = R_at(low), heat = 0.4 * 40.0 / (rest_in + R + rest_out);
  const Settled s = settled_from(empty_bay(), cold, 10.0, 5.0);
  EXPECT_NEAR(heat_flows(s.grid, cold, s.field).inside / heat, 1.0, 2 * settled);
  EXPECT_NEAR(s.grid.cavities[0].outward.difference, low, 1e-3);
}

// The same answer from two starting points far apart, within what is called settled.
TEST(Settle, DoesNotDependOnWhereItStarts) {
  Section s = empty_bay();
  test::add(s, 0.12, {0.1, 0.14}, {0.0125, 0.1025});
  const Surroundings air = test::winter();
  const Settled a = settled_from(s, air, 10.0, 5.0), b = settled_from(s, air, 60.0, 0.1);
  EXPECT_NEAR(heat_flows(a.grid, air, a.field).inside / heat_flows(b.grid, air, b.field).inside, 1.0,
              4 * settled);
  EXPECT_LE(a.rounds, 8);
  EXPECT_LE(b.rounds, 9);
  EXPECT_LT(a.last_change, settled);
}

TEST(Settle, ASectionWithoutAirIsSolvedOnce) {
  const Settled s = settled_from(test::random_wall(5), test::winter(), 10.0, 5.0);
  EXPECT_EQ(s.rounds, 1);
}

// A colder morning: more convection, colder radiation. The sum is the rule's business; that it moves is ours.
TEST(Settle, AColdNightChangesTheAir) {
  const Surroundings mild{{20.0, 0.13}, {15.0, 0.04}, {}, {}}, cold{{20.0, 0.13}, {-30.0, 0.04}, {}, {}};
  const double k_mild = settled_from(empty_bay(), mild, 10.0, 5.0).grid.cavities[0].conductivity;
  const double k_cold = settled_from(empty_bay(), cold, 10.0, 5.0).grid.cavities[0].conductivity;
  EXPECT_GT(std::abs(k_cold / k_mild - 1.0), 0.02);
}

// Heat that goes mostly sideways through a cavity is reckoned along that way.
TEST(Settle, FollowsTheHeat) {
  Section s = test::layered(0.4, {{0.1, 0.04}});
  s.materials.push_back(test::still_air());
  s.shapes.push_back({Rectangle{{0.18, 0.22}, {0.0, 0.1}}, 1, ""});
  const Surroundings sideways{{10.0, 1e3}, {10.0, 1e3}, Exchange{20.0, 0.0}, Exchange{0.0, 0.0}};
  const Settled across = settled_from(s, sideways, 10.0, 5.0);
  EXPECT_EQ(across.grid.cavities[0].heat_goes, Direction::across);
  EXPECT_EQ(settled_from(s, test::winter(), 10.0, 5.0).grid.cavities[0].heat_goes, Direction::depth);
}

}  // namespace
}  // namespace coldbay::settle_test
