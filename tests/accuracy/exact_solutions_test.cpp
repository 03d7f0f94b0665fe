#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/solved.hpp"

namespace coldbay::exact_solutions_test {
namespace {

// A fin: sheet of steel with a film on one face, held at one end. Textbook solution for a sheet so thin that
// its temperature is even through it (Biot number 1.8e-4): T_tip/T_base = 1/cosh mL, m = sqrt(h/(k t)).
TEST(ExactSolutions, Fin) {
  constexpr double k = 50.0, t = 0.00109, h = 8.29, L = 0.10;
  const Section s = test::layered(L, {{t, k}});
  // The other face meets a film of 1e4 m2K/W, which passes 1e-5 of what the first one does.
  const Surroundings air{{0.0, 1.0 / h}, {0.0, 1e4}, Exchange{1.0, 0.0}, {}};
  const Forecast f = forecast(s, air, {});
  // 1e-4: the sheet is even to 2e-4 of Biot, the grid's own change is ten times less.
  EXPECT_NEAR(temperature_at(f.grid, air, f.field, {L, 0.5 * t}), 0.537063, 1e-4);
  EXPECT_NEAR(f.results.flows.left, 0.566999, 1.5e-4);  // sqrt(h k t) tanh mL, per metre
}

// The first standard case has a series solution: its column's centre is exactly 5, and the points of the
// table to four decimals are in hand. The grid leaves a few thousandths near the corner where 20 and 0 meet.
TEST(ExactSolutions, HalfSquareColumn) {
  const Section s = test::layered(0.5, {{1.0, 1.0}});
  const Surroundings held{{20.0, 0.0}, {0.0, 0.0}, Exchange{0.0, 0.0}, {}};
  const Forecast f = forecast(s, held, {});
  const auto series = [](double x, double y) {  // [ISO10211] case 1 by separation of variables, 400 terms
    double sum = 0.0;
    for (int m = 0; m < 400; ++m) {
      const double l = (2 * m + 1) * M_PI / 1.0;  // half width 0.5
      // sinh(l y)/sinh(l) without overflow
      sum += 40.0 / (l * 0.5) * std::sin(l * x) * std::exp(l * (y - 1.0)) * (1.0 - std::exp(-2.0 * l * y)) /
             (1.0 - std::exp(-2.0 * l));
    }
    return sum;
  };
  EXPECT_NEAR(series(0.5, 0.5), 5.0, 1e-9);
  for (int r = 1; r <= 7; ++r)
    for (int c = 1; c <= 4; ++c) {
      const double x = 0.125 * c, depth = 0.125 * r;
      EXPECT_NEAR(temperature_at(f.grid, held, f.field, {x, depth}), series(x, 1.0 - depth), 0.01)
          << x << ", " << depth;
    }
}

}  // namespace
}  // namespace coldbay::exact_solutions_test
