#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/pipes.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::held_test {
namespace {

/// Heat from a pipe of width / `ratio` across at 40 degC, in the middle of a square of conductivity 1 whose
/// faces are at 0 degC, per kelvin: the shape factor of a metre [-]; and how sure it is.
struct ShapeFactor {
  double value, uncertainty;
};
ShapeFactor shape_factor(double ratio) {
  constexpr double width = 0.2, warmer = 40.0;
  Section s = test::layered(width, {{width, 1.0}});
  test::hold(s, Circle{{0.5 * width, 0.5 * width}, 0.5 * width / ratio}, warmer);
  const Exchange cold{0.0, 0.0};
  const Forecast f = forecast(s, {cold, cold, cold, cold}, {});
  EXPECT_TRUE(f.reached);
  EXPECT_LE(f.field.report.heat_imbalance, 1e-9);
  // A quarter leaves through each face; across and in depth, strips are halved one by one.
  EXPECT_NEAR(-4.0 * f.results.flows.inside, f.results.flows.held, f.results.heat_flow_uncertainty);
  return {f.results.flows.held / warmer, f.results.heat_flow_uncertainty / warmer};
}

// A cylinder in the middle of a square: S = 2 pi / ln(1.08 w/D) per metre ([Incropera2007] table 4.1).
// Its 1.08 is rounded: a conformal map gives the square's radius as 1/0.927037 of half its side, 1.078705,
// and S is then exact to (D/w)^8. So the bar for the rounded one is what its third digit is worth, 0.005/1.08
// in the logarithm; that for the exact one is what the forecast itself promises.
TEST(Held, ACylinderInASquare) {
  for (const double ratio : {4.0, 8.0, 20.0}) {
    const ShapeFactor ours = shape_factor(ratio);
    const double rounded = std::log(1.08 * ratio), exact = std::log(ratio / 0.927037);
    EXPECT_NEAR(ours.value * rounded / (2.0 * std::numbers::pi), 1.0, 0.005 / 1.08 / rounded) << ratio;
    EXPECT_NEAR(ours.value, 2.0 * std::numbers::pi / exact, ours.uncertainty) << ratio;
    EXPECT_LT(ours.uncertainty, 1e-3 * ours.value);
  }
}

// As in honest_test.cpp, with a round or a slanted pipe: what is reported is held to by a forecast five times
// as sure. 95 of 100 are promised; all 60 hold, and one is left to another compiler. Where the scheme counts
// as second order, 58 by the heat and 57 by the face do, and of 100 at the usual accuracy 95 and 90.
TEST(Held, UncertaintiesHold) {
  int heat = 0, face = 0;
  std::mt19937 rng(7);
  for (unsigned seed = 1; seed <= 60; ++seed) {
    Section s = test::random_wall(seed, seed % 2 == 0);
    const double r = test::uniform(rng, 0.005, 0.02), x = test::uniform(rng, 0.2, 0.8) * s.width,
                 z = test::uniform(rng, 0.45, 0.55) * s.depth, T = test::uniform(rng, -20.0, 70.0);
    if (rng() % 2 == 0)
      test::hold(s, Circle{{x, z}, r}, T);
    else
      test::hold(s, Polygon{{{x, z - r}, {x + r, z}, {x, z + r}, {x - r, z}}}, T);
    const Results usual = forecast(s, test::winter(), {}, {5e-3, 0.05}).results;
    const Forecast sure = forecast(s, test::winter(), {}, {1e-3, 0.01});
    heat += std::abs(usual.flows.inside - sure.results.flows.inside) <= usual.heat_flow_uncertainty &&
            std::abs(usual.flows.held - sure.results.flows.held) <= usual.heat_flow_uncertainty;
    double off = 0.0;
    for (std::size_t i = 0; i < usual.profile.across.size(); ++i)
      off = std::max(off,
                     std::abs(usual.profile.celsius[i] - temperature_at(sure.grid, test::winter(), sure.field,
                                                                        {usual.profile.across[i], 0.0})));
    face += off <= usual.surface_uncertainty;
  }
  RecordProperty("heat_held", heat);
  RecordProperty("face_held", face);
  EXPECT_GE(heat, 59);
  EXPECT_GE(face, 59);
}

}  // namespace
}  // namespace coldbay::held_test
