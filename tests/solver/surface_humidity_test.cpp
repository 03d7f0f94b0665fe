#include "solver/results/surface_humidity.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "solver/results/dew_point.hpp"
#include "tests/support/grids.hpp"
#include "tests/support/sections.hpp"

namespace coldbay::surface_humidity_test {
namespace {

TEST(SurfaceHumidity, MeetsTheWorkedExampleOfTheStandards) {
  // 20 degC and 50 % inside, -5 outside: 12.6 degC and 0.70 are published with DIN 4108-2:2013 (seen quoted);
  // 12.62 and 0.705 are the same with one digit more, by the formulas of ISO 13788. Half of the last digit.
  EXPECT_NEAR(critical_surface_temperature(20.0, 0.5), 12.62, 0.005);
  EXPECT_NEAR(required_temperature_factor(20.0, 0.5, -5.0), 0.705, 0.0005);
  EXPECT_NEAR(critical_surface_temperature(20.0, 0.5, 1.0), 9.27, 0.005);  // the dew point
  EXPECT_NEAR(humidity_at_surface(12.62, 20.0, 0.5), 0.80, 0.0005);        // 0.005 K are 0.0003
  // By hand from the table of vapour pressures, 2337.0 and 1704.4 Pa: to its digits.
  EXPECT_NEAR(humidity_at_surface(15.0, 20.0, 0.5), 0.5 * 2337.0 / 1704.4, 0.5e-4);
  EXPECT_NEAR(humidity_at_surface(-5.0, 20.0, 0.1), 0.1 * 2337.0 / 401.2, 2e-4);  // over ice
  EXPECT_NEAR(temperature_factor(12.5, 20.0, -5.0), 0.7, 1e-12);
}

TEST(SurfaceHumidity, DampAirIsCriticalBeforeItIsSaturated) {
  // 90 % is above 80 % at any surface as warm as the air: the critical one is warmer than the room.
  EXPECT_GT(critical_surface_temperature(20.0, 0.9), 20.0);
  EXPECT_NEAR(critical_surface_temperature(20.0, 0.8), 20.0, 1e-9);
  EXPECT_GT(required_temperature_factor(20.0, 0.9, 0.0), 1.0);
  EXPECT_LT(required_temperature_factor(20.0, 0.1, 0.0), 0.0);
  for (const double humidity : {0.2, 0.5, 0.9})
    EXPECT_NEAR(humidity_at_surface(critical_surface_temperature(22.0, humidity, 0.75), 22.0, humidity), 0.75,
                1e-12);
}

FaceMap face_of(const Axis& across, const Axis& up, const std::function<double(double, double)>& celsius) {
  FaceMap face{across, up, {}};
  for (Index j = 0; j < up.cells(); ++j)
    for (Index i = 0; i < across.cells(); ++i)
      face.celsius.push_back(celsius(across.centre(i), up.centre(j)));
  return face;
}

/// Share below, by 1000 x 1000 points.
double by_points(const FaceMap& face, double threshold) {
  constexpr int n = 1000;
  int below = 0;
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i)
      below += temperature_on(face, face.across.length() * (i + 0.5) / n, face.up.length() * (j + 0.5) / n) <
               threshold;
  return below / (1.0 * n * n);
}

TEST(AreaBelow, APlaneIsCutByAStraightLine) {
  // 3 x + 2 y below t, where the map is exact: between the outermost middles. A band across the wall, then
  // the half below a diagonal through the middle, which symmetry makes exact with the flat rims, too.
  const FaceMap band =
      face_of(test::jittered(2.0, 9, 1), test::even(2.4, 12), [](double x, double) { return 3.0 * x; });
  EXPECT_NEAR(area_below(band, 2.4).area, 0.8 * 2.4, 1e-12);  // rounding
  EXPECT_NEAR(area_below(band, 2.4).share, 0.4, 1e-12);
  const FaceMap slope =
      face_of(test::even(2.0, 10), test::even(2.4, 12), [](double x, double y) { return 3.0 * x + 2.0 * y; });
  EXPECT_NEAR(area_below(slope, 5.4).share, 0.5, 1e-9);  // as promised
  EXPECT_EQ(area_below(slope, -1.0).area, 0.0);
  EXPECT_NEAR(area_below(slope, 99.0).area, 4.8, 1e-12);
}

TEST(AreaBelow, ASaddleAndItsNeighbourhoodMeetTheirIntegral) {
  // One patch with corners -1, 1, 1, -1 less c: below it where (1 - 2x)(1 - 2y) > -c, whose area is
  // 1/2 + c/2 (1 - ln c) for a c above 0 (integrate the hyperbola), the half for 0.
  for (const double c : {0.0, 1e-12, 1e-6, 0.01, 0.3, 0.9}) {
    // Middles at 0 and 1; beyond them the map is flat, and that area is taken off: a rim of corners and
    // sides.
    const FaceMap face = face_of(Axis({-0.5, 0.5, 1.5}), Axis({-0.5, 0.5, 1.5}),
                                 [](double x, double y) { return (x < 0.5) == (y < 0.5) ? -1.0 : 1.0; });
    const double sides = 4.0 * 0.5 * (0.5 + 0.5 * c), corners = 2.0 * 0.25;
    const double exact = 0.5 + (c > 0.0 ? 0.5 * c * (1.0 - std::log(c)) : 0.0);
    EXPECT_NEAR(area_below(face, c).area - sides - corners, exact, 4e-9) << c;  // 1e-9 of a face of 4
  }
}

TEST(AreaBelow, AnUnevenMapMeetsAMillionPoints) {
  const FaceMap face = face_of(test::jittered(1.0, 7, 3), test::jittered(1.5, 5, 4),
                               [](double x, double y) { return std::sin(9.0 * x) * std::cos(7.0 * y); });
  // A line through n x n points is off by less than its length in points over n^2: 5e-3 for five walls'
  // lengths, and much less by chance.
  for (const double t : {-0.9, -0.3, 0.0, 0.2, 0.7})
    EXPECT_NEAR(area_below(face, t).share, by_points(face, t), 5e-4) << t;
}

// r below 0.3 of a cone: 0.09 pi. Interpolated between cells of width h, the map lies above it by h^2/12
// (f_xx + f_yy), a mean over the cell, which is h^2/(12 r); so the circle is that much too small, and its
// area by pi h^2/6.
TEST(AreaBelow, IsOffByWhatInterpolationAdds) {
  for (const Index n : {20, 40, 80}) {
    const FaceMap face = face_of(test::even(1.0, n), test::even(1.0, n),
                                 [](double x, double y) { return std::hypot(x - 0.5, y - 0.5); });
    const double missing = 0.09 * std::numbers::pi - area_below(face, 0.3).area;
    // The next term is of fourth order, (h/r)^2 of it: 3 % on the coarsest.
    EXPECT_NEAR(missing * static_cast<double>(n * n) / (std::numbers::pi / 6.0), 1.0, 0.03) << n;
  }
}

TEST(ColdestPoint, IsFoundWhereItIs) {
  const FaceMap face = face_of(test::even(2.0, 20), test::even(2.4, 24),
                               [](double x, double y) { return 15.0 + std::hypot(x - 0.55, y - 1.85); });
  const ColdestPoint coldest = coldest_point(face);
  EXPECT_NEAR(coldest.celsius, 15.0, 1e-12);
  EXPECT_NEAR(coldest.across, 0.55, 1e-12);
  EXPECT_NEAR(coldest.up, 1.85, 1e-12);
  EXPECT_NEAR(area_below(face, 15.4).area, 0.16 * std::numbers::pi,
              0.01);  // a cone on cells of a quarter of its radius
}

}  // namespace
}  // namespace coldbay::surface_humidity_test
