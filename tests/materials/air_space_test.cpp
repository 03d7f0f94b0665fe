#include "materials/air_space.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

double layer(double thickness) {
  AirSpace space;
  space.thickness = thickness;
  return air_space_resistance(space);
}

// [ISO6946] 2017 Table 8 (2007: Table 2), unventilated layers with level heat flow and emissivity of
// at least 0.8: seen in a technical page quoting the standard. The annex formula at 0.9 and 10 degC gives
// each entry after rounding to the two printed decimals, hence the tolerance of half the last digit.
TEST(AirSpace, GivesTheStandardsTableForLevelHeatFlow) {
  const struct {
    double mm, R;
  } rows[] = {{5, 0.11}, {7, 0.13}, {10, 0.15}, {15, 0.17}, {25, 0.18}, {50, 0.18}, {100, 0.18}, {300, 0.18}};
  for (const auto& row : rows) EXPECT_NEAR(layer(1e-3 * row.mm), row.R, 0.005) << row.mm << " mm";
}

// The annex formula for small or divided airspaces ([ISO6946], from memory), worked out independently
// to four decimals: 20 mm deep, emissivity 0.9, 10 degC.
TEST(AirSpace, NarrowSpacesRadiateLess) {
  const struct { double width, R; } rows[] = {{0.020, 0.2365}, {0.050, 0.2091}, {0.100, 0.1967}};
  for (const auto& row : rows) {
    AirSpace space;
    space.thickness = 0.020;
    space.width = row.width;
    EXPECT_NEAR(air_space_resistance(space), row.R, 0.00005) << row.width;
  }
}

TEST(AirSpace, LargeDifferencesConvectMore) {
  AirSpace space;
  space.thickness = 0.09;
  const double gentle = air_space_resistance(space);
  space.difference = 20.0;
  // ha = 0.73 x 20^(1/3) = 1.9815, hr = 0.81818 x 5.1487: by hand from the formula.
  EXPECT_NEAR(1.0 / air_space_resistance(space), 1.98152 + 0.818182 * 5.14872, 1e-3);
  EXPECT_LT(air_space_resistance(space), gentle);
}

TEST(AirSpace, AShinyFaceDoublesAndMore) {
  AirSpace space;
  space.thickness = 0.025;
  const double dull = air_space_resistance(space);
  space.emissivity_cold = 0.05;
  EXPECT_GT(air_space_resistance(space), 2.0 * dull);
}

TEST(AirSpace, RefusesWhatCannotBe) {
  AirSpace space;
  EXPECT_THROW(air_space_resistance(space), ModelError);  // no thickness
  space.thickness = NAN;
  EXPECT_THROW(air_space_resistance(space), ModelError);
  space.thickness = 0.02;
  for (const double e : {0.0, 1.2, -0.1}) {
    space.emissivity_warm = e;
    EXPECT_THROW(air_space_resistance(space), ModelError) << e;
  }
}

}  // namespace
}  // namespace coldbay
