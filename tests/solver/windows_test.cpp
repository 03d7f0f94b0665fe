#include "solver/block/windows.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/solved_walls.hpp"

namespace coldbay::windows_test {
namespace {

// Closed forms: a slab whose faces are held lets a difference die as exp(-pi x / d); one whose films resist
// far more than itself is a fin, 1 / length^2 = (1/R_i + 1/R_o) / (k d) [1 % here: the slab resists 1 % of
// the films]. 60 cells find the first to (pi / 60)^2 / 24 of it.
TEST(Windows, DifferencesDieAsClosedFormsSay) {
  const std::vector<Slab> slab(60, {0.12 / 60, 0.04});
  EXPECT_NEAR(decay_along(slab, 0.0, 0.0).length / (0.12 / std::numbers::pi), 1.0, 5e-4);
  const std::vector<Slab> sheet(20, {0.01 / 20, 10.0});
  const double R_i = 0.13, R_o = 0.04;
  EXPECT_NEAR(decay_along(sheet, R_i, R_o).length / std::sqrt(10.0 * 0.01 / (1.0 / R_i + 1.0 / R_o)), 1.0,
              0.02);
  EXPECT_NEAR(decay_along(sheet, R_i, R_o).on_face, 1.0, 0.02);
}

// Bays alike between neighbours alike are solved once: ends, and one for all between.
TEST(Windows, RepeatedBaysAreSolvedOnce) {
  Wall w = test::sound_wall();
  for (int b = 3; b < 16; ++b) w.bays.push_back(w.bays[0]);
  for (std::size_t b = 0; b < w.bays.size(); ++b) w.bays[b].path = fmt::format("wall.bays[{}]", b);
  const auto solved = [&] {
    std::size_t n = 0;
    const Windows parts = windows(build(w), test::winter(), 0.005);
    for (std::size_t i = 0; i < parts.all.size(); ++i) n += parts.all[i].like == i ? 1u : 0u;
    double at = 0.0;
    for (const Window& window : parts.all) {
      EXPECT_NEAR(window.own.from, at, 1e-12);  // rounding
      at = window.own.to;
    }
    return n;
  };
  EXPECT_EQ(solved(), 3u);
  // What is no more than rounding of sums, or would only matter if air were driven through it, is no
  // difference.
  w.bays[5].fills[0].material.conductivity *= 1.0 + 1e-13;
  w.bays[6].fills[0].material.airflow_resistivity = 5e3;
  EXPECT_EQ(solved(), 3u);
  w.bays[3].gap.left = 0.01;  // it, and the bay to its left, which sees so far, are others now
  EXPECT_EQ(solved(), 5u);
}

// An empty bay lets differences go further than batts do. It widens the window of its neighbours, across it,
// and of nobody further off.
TEST(Windows, ABayReachesAsFarAsItsNeighboursLetIt) {
  constexpr std::size_t empty = 6;
  Wall w = test::sound_wall();
  w.bays.resize(1);
  w.bays.resize(12, w.bays[0]);
  const auto spans = [&] {
    std::vector<Span> all;
    for (const Window& window : windows(build(w), test::winter(), 0.005).all)
      all.push_back(window.block.span(Direction::across));
    return all;
  };
  const std::vector<Span> before = spans();
  w.bays[empty].fills.clear();
  const std::vector<Span> after = spans();
  ASSERT_EQ(before.size(), after.size());
  for (std::size_t b = 0; b < after.size(); ++b) {
    EXPECT_EQ(after[b].to > before[b].to + 0.1, b + 1 == empty) << b;
    EXPECT_EQ(after[b].from < before[b].from - 0.1, b == empty + 1) << b;
  }
}

}  // namespace
}  // namespace coldbay::windows_test
