#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numeric>
#include <set>
#include <vector>

#include "tools/study/chance.hpp"
#include "tools/study/distribution.hpp"

namespace coldbay::study_chance_test {
namespace {

using Words = std::array<std::uint32_t, 4>;

TEST(Chance, PhiloxGivesThePublishedWords) {
  // The known answers that are published with [Salmon2011], of four words and ten rounds; from memory.
  EXPECT_EQ(philox({0, 0, 0, 0}, {0, 0}), (Words{0x6627e8d5u, 0xe169c58du, 0xbc57ac4cu, 0x9b00dbd8u}));
  constexpr std::uint32_t ones = 0xffffffffu;
  EXPECT_EQ(philox({ones, ones, ones, ones}, {ones, ones}),
            (Words{0x408f276du, 0x41c83b0eu, 0xa20bc7c6u, 0x6d5451fdu}));
  EXPECT_EQ(philox({0x243f6a88u, 0x85a308d3u, 0x13198a2eu, 0x03707344u}, {0xa4093822u, 0x299f31d0u}),
            (Words{0xd16cfe09u, 0x94fdccebu, 0x5001e420u, 0x24126ea1u}));
}

TEST(Chance, NumbersAreSpreadEvenly) {
  constexpr int n = 100'000, cells = 100;
  std::array<int, cells> count{};
  double sum = 0.0;
  for (std::uint64_t i = 0; i < n; ++i) {
    const double u = chance({42, 3}, i);
    ASSERT_GT(u, 0.0);
    ASSERT_LT(u, 1.0);
    ++count[static_cast<std::size_t>(u * cells)];
    sum += u;
  }
  double chi2 = 0.0;
  for (const int c : count) chi2 += (c - n / cells) * (c - n / cells) / static_cast<double>(n / cells);
  // Of 99 degrees of freedom: 99 with a deviation of sqrt(2 * 99) = 14; five of those either way.
  EXPECT_NEAR(chi2, 99.0, 70.0);
  // The mean of n has a deviation of sqrt(1 / 12 / n) = 0.00091; five of those.
  EXPECT_NEAR(sum / n, 0.5, 0.0046);
}

TEST(Chance, DimensionsAndSeedsAreApart) {
  // Correlation of n pairs has a deviation of 1 / sqrt(n); five of those.
  constexpr std::uint64_t n = 10'000;
  const auto correlation = [](Stream a, Stream b) {
    double sum = 0.0;
    for (std::uint64_t i = 0; i < n; ++i)
      sum += (chance_in_stratum(a, i, n) - 0.5) * (chance_in_stratum(b, i, n) - 0.5);
    return 12.0 * sum / static_cast<double>(n);
  };
  EXPECT_NEAR(correlation({1, 0}, {1, 1}), 0.0, 0.05);
  EXPECT_NEAR(correlation({1, 0}, {2, 0}), 0.0, 0.05);
  EXPECT_NEAR(correlation({1, 0}, {1, 0}), 1.0, 0.05);
}

TEST(Chance, ShufflingMissesNothingAndRepeatsNothing) {
  for (const std::uint64_t n : {1u, 2u, 3u, 5u, 100u, 255u, 256u, 257u, 1000u, 65535u, 65537u}) {
    std::vector<int> seen(n, 0);
    for (std::uint64_t i = 0; i < n; ++i) {
      const std::uint64_t to = shuffled({7, 2}, i, n);
      ASSERT_LT(to, n);
      ++seen[to];
    }
    for (const int times : seen) ASSERT_EQ(times, 1) << "of " << n;
  }
}

TEST(Chance, ShortRowsAreShuffledInEveryWay) {
  // Of three things there are six orders; 600 seeds show each 100 times with a deviation of 9; five of those.
  std::array<int, 27> orders{};
  for (std::uint64_t seed = 0; seed < 600; ++seed) {
    const auto at = [&](std::uint64_t i) { return shuffled({seed, 0}, i, 3); };
    ++orders[at(0) * 9 + at(1) * 3 + at(2)];
  }
  for (const std::size_t order : {5u, 7u, 11u, 15u, 19u, 21u}) EXPECT_NEAR(orders[order], 100, 46) << order;
}

TEST(Chance, ALatinHypercubeHasOnePointInEachStratum) {
  for (const std::uint64_t n : {1u, 7u, 1000u})
    for (std::uint32_t dimension = 0; dimension < 4; ++dimension) {
      std::set<std::uint64_t> strata;
      for (std::uint64_t i = 0; i < n; ++i)
        strata.insert(
            static_cast<std::uint64_t>(chance_in_stratum({5, dimension}, i, n) * static_cast<double>(n)));
      EXPECT_EQ(strata.size(), n);
      EXPECT_LT(*strata.rbegin(), n);
    }
}

/// The share of a normal distribution below z, by the library.
double share_below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

TEST(Distribution, NormalValuesAreThoseOfTheErrorFunction) {
  for (const double u : {1e-300, 1e-100, 1e-12, 1e-6, 0.001, 0.07, 0.0751, 0.3, 0.5}) {
    const double z = normal_value_below(u);
    // The share changes by z^2 of the relative rounding of z, at most 1400 here, and erfc has some of its
    // own.
    EXPECT_NEAR(share_below(z) / u, 1.0, 1e-15 * (10.0 + z * z)) << u;
    if (u > 1e-10) {
      EXPECT_NEAR(normal_value_below(1.0 - u), -z, 1e-16 / u + 1e-14) << u;  // 1 - u is rounded to 1e-16
    }
  }
  EXPECT_EQ(normal_value_below(0.5), 0.0);
  for (const double z : {-8.0, -3.0, -0.2, 0.0, 0.7, 3.0})
    EXPECT_NEAR(normal_share_below(z) / share_below(z), 1.0, 1e-13) << z;  // as above, 8 * 8 + 10
}

TEST(Distribution, ExpAndLogAreThoseOfTheLibrary) {
  for (double x = -40.0; x < 40.0; x += 0.37) {
    // n * ln 2 is rounded at 1e-16 of up to 40, and that is relative to exp.
    EXPECT_NEAR(plain_exp(x) / std::exp(x), 1.0, 2e-14) << x;
    EXPECT_NEAR(plain_log(std::exp(x)), std::log(std::exp(x)), 1e-15 * (1.0 + std::abs(x))) << x;
  }
}

/// Mean and deviation by the midpoints of n even steps of u.
std::array<double, 2> moments(const Distribution& d, int n) {
  double sum = 0.0, squares = 0.0;
  for (int i = 0; i < n; ++i) {
    const double x = value_below(d, (i + 0.5) / n);
    sum += x;
    squares += x * x;
  }
  return {sum / n, std::sqrt(squares / n - sum / n * (sum / n))};
}

TEST(Distribution, MomentsAreThoseOfTheTextbook) {
  using Kind = Distribution::Kind;
  // Bounded: the midpoint rule's error is of n^-2, or n^-1.5 at the root of a triangle's end; 1e-7 with n =
  // 1e5.
  constexpr int n = 100'000;
  const auto [mean_u, deviation_u] = moments({Kind::uniform, 0.0, 0.0, -2.0, 4.0}, n);
  EXPECT_NEAR(mean_u, 1.0, 1e-6);
  EXPECT_NEAR(deviation_u, 6.0 / std::sqrt(12.0), 1e-6);
  const double a = -1.0, c = 0.5, b = 4.0;
  const auto [mean_t, deviation_t] = moments({Kind::triangular, c, 0.0, a, b}, n);
  EXPECT_NEAR(mean_t, (a + b + c) / 3.0, 1e-6);
  EXPECT_NEAR(deviation_t, std::sqrt((a * a + b * b + c * c - a * b - a * c - b * c) / 18.0), 1e-6);
  // Unbounded: what the two outermost steps leave out, some z^2 / n = 20 / n of the variance.
  const auto [mean_n, deviation_n] = moments({Kind::normal, 10.0, 2.0, {}, {}}, n);
  EXPECT_NEAR(mean_n, 10.0, 1e-6);
  EXPECT_NEAR(deviation_n, 2.0, 2.0 * 20.0 / n);
  const double sigma = 0.2;
  const auto [mean_l, deviation_l] = moments({Kind::lognormal, 3.0, sigma, {}, {}}, n);
  EXPECT_NEAR(mean_l, 3.0 * std::exp(0.5 * sigma * sigma), 1e-4);
  EXPECT_NEAR(deviation_l, 3.0 * std::exp(0.5 * sigma * sigma) * std::sqrt(std::expm1(sigma * sigma)), 1e-3);
}

TEST(Distribution, ANormalOneCutOffIsThatBetweenItsLimits) {
  // One deviation either way: variance 1 - 2 phi(1) / (2 Phi(1) - 1) = 0.29112509 (truncated normal,
  // textbook).
  const auto [mean, deviation] = moments({Distribution::Kind::normal, 5.0, 1.0, 4.0, 6.0}, 100'000);
  EXPECT_NEAR(mean, 5.0, 1e-6);  // midpoints, as above
  const double phi = std::exp(-0.5) / std::sqrt(2.0 * 3.14159265358979323846);
  EXPECT_NEAR(deviation * deviation, 1.0 - 2.0 * phi / std::erf(std::sqrt(0.5)), 1e-6);
  // Only one limit: nothing below it, and the median of the upper half is at three quarters.
  const Distribution half{Distribution::Kind::normal, 0.0, 1.0, 0.0, {}};
  EXPECT_GE(value_below(half, 1e-12), 0.0);
  EXPECT_NEAR(value_below(half, 0.5), normal_value_below(0.75), 1e-12);
}

TEST(Distribution, AFactorOfSpreadHoldsAThirdEitherSide) {
  const Distribution d{Distribution::Kind::lognormal, 8.0, std::log(1.5), {}, {}};
  EXPECT_NEAR(value_below(d, share_below(1.0)), 12.0, 1e-12);
  EXPECT_NEAR(value_below(d, share_below(-1.0)), 8.0 / 1.5, 1e-12);
}

}  // namespace
}  // namespace coldbay::study_chance_test
