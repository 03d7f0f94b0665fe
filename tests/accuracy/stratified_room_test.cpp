#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "tests/support/solved.hpp"

namespace coldbay::stratified_room_test {
namespace {

/// A vertical cut of a wall that is the same at all heights.
Section upright(double height, const std::vector<test::Slice>& slices) {
  Section s = test::layered(height, slices);
  s.cut = CutKind::vertical;
  return s;
}

// One material, its outer face held at 0, the room's air a cosine over the height. By separation of variables
// T = cos(l y) a sinh(l (d - x)) with l = pi/height, where the film gives (1 - a sinh l d)/R = k a l cosh l
// d.
TEST(StratifiedRoom, CosineOverTheHeightOfASlab) {
  constexpr double height = 0.5, d = 0.1, k = 0.8, R = 0.13, mean = 10.0, swing = 4.0;
  const double l = M_PI / height;
  Surroundings air{{mean, R}, {0.0, 0.0}, {}, {}};
  constexpr int levels = 400;  // straight between them: off the cosine by (l h)^2/8 = 8e-6 of the swing
  for (int i = 0; i <= levels; ++i) {
    const double y = height * i / levels;
    air.by_height.push_back({y, mean + swing * std::cos(l * y)});
  }
  const Forecast f = forecast(upright(height, {{d, k}}), air, {}, {1e-4, 0.001});
  const double a = 1.0 / (std::sinh(l * d) + R * k * l * std::cosh(l * d));
  const auto& face = f.results.profile;
  ASSERT_GT(face.celsius.size(), 10U);
  for (std::size_t i = 0; i < face.celsius.size(); ++i) {
    const double even = mean * (d / k) / (d / k + R);
    const double exact = even + swing * std::cos(l * face.across[i]) * a * std::sinh(l * d);
    EXPECT_NEAR(face.celsius[i], exact, 0.002)
        << face.across[i];  // the accuracy asked for, and as much again
  }
}

// Layers pass heat in proportion to the mean of the room's air, however it is spread over the height.
TEST(StratifiedRoom, LeavesTheUValueOfLayersAlone) {
  const Section wall = upright(2.4, {{0.0127, 0.16}, {0.089, 0.039}, {0.0111, 0.1}});
  Surroundings air{{20.0, 0.13}, {-5.0, 0.04}, {}, {}};
  air.by_height = {{0.1, 17.0}, {1.0, 20.0}, {2.2, 22.5}};
  const double R = 0.13 + 0.0127 / 0.16 + 0.089 / 0.039 + 0.0111 / 0.1 + 0.04;
  const Forecast f = forecast(wall, air, {});
  EXPECT_NEAR(*f.results.u_value * R, 1.0, 2e-5);  // the profile is taken at the middles of cells
  EXPECT_LT(f.results.profile.celsius.front(), f.results.profile.celsius.back() - 4.0);
}

TEST(StratifiedRoom, MeansAndValuesBetweenLevels) {
  Surroundings air;
  EXPECT_EQ(room_temperature(air, 1.0), 20.0);
  EXPECT_EQ(mean_room_temperature(air, {0.0, 2.0}), 20.0);
  air.by_height = {{0.5, 18.0}, {1.5, 22.0}};
  EXPECT_EQ(room_temperature(air, 0.0), 18.0);
  EXPECT_EQ(room_temperature(air, 0.75), 19.0);
  EXPECT_EQ(room_temperature(air, 3.0), 22.0);
  EXPECT_DOUBLE_EQ(mean_room_temperature(air, {0.0, 3.0}), (0.5 * 18.0 + 20.0 + 1.5 * 22.0) / 3.0);
}

// A plan lies at one height: its room is as warm as the case says, whatever is known by height.
TEST(StratifiedRoom, PlansGoByTheStatedTemperature) {
  Section wall = test::layered(0.4, {{0.0127, 0.16}, {0.089, 0.039}});
  wall.cut = CutKind::plan;
  Surroundings air{{20.0, 0.13}, {-5.0, 0.04}, {}, {}};
  const Forecast even = forecast(wall, air, {});
  air.by_height = {{0.0, 10.0}, {2.4, 30.0}};
  EXPECT_EQ(forecast(wall, air, {}).results.heat_flow, even.results.heat_flow);
}

}  // namespace
}  // namespace coldbay::stratified_room_test
