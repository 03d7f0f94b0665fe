#include "tools/study/statistics.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <tuple>
#include <vector>

#include "tests/tools/made_up_study.hpp"
#include "tools/study/sobol.hpp"
#include "tools/study/variation.hpp"

namespace coldbay::statistics_test {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double rounding = 1e-12;  // a few operations on numbers of order one

// Hyndman and Fan (1996), definition 7, worked by hand: place (n - 1) p from 0 among 1, 2, 4, 8.
TEST(Statistics, QuantilesLieBetweenTheTwoNearest) {
  const std::vector<double> four{1.0, 2.0, 4.0, 8.0};
  EXPECT_NEAR(quantile(four, 0.0), 1.0, rounding);
  EXPECT_NEAR(quantile(four, 0.5), 3.0, rounding);                // place 1.5
  EXPECT_NEAR(quantile(four, 0.05), 1.15, rounding);              // place 0.15
  EXPECT_NEAR(quantile(four, 0.95), 4.0 + 0.85 * 4.0, rounding);  // place 2.85
  EXPECT_NEAR(quantile(four, 1.0), 8.0, rounding);
  EXPECT_NEAR(quantile(std::vector<double>{5.0}, 0.3), 5.0, rounding);
  EXPECT_TRUE(std::isnan(quantile({}, 0.5)));
}

TEST(Statistics, ABandLeavesOutWhatIsNoNumber) {
  const Spread band = spread_of({3.0, nan, 1.0, std::numeric_limits<double>::infinity(), 2.0});
  EXPECT_EQ(band.n, 3U);
  EXPECT_NEAR(band.mean, 2.0, rounding);
  EXPECT_NEAR(band.median, 2.0, rounding);
  EXPECT_NEAR(band.quarter, 1.5, rounding);
  EXPECT_NEAR(band.low, 1.1, rounding);
  EXPECT_NEAR(band.high, 2.9, rounding);
  EXPECT_EQ(spread_of({nan}).n, 0U);
  EXPECT_TRUE(std::isnan(spread_of({}).mean));
}

// Without ties Spearman's is 1 - 6 sum d^2 / (n (n^2 - 1)): ranks 1 2 3 4 5 against 2 1 4 3 5 differ by 1
// four times, 1 - 24/120 = 0.8. With ties, by hand: ranks 1, 2.5, 2.5, 4 against 1, 2, 3, 4 give 4.5/sqrt(4.5
// x 5).
TEST(Statistics, RankCorrelationByHand) {
  EXPECT_NEAR(
      rank_correlation(std::vector{1.0, 2.0, 3.0, 4.0, 5.0}, std::vector{20.0, 10.0, 40.0, 30.0, 5e9}), 0.8,
      rounding);
  EXPECT_NEAR(rank_correlation(std::vector{0.0, 7.0, 7.0, 9.0}, std::vector{1.0, 2.0, 3.0, 4.0}),
              4.5 / std::sqrt(4.5 * 5.0), rounding);
  EXPECT_NEAR(rank_correlation(std::vector{1.0, nan, 2.0, 3.0}, std::vector{3.0, 9.0, 2.0, 1.0}), -1.0,
              rounding);
  EXPECT_TRUE(std::isnan(rank_correlation(std::vector{1.0, 1.0, 1.0}, std::vector{1.0, 2.0, 3.0})));
}

FirstOrder index_of(const StudyTable& table, std::size_t parameter) {
  return first_order(levels_of(table, parameter), table.numbers.back(), false);
}

// Ishigami and Homma (1990): sin x1 + 7 sin^2 x2 + 0.1 x3^4 sin x1, even on (-pi, pi). In closed form, by
// hand: V1 = (1 + 0.1 pi^4/5)^2/2, V2 = 49/8, V = 49/8 + 0.1 pi^4/5 + 0.01 pi^8/18 + 1/2.
double ishigami(const std::vector<double>& unit) {
  const auto x = [&](std::size_t i) { return std::numbers::pi * (2.0 * unit[i] - 1.0); };
  return std::sin(x(0)) + 7.0 * std::pow(std::sin(x(1)), 2) + 0.1 * std::pow(x(2), 4) * std::sin(x(0));
}
const std::vector<double>& ishigami_indices() {
  static const double pi4 = std::pow(std::numbers::pi, 4);
  static const double all = 49.0 / 8.0 + 0.1 * pi4 / 5.0 + 0.01 * pi4 * pi4 / 18.0 + 0.5;
  static const std::vector<double> indices{std::pow(1.0 + 0.1 * pi4 / 5.0, 2) / 2.0 / all, 49.0 / 8.0 / all,
                                           0.0};
  return indices;
}

// Sobol's g-function: the product of (|4 x - 2| + a) / (1 + a), even on (0, 1). Vi = 1 / (3 (1 + ai)^2), and
// the variance of all is the product of (1 + Vi), less 1.
const std::vector<double> g_weights{0.0, 0.5, 3.0, 9.0};
double g_function(const std::vector<double>& unit) {
  double product = 1.0;
  for (std::size_t i = 0; i < unit.size(); ++i)
    product *= (std::abs(4.0 * unit[i] - 2.0) + g_weights[i]) / (1.0 + g_weights[i]);
  return product;
}
std::vector<double> g_indices() {
  std::vector<double> indices;
  double all = 1.0;
  for (const double a : g_weights) {
    indices.push_back(1.0 / (3.0 * std::pow(1.0 + a, 2)));
    all *= 1.0 + indices.back();
  }
  for (double& v : indices) v /= all - 1.0;
  return indices;
}

/// Four standard errors: one honest run in 16,000 is further off. And no further than `most`, lest an error
/// that is too large pass anything.
void expect_indices(const StudyTable& table, const std::vector<double>& wanted, double most) {
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    const FirstOrder found = index_of(table, i);
    EXPECT_LE(std::abs(found.index - wanted[i]), 4.0 * found.error) << "x" << i + 1;
    EXPECT_LE(std::abs(found.index - wanted[i]), most) << "x" << i + 1;
    testing::Test::RecordProperty(fmt::format("x{}", i + 1),
                                  fmt::format("{:f} +- {:f}", found.index, found.error));
  }
}

// Most: four times 1.5/sqrt(n), since y^2 of these functions varies by about as much as 1.5 times its mean.
TEST(Statistics, FirstOrderIndicesOfIshigamisFunction) {
  EXPECT_NEAR(ishigami_indices()[0], 0.3139, 5e-5);  // as printed in the literature, from memory
  EXPECT_NEAR(ishigami_indices()[1], 0.4424, 5e-5);
  expect_indices(drawn(3, 1000, 1, ishigami), ishigami_indices(), 0.19);
  expect_indices(drawn(3, 20000, 2, ishigami), ishigami_indices(), 0.042);
}

TEST(Statistics, FirstOrderIndicesOfSobolsFunction) {
  expect_indices(drawn(4, 1000, 3, g_function), g_indices(), 0.19);
  expect_indices(drawn(4, 20000, 4, g_function), g_indices(), 0.042);
}

// The error is one: of 300 studies of 300 rows, within two of it lie 95 % if the estimate is normal and knows
// its error. Binomial with 300: a standard deviation of 1.3 %; five of those below, hence 88 %. None may be
// so wide that everything lies within: within one standard error lie 68 % (2.7 %), at most 68 + 5 x 2.7 = 82
// %. Where an index is nearly 0 the error may be too large, never too small.
TEST(Statistics, TheErrorOfAnIndexIsOne) {
  const std::vector<double>& wanted = ishigami_indices();
  std::vector<int> within_one(3, 0), within_two(3, 0);
  for (std::uint64_t seed = 100; seed < 400; ++seed) {
    const StudyTable table = drawn(3, 300, seed, ishigami);
    for (std::size_t i = 0; i < 3; ++i) {
      const FirstOrder found = index_of(table, i);
      within_one[i] += std::abs(found.index - wanted[i]) <= found.error;
      within_two[i] += std::abs(found.index - wanted[i]) <= 2.0 * found.error;
    }
  }
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_GE(within_two[i], 264) << "x" << i + 1;
    testing::Test::RecordProperty(fmt::format("within_{}", i + 1),
                                  fmt::format("{} {}", within_one[i], within_two[i]));
  }
  for (std::size_t i = 0; i < 2; ++i) EXPECT_LE(within_one[i], 246) << "x" << i + 1;
}

// y = x1 + 0.3 x2 + 0.2 list: variances 1, 0.09, 0 and 0.04 (L + 1)/(L - 1), for L even steps from 0 to 1
// have (L + 1)/(L - 1) times the variance of what is even between. Cut into classes of rows, x3 had 0.97 of
// the variance with 20 draws in 21 cells. Of 100 studies two errors hold 95; binomial, five deviations of 2.2
// below: 84. And the error is one: at most what k/(n (n - k)) gives for a share of 1, twice over.
TEST(Statistics, DrawsThatAreCrossedWithAListAreCountedOnce) {
  const auto model = [](const std::vector<double>& x) { return x[0] + 0.3 * x[1] + 0.2 * x[3]; };
  for (const auto& [n_draws, n_listed, most] :
       {std::tuple{20U, 21U, 0.4}, std::tuple{100U, 20U, 0.12}, std::tuple{2000U, 1U, 0.03}}) {
    const double L = n_listed, of_list = n_listed == 1 ? 0.0 : 0.04 * (L + 1.0) / (L - 1.0);
    const std::vector<double> wanted{1.0 / (1.09 + of_list), 0.09 / (1.09 + of_list), 0.0,
                                     of_list / (1.09 + of_list)};
    std::vector<int> within_two(4, 0);
    for (std::uint64_t seed = 1; seed <= 100; ++seed) {
      const auto found = indices_of(crossed(n_draws, n_listed, seed, model));
      ASSERT_EQ(found.size(), n_listed == 1 ? 3U : 4U);
      for (std::size_t i = 0; i < found.size(); ++i) {
        EXPECT_LE(found[i].error, most);
        within_two[i] += std::abs(found[i].index - wanted[i]) <= 2.0 * found[i].error;
      }
    }
    for (std::size_t i = 0; i < (n_listed == 1 ? 3U : 4U); ++i)
      EXPECT_GE(within_two[i], 84) << n_draws << " draws, parameter " << i + 1;
  }
}

// A list that does something else in every draw, and nothing in the mean: its index is 0, not a 20th of what
// it does together with x1. Variance of the list times that of x1 is all there is beside x2.
TEST(Statistics, AListThatWorksThroughDrawsAloneHasNoIndexOfItsOwn) {
  const auto model = [](const std::vector<double>& x) { return x[1] + 3.0 * (x[0] - 0.5) * (x[3] - 0.5); };
  double sum = 0.0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const FirstOrder list = indices_of(crossed(20, 5, seed, model))[3];
    EXPECT_LE(std::abs(list.index), 4.0 * list.error + rounding);
    sum += list.index;
  }
  EXPECT_NEAR(sum / 100.0, 0.0, 0.01);  // 0.02 where Var(z)/n is not taken off
}

// A draw that failed in one of the cells must not look like one that does less: the cells differ by 100.
TEST(Statistics, AFailedRowMovesNoDraw) {
  StudyTable table = crossed(40, 3, 9, [](const auto& x) { return x[0] + 200.0 * x[3]; });
  for (std::size_t row = 0; row < 40; row += 3) table.numbers.back()[row] = nan;
  const Variation all = variation_of(table);
  const std::vector<double> means = means_of_draws(table.numbers.back(), all.crossing);
  for (std::size_t d = 1; d < 40; ++d)  // by less than x1 may: cells differ in which draws they have
    EXPECT_NEAR(means[d] - means[1], table.numbers[0][d] - table.numbers[0][1], 0.5);
}

TEST(Statistics, NineDrawsHaveNoIndices) {
  for (const FirstOrder& found : indices_of(crossed(9, 21, 1, [](const auto& x) { return x[0] + x[3]; })))
    EXPECT_TRUE(std::isnan(found.index));
}

// A grid of every combination of y = a + 10 b, a in 0 1 2, b in 0 1: variances 2/3 and 25, nothing left over.
TEST(Statistics, EveryCombinationIsExact) {
  const StudyTable table =
      table_of({{"a", {0, 1, 2, 0, 1, 2}}, {"b", {0, 0, 0, 1, 1, 1}}}, {0, 1, 2, 10, 11, 12});
  ASSERT_TRUE(is_every_combination(variation_of(table), table.numbers.back()));
  const FirstOrder a = indices_of(table)[0], b = indices_of(table)[1];
  EXPECT_NEAR(a.index, (2.0 / 3.0) / (2.0 / 3.0 + 25.0), rounding);
  EXPECT_NEAR(a.index + b.index, 1.0, rounding);
  EXPECT_EQ(a.error, 0.0);
  StudyTable twice = table;
  twice.numbers[0][1] = 0.0;
  EXPECT_FALSE(is_every_combination(variation_of(twice), twice.numbers.back()));
  StudyTable failed = table;
  failed.numbers[2][3] = nan;
  EXPECT_FALSE(is_every_combination(variation_of(failed), failed.numbers.back()));
}

TEST(Statistics, NoIndexWhereNothingVaries) {
  EXPECT_TRUE(std::isnan(index_of(drawn(1, 50, 1, [](const auto&) { return 0.3; }), 0).index));
  EXPECT_TRUE(std::isnan(index_of(drawn(1, 5, 1, [](const auto& x) { return x[0]; }), 0).index));
  StudyTable failed = drawn(1, 50, 1, [](const auto& x) { return x[0]; });
  failed.numbers.back().assign(50, nan);
  EXPECT_TRUE(std::isnan(index_of(failed, 0).index));
}

}  // namespace
}  // namespace coldbay::statistics_test
