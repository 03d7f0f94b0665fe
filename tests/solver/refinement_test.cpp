#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "solver/refinement/carried_over.hpp"
#include "solver/refinement/strip_errors.hpp"
#include "solver/refinement/uncertainty.hpp"
#include "tests/support/grids.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::refinement_test {
namespace {

// A series of known limit: changes by the last two halvings of a h^p, and what is then left.
TEST(Convergence, KnowsTheLimitOfASeries) {
  for (const double p : {0.7, 1.0, 1.5, 2.0}) {
    const double before = std::exp2(-p) - 1.0, last = std::exp2(-2 * p) - std::exp2(-p),
                 left = std::exp2(-2 * p);
    const Convergence c = convergence(before, last);
    EXPECT_NEAR(*c.order, p, 1e-12);
    EXPECT_NEAR(c.uncertainty, 1.25 * left, 1e-12);  // the safety factor of [Roache1994] for three grids
  }
}

TEST(Convergence, PromisesNothingOnLuck) {
  // Faster than the scheme can be: counted as order 2, and as no smaller than a quarter of the change before.
  EXPECT_NEAR(convergence(1.0, 0.01).uncertainty, 1.25 * 0.25 / 3.0, 1e-12);
  // Hardly at all: as order 1/2.
  EXPECT_NEAR(convergence(1.0, 0.9).uncertainty, 1.25 * 0.9 / (std::sqrt(2.0) - 1.0), 1e-12);
  // Not at all, or to and fro: three times the larger change.
  EXPECT_NEAR(convergence(0.1, 0.2).uncertainty, 0.6, 1e-12);
  EXPECT_NEAR(convergence(-0.3, 0.2).uncertainty, 0.9, 1e-12);
  EXPECT_FALSE(convergence(-0.3, 0.2).order);
  EXPECT_EQ(convergence(0.0, 0.0).uncertainty, 0.0);
  EXPECT_FALSE(std::isfinite(convergence(NAN, 1.0).uncertainty));
}

// Between layers the temperature is linear, so carrying it over to halved cells is exact.
TEST(CarriedOver, KeepsLinearTemperatures) {
  const Section s = test::layered(0.4, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  const Axis x = test::jittered(0.4, 9, 3), z = test::graded({0.0, 0.0125, 0.1025, 0.1135}, 0.004, 1.3);
  const ConductivityGrid coarse = rasterise(s, x, z);
  std::vector<bool> some(static_cast<std::size_t>(x.cells()), false);
  some[2] = some[5] = true;
  const Axis fine_x = bisected(x, some), fine_z = bisected(z);
  const TemperatureField exact = solve(rasterise(s, fine_x, fine_z), test::winter());
  const std::vector<double> carried =
      carried_over(coarse, test::winter(), solve(coarse, test::winter()), fine_x, fine_z);
  ASSERT_EQ(carried.size(), exact.celsius.size());
  for (std::size_t c = 0; c < carried.size(); ++c) EXPECT_NEAR(carried[c], exact.celsius[c], 1e-7);
}

// The strips that are asked for must be those at the steel, not those in the plain fibre far off.
TEST(StripErrors, SitWhereHeatTurns) {
  Section s = test::layered(0.6, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  test::add(s, 50.0, {0.3, 0.3012}, {0.0125, 0.1025});
  const GridLines lines = grid_lines(s, 8.0, 1'000'000);
  const ConductivityGrid grid = rasterise(s, lines.across, lines.depth);
  const StripErrors errors = strip_errors(grid, test::winter(), solve(grid, test::winter()));
  const auto worst = std::max_element(errors.across.begin(), errors.across.end()) - errors.across.begin();
  EXPECT_NEAR(lines.across.centre(worst), 0.3006, 0.05);  // within half the wall's depth of the steel
  EXPECT_LT(errors.across.front(), 1e-2 * errors.across[static_cast<std::size_t>(worst)]);
  const GridLines finer = refined(lines, errors, 0.7);
  EXPECT_GT(finer.across.cells() + finer.depth.cells(), lines.across.cells() + lines.depth.cells());
  EXPECT_LT(finer.across.cells() + finer.depth.cells(),
            1.7 * static_cast<double>(lines.across.cells() + lines.depth.cells()));
}

// A wall of layers has no error, so nothing to refine.
TEST(StripErrors, AreNothingInLayers) {
  const Section s = test::layered(0.6, {{0.0125, 0.16}, {0.09, 0.04}});
  const ConductivityGrid grid = test::grid_of(s, 4.0);
  EXPECT_LT(sum(strip_errors(grid, test::winter(), solve(grid, test::winter()))), 1e-12);
}

}  // namespace
}  // namespace coldbay::refinement_test
