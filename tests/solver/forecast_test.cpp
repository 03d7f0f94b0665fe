#include "solver/forecast.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "geometry/wall/wall.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::forecast_test {
namespace {

TEST(Forecast, PartsAddUpToTheWhole) {
  Section s = test::layered(1.2, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  test::add(s, 0.12, {0.58, 0.62}, {0.0125, 0.1025});
  s.parts = {{"bay 1", "", {0.0, 0.6}, {0.0, 0.58}, true}, {"bay 2", "", {0.6, 1.2}, {0.62, 1.2}, true}};
  const Results r = forecast(s, test::winter(), {}).results;
  ASSERT_EQ(r.parts.size(), 2u);
  EXPECT_NEAR(r.parts[0].u_value, r.parts[1].u_value, 1e-9);  // mirror images
  EXPECT_NEAR(0.5 * (r.parts[0].u_value + r.parts[1].u_value), *r.u_value, 1e-9);
}

// Over a stud the face is colder in winter and warmer in summer, by the same share of the difference.
TEST(Forecast, SaysWhatIsNormal) {
  Section s = test::layered(1.2, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  test::add(s, 0.12, {0.58, 0.62}, {0.0125, 0.1025});
  s.parts = {{"bay 1", "", {0.0, 0.6}, {0.0, 0.58}, false}, {"bay 2", "", {0.6, 1.2}, {0.62, 1.2}, true}};
  Results r = forecast(s, test::winter(), {}).results;
  ASSERT_TRUE(r.stud_contrast);  // the right end of bay 2 mirrors it, without a stud there
  EXPECT_NEAR(*r.stud_contrast, 0.0, 0.01);
  s.parts[0].sound = true;
  r = forecast(s, test::winter(), {}).results;
  ASSERT_TRUE(r.stud_contrast);
  s.parts.erase(s.parts.begin(), s.parts.end());
  EXPECT_FALSE(forecast(s, test::winter(), {}).results.stud_contrast);
}

TEST(Forecast, LeavesOutWhatHasNoMeaning) {
  const Section s = test::layered(0.5, {{0.5, 1.0}});
  const Surroundings corner{{20.0, 0.0}, {0.0, 0.0}, Exchange{0.0, 0.0}, {}};
  const Results r = forecast(s, corner, 0.5).results;
  EXPECT_FALSE(r.u_value);
  EXPECT_FALSE(r.limits);
  EXPECT_TRUE(r.temperature_factor);
  EXPECT_NEAR(r.moisture->dew_point, 9.27, 0.005);  // [ISO13788], as in results_test.cpp
  const Surroundings level{{10.0, 0.1}, {10.0, 0.1}, Exchange{0.0, 0.0}, {}};
  EXPECT_FALSE(forecast(s, level, {}).results.temperature_factor);
}

// In the cooling season the worst point of the face is its warmest.
TEST(Forecast, TemperatureFactorWorksBothWays) {
  Section s = test::layered(0.4, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  test::add(s, 50.0, {0.2, 0.201}, {0.0125, 0.1025});
  const Surroundings summer{{22.0, 0.13}, {42.0, 0.04}, {}, {}};
  EXPECT_NEAR(*forecast(s, summer, {}).results.temperature_factor,
              *forecast(s, test::winter(), {}).results.temperature_factor, 1e-9);
}

// Edges less than a micrometre apart are one line, and that is said; those that differ by rounding alone are
// not worth a word.
TEST(Forecast, SaysWhichEdgesAreDrawnAsOne) {
  const auto warned = [](double apart) {
    Section s = test::layered(0.4, {{0.0125, 0.16}, {0.09, 0.04}});
    test::add(s, 0.12, {0.1, 0.2}, {0.0125, 0.1025});
    test::add(s, 0.3, {0.2 + apart, 0.25}, {0.0125, 0.1025});
    const auto warnings = forecast(s, test::winter(), {}).results.warnings;
    return warnings.empty() ? std::string() : warnings[0];
  };
  EXPECT_EQ(warned(5e-7), "edges less than 0.001 mm apart are drawn as one, at 200.0 mm across");
  EXPECT_EQ(warned(1e-15), "");
  EXPECT_EQ(warned(5e-6), "");
}

// One relative uncertainty for the flow and for U; the same on a summer's day; and none finer than what a
// solve leaves.
TEST(Forecast, UncertaintiesBelongTogether) {
  Section s = test::layered(0.4, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  const Results layers = forecast(s, test::winter(), {}).results;
  EXPECT_GE(layers.heat_flow_uncertainty / layers.heat_flow, 1e-9);
  test::add(s, 50.0, {0.2, 0.201}, {0.0125, 0.1025});
  const Results winter = forecast(s, test::winter(), {}).results;
  EXPECT_NEAR(*winter.u_value_uncertainty / *winter.u_value, winter.heat_flow_uncertainty / winter.heat_flow,
              1e-12);
  const Results summer = forecast(s, {{0.0, 0.13}, {20.0, 0.04}, {}, {}}, {}).results;
  EXPECT_NEAR(summer.surface_uncertainty / winter.surface_uncertainty, 1.0, 1e-3);
  EXPECT_NEAR(-summer.heat_flow / winter.heat_flow, 1.0, 1e-9);
}

// Where two held faces meet, the flow grows with every finer grid: that is known beforehand, and said.
TEST(Forecast, KnowsAFlowWithoutLimit) {
  const Section s = test::layered(0.5, {{0.5, 1.0}});
  EXPECT_TRUE(forecast(s, {{20.0, 0.0}, {0.0, 0.0}, Exchange{0.0, 0.0}, {}}, {}).results.flow_unlimited);
  EXPECT_FALSE(forecast(s, {{20.0, 0.1}, {0.0, 0.0}, Exchange{0.0, 0.0}, {}}, {}).results.flow_unlimited);
  EXPECT_FALSE(forecast(s, {{0.0, 0.0}, {20.0, 0.1}, Exchange{0.0, 0.0}, {}}, {}).results.flow_unlimited);
}

}  // namespace
}  // namespace coldbay::forecast_test
