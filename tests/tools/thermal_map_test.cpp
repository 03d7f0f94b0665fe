#include "tools/report/thermal_map.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "tests/support/faces.hpp"
#include "tests/support/walls.hpp"
#include "tools/report/framing.hpp"
#include "tools/report/wall_picture.hpp"

namespace coldbay::thermal_map_test {
namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

TEST(ThermalMap, IsExactWhereTheFaceIsLinear) {
  const ThermalMap map = sampled(test::face(1.0, 0.5, [](double a, double u) { return 3.0 * a - 8.0 * u; }));
  EXPECT_EQ(map.columns, 200);
  EXPECT_EQ(map.rows, 100);
  constexpr double rounding = 1e-12;
  // Away from the outermost half cells of the face, where its map stays level.
  EXPECT_NEAR(map.at(10, 5), 3.0 * 0.0525 - 8.0 * (0.5 - 0.0275), rounding);
  EXPECT_NEAR(value_at(map, 0.3331, 0.2), 3.0 * 0.3331 - 8.0 * 0.2, rounding);
  EXPECT_TRUE(std::isnan(value_at(map, 1.001, 0.2)));
  EXPECT_THROW(sampled(test::face(1.0, 0.5, [](double, double) { return 0.0; }), 1e-5), std::length_error);
  EXPECT_THROW(difference(map, sampled(test::face(1.0, 0.4, [](double, double) { return 0.0; }))),
               std::invalid_argument);
}

TEST(ThermalMap, PixelsOfACameraAreNotMixed) {
  const ThermalMap map{{0.0, 0.2}, {0.0, 0.2}, 2, 2, {1.0, 2.0, 3.0, nothing}, false};
  EXPECT_EQ(value_at(map, 0.099, 0.101), 1.0);
  EXPECT_EQ(value_at(map, 0.101, 0.101), 2.0);
  EXPECT_EQ(value_at(map, 0.05, 0.05), 3.0);
  EXPECT_TRUE(std::isnan(value_at(map, 0.15, 0.05)));
  EXPECT_EQ(extent(map)->greatest, 3.0);
  EXPECT_NEAR(share_below(map, 1.5), 1.0 / 3.0, 1e-12);  // of what is seen
}

TEST(ThermalMap, SharedScalesAreRoundedOutward) {
  const auto panel = [](std::vector<double> values, bool is_difference) {
    const int n = static_cast<int>(values.size());
    return WallPanel{"", "", ThermalMap{{0.0, 1.0}, {0.0, 1.0}, n, 1, std::move(values), true},
                     is_difference};
  };
  const std::vector<WallPanel> panels{panel({14.1, 18.6, nothing}, false), panel({16.2, 19.0}, false),
                                      panel({-4.3, 1.0}, true)};
  const TemperatureScale scale = shared_scale(panels, TemperatureUnit::celsius, "shared");
  EXPECT_EQ(scale.coldest, 14.0);
  EXPECT_EQ(scale.warmest, 19.0);
  EXPECT_EQ(shared_difference_scale(panels, TemperatureUnit::celsius, "").end, 5.0);
  // 4.3 K are 7.74 °F: rounded up to 8 °F.
  EXPECT_NEAR(shared_difference_scale(panels, TemperatureUnit::fahrenheit, "").end, 8.0 / 1.8, 1e-12);
  EXPECT_EQ(
      shared_difference_scale(std::vector<WallPanel>{panel({0.0, 0.0}, true)}, TemperatureUnit::celsius, "")
          .end,
      0.5);
}

TEST(Framing, IsWhatShowsOfTheFrame) {
  // Three bays between studs of 38 mm, those at the ends cut in the middle; one plate below, two above. By
  // hand.
  const BuiltWall wall = build(test::two_by_four());
  const std::vector<FaceRectangle> framing = framing_of(wall);
  double area = 0.0;
  for (const FaceRectangle& one : framing) area += one.across.length() * one.up.length();
  constexpr double rounding = 1e-9;
  EXPECT_NEAR(area, 3.0 * 0.4064 * 2.4 - 3.0 * 0.3684 * (2.4 - 3.0 * 0.038), rounding);
  EXPECT_TRUE(std::any_of(framing.begin(), framing.end(), [&](const FaceRectangle& one) {
    return std::abs(one.across.from - (0.4064 - 0.019)) < rounding &&
           std::abs(one.across.to - (0.4064 + 0.019)) < rounding && one.up.from == 0.0 && one.up.to == 2.4;
  }));
}

}  // namespace
}  // namespace coldbay::thermal_map_test
