#include "solver/results/visibility.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "materials/model_error.hpp"
#include "solver/results/face_sums.hpp"
#include "tests/support/solved_walls.hpp"

// Faces made up, so that every answer is known by hand.

namespace coldbay::visibility_test {
namespace {

using Field = std::function<double(double, double)>;

Axis even(double length, int n) {
  std::vector<double> edges;
  for (int i = 0; i <= n; ++i) edges.push_back(length * i / n);
  return Axis(std::move(edges));
}

/// A face of 1.2 by 2.4 m in cells of 4 mm, each with the value at its middle.
FaceMap face(const Field& celsius) {
  FaceMap f{even(1.2, 300), even(2.4, 600), {}};
  for (Index j = 0; j < f.up.cells(); ++j)
    for (Index i = 0; i < f.across.cells(); ++i)
      f.celsius.push_back(celsius(f.across.centre(i), f.up.centre(j)));
  return f;
}

/// Built right the face is at 18 degC everywhere; 20 K from inside to outside.
FacePair pair_of(const Field& less) {
  return {face([&](double x, double y) { return 18.0 + less(x, y); }),
          face([](double, double) { return 18.0; }), 20.0, 0.0, 0.0};
}

constexpr double cell = 0.004;
const FaceRegion middle_bay{"bay 2", {0.4, 0.8}, {0.0, 2.4}};

/// No noise of the surroundings, no blur: the contrast as it is.
Sight bare(double pixel) { return {3.0, pixel, 0.0, 0.1, 1.0, 20.0}; }

Visibility seen(const FacePair& faces, const Sight& sight, const NormalPattern& normal = {}) {
  return visibility(faces, {middle_bay}, sight, normal).at(0);
}

Field rectangle(double low, Span across, Span up) {
  return [=](double x, double y) {
    return x > across.from && x < across.to && y > up.from && y < up.to ? low : 0.0;
  };
}

TEST(FaceSums, MeansAreThoseOfTheCells) {
  // A plane: the mean over any rectangle is the value in its middle, where the edges are cell edges.
  const FaceMap plane = face([](double x, double y) { return 3.0 * x - 2.0 * y; });
  const FaceSums sums = face_sums(plane);
  EXPECT_NEAR(mean_on(sums, {0.4, 0.8}, {1.2, 2.0}), 3.0 * 0.6 - 2.0 * 1.6, 1e-12);  // rounding
  // Beyond the face nothing is counted: the same as the part on it.
  EXPECT_NEAR(mean_on(sums, {1.0, 9.0}, {-5.0, 0.4}), mean_on(sums, {1.0, 1.2}, {0.0, 0.4}), 1e-12);
  // Half a cell at either end weighs half: here two cells, 1 and 3.
  const FaceMap two{even(0.2, 2), even(0.1, 1), {1.0, 3.0}};
  EXPECT_NEAR(mean_on(face_sums(two), {0.05, 0.2}, {0.0, 0.1}), (0.5 * 1.0 + 1.0 * 3.0) / 1.5, 1e-12);
}

TEST(Visibility, AColdRectangle) {
  const Visibility v = seen(pair_of(rectangle(-2.0, {0.48, 0.72}, {0.8, 1.4})), bare(0.01));
  EXPECT_NEAR(v.per_kelvin, -0.1, 1e-12);       // -2 K at 20 K, everywhere in the patch
  EXPECT_NEAR(v.seen_per_kelvin, -0.1, 1e-12);  // emissivity 1, no blur
  // Between two cells the map is linear, so that half of it is passed on the edge: within one step of 5 mm.
  EXPECT_NEAR(v.width, 0.24, 0.005);
  EXPECT_NEAR(v.height, 0.6, 0.005);
  EXPECT_NEAR(v.area, 0.24 * 0.6, 0.005 * (0.24 + 0.6));
  // Of a flat spot, the place nearest to the middle of the region.
  EXPECT_NEAR(v.across, 0.6, 0.005);
  EXPECT_NEAR(v.up, 1.2, 0.005);
  EXPECT_EQ(v.showing, Showing::shows);
  EXPECT_NEAR(v.needed, 3.0 * 0.1 / 0.1, 1e-9);  // three times the noise over the contrast
}

TEST(Visibility, FindsTheWeakerSpotOfItsOwnRegionOnly) {
  const Field both = [](double x, double y) {
    return rectangle(-1.0, {0.5, 0.6}, {0.5, 0.6})(x, y) + rectangle(-5.0, {0.9, 1.1}, {0.5, 2.0})(x, y);
  };
  const Visibility v = seen(pair_of(both), bare(0.01));
  EXPECT_NEAR(v.per_kelvin, -0.05, 1e-12);
  EXPECT_NEAR(v.across, 0.55, 0.04);  // the patch of 30 mm lies anywhere inside 100 mm
  EXPECT_NEAR(v.area, 0.01, 0.005 * 0.4);
}

TEST(Visibility, ACoarsePixelStillMeasuresTheSpot) {
  // One pixel of 2 m sees all of the wall; the spot is as wide as before, within a step of a 16th of it.
  const Visibility v = seen(pair_of(rectangle(-2.0, {0.48, 0.72}, {0.8, 1.4})), bare(2.0));
  EXPECT_NEAR(v.width, 0.24, 1.2 / 16.0);
  EXPECT_EQ(v.showing, Showing::too_small);
  EXPECT_GT(v.come_within.value(), 0.0);
}

TEST(Visibility, AWarmFault) {
  const Visibility v = seen(pair_of(rectangle(0.6, {0.5, 0.7}, {1.0, 1.2})), bare(0.01));
  EXPECT_NEAR(v.per_kelvin, 0.03, 1e-12);
  EXPECT_NEAR(v.needed, 10.0, 1e-9);
  EXPECT_TRUE(shows_at(v, 10.0 + 1e-6));
  EXPECT_FALSE(shows_at(v, 9.9));
}

TEST(Visibility, TheSignIsThatOfTheHeatingSeason) {
  // Outside 20 K warmer: what loses most is the warmest spot now, and the number is the same.
  FacePair summer = pair_of(rectangle(2.0, {0.48, 0.72}, {0.8, 1.4}));
  summer.inside = 20.0;
  summer.outside = 40.0;
  const Visibility v = seen(summer, bare(0.01));
  EXPECT_NEAR(v.per_kelvin, -0.1, 1e-12);
  EXPECT_TRUE(shows_at(v, -10.0));
}

TEST(Visibility, AStripOfOnePixelIsAThirdOfItsPatch) {
  // 12 mm wide, patch 36 mm: a third of the patch is cold. 12 mm are three cells, so the mean is exact
  // wherever the patch holds all of the strip.
  const Visibility v = seen(pair_of(rectangle(-3.0, {0.6, 0.612}, {0.0, 2.4})), bare(0.012));
  EXPECT_NEAR(v.per_kelvin, -3.0 / 3.0 / 20.0, 1e-9);
  EXPECT_NEAR(v.height, 2.4, 0.02);
  EXPECT_NEAR(v.width, 0.012, cell);  // half of it lies within the cells beside
  EXPECT_EQ(v.showing, Showing::too_small);
  EXPECT_FALSE(shows_at(v, 100.0));
  // Pixels grow with the distance: three of them are as wide as the strip at a third of the 3 m.
  EXPECT_NEAR(v.come_within.value(), 3.0 * v.width / 0.036, 1e-9);
}

TEST(Visibility, BlurTakesWhatItTakesOfAParabola) {
  // d = -a + b r^2 has the mean -a + b (side^2/12) 2 over a square in its middle, and a blur of standard
  // deviation s raises it by 2 b s^2: both exact.
  const double a = 2.0, b = 25.0, pixel = 0.02, s = 0.03;
  const FacePair faces = pair_of([&](double x, double y) {
    return std::min(0.0, -a + b * (std::pow(x - 0.6, 2) + std::pow(y - 1.2, 2)));
  });
  Sight sight = bare(pixel);
  sight.blur = s;
  const Visibility v = seen(faces, sight);
  const double patch = -a + b * 2.0 * std::pow(3.0 * pixel, 2) / 12.0, blurred = patch + 2.0 * b * s * s;
  // The looking steps half a pixel, 10 mm, so that the patch lies up to 5 mm off the middle either way. A
  // cell that an edge of the patch cuts has one value: b cell^2/8 of the mean for each of the four edges.
  const double off = b * (2.0 * 0.005 * 0.005 + cell * cell / 2.0);
  EXPECT_NEAR(v.per_kelvin * 20.0, patch, off);
  EXPECT_NEAR(v.seen_per_kelvin * 20.0, blurred, off);
  // Half of it lies sqrt(a/2b) = 0.2 m from the middle.
  EXPECT_NEAR(v.width, 2.0 * std::sqrt(0.5 * a / b), 0.001);
  EXPECT_NEAR(v.height, 2.0 * std::sqrt(0.5 * a / b), 0.001);
  EXPECT_NEAR(v.area, 0.5 * a / b * 3.14159265, 0.2 * 6.2832 * 0.005);  // its rim by half a step
}

TEST(Visibility, WhatTheSurroundingsLeaveOfIt) {
  // Readings of a grey surface by the fourth-power law, calculated apart from this program: 15 and 17 degC
  // with 20 degC reflected and emissivity 0.90 read 15.5118 and 17.3042. The slope at 16 is theirs up to the
  // curvature.
  EXPECT_NEAR(reading_slope(16.0, 20.0, 0.9), (17.3042 - 15.5118) / 2.0, 1e-4);
  EXPECT_EQ(reading_slope(16.0, 20.0, 1.0), 1.0);
  EXPECT_NEAR(reading_slope(20.0, 20.0, 0.9), 0.9, 1e-12);
  const FacePair faces = pair_of(rectangle(-2.0, {0.48, 0.72}, {0.8, 1.4}));
  Sight sight = bare(0.01);
  sight.emissivity = 0.6;
  const Visibility v = seen(faces, sight);
  EXPECT_NEAR(v.seen_per_kelvin, -0.1 * reading_slope(18.0, 20.0, 0.6), 1e-12);
  EXPECT_NEAR(v.needed, 0.3 / std::abs(v.seen_per_kelvin), 1e-9);
}

TEST(Visibility, NothingAndNextToNothing) {
  const Visibility none = seen(pair_of([](double, double) { return 0.0; }), bare(0.01));
  EXPECT_EQ(none.showing, Showing::too_weak);
  EXPECT_TRUE(std::isinf(none.needed));
  EXPECT_EQ(none.area, 0.0);
  EXPECT_FALSE(none.stands_out);
  // 0.0049 per kelvin takes 61 K, 0.0051 takes 59.
  EXPECT_EQ(seen(pair_of(rectangle(-0.098, {0.5, 0.7}, {1.0, 1.2})), bare(0.01)).showing, Showing::too_weak);
  EXPECT_EQ(seen(pair_of(rectangle(-0.102, {0.5, 0.7}, {1.0, 1.2})), bare(0.01)).showing, Showing::shows);
}

TEST(Visibility, IsNoSurerThanTheSolve) {
  FacePair faces = pair_of(rectangle(-0.2, {0.5, 0.7}, {1.0, 1.2}));
  faces.uncertainty = 0.19;
  EXPECT_EQ(seen(faces, bare(0.01)).showing, Showing::shows);
  faces.uncertainty = 0.21;
  EXPECT_EQ(seen(faces, bare(0.01)).showing, Showing::unsure);
  // Too weak even if all of the uncertainty were contrast: 0.02 K + 0.01 K at 20 K takes 200 K.
  FacePair weak = pair_of(rectangle(-0.02, {0.5, 0.7}, {1.0, 1.2}));
  weak.uncertainty = 0.01;
  EXPECT_EQ(seen(weak, bare(0.01)).showing, Showing::too_weak);
  weak.uncertainty = 0.09;  // 0.11 K would show from 55 K on
  EXPECT_EQ(seen(weak, bare(0.01)).showing, Showing::unsure);
}

TEST(Visibility, StandsOutOfTheNormalPattern) {
  const FacePair faces = pair_of(rectangle(-0.4, {0.5, 0.7}, {1.0, 1.2}));  // 0.02 per kelvin
  NormalPattern normal;
  normal.studs = -0.039;  // half of it is 0.0195
  const Visibility v = seen(faces, bare(0.01), normal);
  EXPECT_TRUE(v.stands_out);
  EXPECT_NEAR(v.of_studs.value(), 0.02 / 0.039, 1e-9);
  normal.studs = -0.041;
  EXPECT_FALSE(seen(faces, bare(0.01), normal).stands_out);
  EXPECT_FALSE(shows_at(seen(faces, bare(0.01), normal), 50.0));  // though out of the noise from 15 K on
  normal = {};
  normal.bays_apart = 0.021;  // sound bays differ by more than that
  EXPECT_FALSE(seen(faces, bare(0.01), normal).stands_out);
}

TEST(Visibility, AirsAlikeShowNothing) {
  FacePair faces = pair_of(rectangle(-0.4, {0.5, 0.7}, {1.0, 1.2}));
  faces.outside = 19.5;
  EXPECT_THROW(seen(faces, bare(0.01)), ModelError);
  EXPECT_THROW(normal_pattern(faces, {}), ModelError);
}

/// The face of the wall of walls.hpp: bays at 18 degC and a step at every stud and plate.
FaceMap striped(const BuiltWall& wall, double stud, double plate, double third_bay) {
  std::vector<double> across{0.0}, up{0.0, wall.bays[0].up.from, wall.bays[0].up.to, wall.height};
  for (const BayPlace& bay : wall.bays) {
    across.push_back(bay.clear.from);
    across.push_back(bay.clear.to);
  }
  across.push_back(wall.width);
  FaceMap f{Axis(across), Axis(up), {}};
  for (Index j = 0; j < 3; ++j)
    for (Index i = 0; i < f.across.cells(); ++i)
      f.celsius.push_back(j != 1       ? 18.0 + plate
                          : i % 2 == 0 ? 18.0 + stud
                          : i == 5     ? 18.0 + third_bay
                                       : 18.0);
  return f;
}

TEST(NormalPattern, StudsPlatesAndBays) {
  const BuiltWall wall = build(test::two_by_four());
  ASSERT_EQ(wall.bays.size(), 3u);
  const FaceMap map = striped(wall, -0.8, -1.1, 0.2);
  const NormalPattern n = normal_pattern({map, map, 20.0, 0.0, 0.0}, wall);
  EXPECT_EQ(n.bays, 3u);
  // Studs at -0.8 and -0.9 K from the mean of their bays: of two, the upper one counts.
  EXPECT_NEAR(n.studs.value(), -0.8 / 20.0, 1e-9);
  EXPECT_NEAR(n.plates.value(), -1.1 / 20.0, 1e-9);
  EXPECT_NEAR(n.bays_apart, 0.2 / 20.0, 1e-9);
  EXPECT_NEAR(n.floor_plates.value(), -1.1 / 20.0, 1e-9);
  // A room that is warmer with height: the floor's plates 3 K colder than those at the top.
  FaceMap layered = map;
  for (Index i = 0; i < map.across.cells(); ++i) {
    layered.celsius[static_cast<std::size_t>(i)] -= 1.5;
    layered.celsius[static_cast<std::size_t>(i + 2 * map.across.cells())] += 1.5;
  }
  const NormalPattern by_height = normal_pattern({layered, layered, 20.0, 0.0, 0.0}, wall);
  EXPECT_NEAR(by_height.floor_plates.value(), -2.6 / 20.0, 1e-9);
  EXPECT_NEAR(by_height.top_plates.value(), 0.4 / 20.0, 1e-9);
  // In the cooling season the same stripes are warm, and the numbers the same.
  const FaceMap hot = striped(wall, 0.8, 1.1, -0.2);
  EXPECT_NEAR(normal_pattern({hot, hot, 20.0, 40.0, 0.0}, wall).plates.value(), -1.1 / 20.0, 1e-9);
}

TEST(NormalPattern, AWindowIsNoBay) {
  BuiltWall wall = build(test::two_by_four());
  const FaceMap map = striped(wall, -0.8, -1.1, 0.0);
  const BayPlace& bay = wall.bays[1];
  wall.pieces.push_back(
      block(test::material("pane", 1.0), Piece::Role::opening, bay.clear, {0.9, 2.0}, {0.0, 0.1}));
  const NormalPattern n = normal_pattern({map, map, 20.0, 0.0, 0.0}, wall);
  EXPECT_EQ(n.bays, 2u);
  EXPECT_FALSE(n.studs.has_value());  // no stud is left with a bay on either side
}

/// The face of a wall as its plan shows it, at every height.
FaceMap upright(const Wall& wall, const BuiltWall& built, double outside) {
  const Forecast f = forecast(test::view_of(wall, test::View::plan), {{20.0, 0.13}, {outside, 0.04}, {}, {}},
                              {}, {2e-3, 0.02});
  const SurfaceProfile& face = f.results.profile;
  std::vector<double> edges{0.0};
  for (const double width : face.width) edges.push_back(edges.back() + width);
  FaceMap map{Axis(edges), Axis({0.0, built.up.from, built.up.to, wall.height}), {}};
  for (int row = 0; row < 3; ++row)
    map.celsius.insert(map.celsius.end(), face.celsius.begin(), face.celsius.end());
  return map;
}

TEST(Visibility, AnEmptyBayAsResistancesInSeriesHaveIt) {
  const Wall right = test::sound_wall(true);
  Wall wrong = right;
  wrong.bays[1].fills.clear();
  const BuiltWall built = build(right);
  const FaceRegion bay{"bay 2", built.bays[1].across, built.up};
  const auto seen_at = [&](double outside) {
    const FacePair faces{upright(wrong, built, outside), upright(right, built, outside), 20.0, outside, 0.02};
    const NormalPattern normal = normal_pattern(faces, built);
    // A stud by itself: less than its own resistances in series say, since heat spreads in the lining.
    const double stud = 1.0 / (0.17 + 0.0127 / 0.16 + 0.089 / 0.115 + 0.0111 / 0.1),
                 batt = 1.0 / (0.17 + 0.0127 / 0.16 + 0.089 / test::k_r13 + 0.0111 / 0.1);
    EXPECT_LT(-normal.studs.value(), 0.13 * (stud - batt));
    EXPECT_GT(-normal.studs.value(), 0.5 * 0.13 * (stud - batt));
    return visibility(faces, {bay}, {3.0, 0.005, 0.0, 0.1, 0.9, 20.0}, normal).at(0);
  };
  const Visibility v = seen_at(0.0);
  // Film, lining, 89 mm of air, sheathing, film: contrast 0.13 (U_empty - U_batt). The air by ISO 6946 (from
  // memory) as a divided space, 368 mm wide, at 9 degC and 7 K between its faces: 0.73 7^(1/3) by convection,
  // 0.893 of 4.16 by radiation, 0.196 m2K/W. One per cent for those temperatures and what the studs draw.
  const double empty = 1.0 / (0.17 + 0.0127 / 0.16 + 0.196 + 0.0111 / 0.1),
               batt = 1.0 / (0.17 + 0.0127 / 0.16 + 0.089 / test::k_r13 + 0.0111 / 0.1);
  EXPECT_NEAR(v.per_kelvin / (-0.13 * (empty - batt)), 1.0, 0.01);
  EXPECT_EQ(v.showing, Showing::shows);
  EXPECT_GT(v.of_studs.value(), 3.0);
  // Near linear: at 40 K the air's faces are 13 K apart, and it conducts 0.73 (13^(1/3) - 7^(1/3)) = 0.32 of
  // 5.1 W/m2K more by convection; it is 10 K colder and conducts a tenth of 3.7 less by radiation. They all
  // but cancel, and its resistance is a third of the wall's.
  EXPECT_NEAR(seen_at(-20.0).per_kelvin / v.per_kelvin, 1.0, 0.03);
}

}  // namespace
}  // namespace coldbay::visibility_test
