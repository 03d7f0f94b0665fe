#include "solver/results/radiometry.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "materials/model_error.hpp"

namespace coldbay::radiometry_test {
namespace {

constexpr double K = 273.15;

struct Reading {
  double surface, reflected, emissivity, broadband, in_band;
};

// Worked out apart from coldbay: sigma T^4, and Planck's law integrated from 8 to 14 um by quadrature.
constexpr Reading readings[] = {
    {15, 20, 0.90, 15.5118, 15.5113}, {17, 20, 0.90, 17.3042, 17.3040}, {15, 20, 0.95, 15.2562, 15.2560},
    {15, 30, 0.90, 16.6077, 16.6008}, {17, 20, 0.60, 18.2111, 18.2106},
};

/// Planck's law as it is written, from 8 to 14 um by Simpson's rule: nothing in common with the series.
double by_quadrature(double celsius) {
  constexpr double h = 6.62607015e-34, c = 299792458.0, k = 1.380649e-23;
  const double T = celsius + K;
  const auto planck = [&](double l) {
    return 2.0 * std::numbers::pi * h * c * c / (std::pow(l, 5) * std::expm1(h * c / (l * k * T)));
  };
  constexpr int n = 2000;
  constexpr double step = 6e-6 / n;
  double sum = planck(8e-6) + planck(14e-6);
  for (int i = 1; i < n; ++i) sum += (i % 2 ? 4.0 : 2.0) * planck(8e-6 + step * i);
  return sum * step / 3.0;
}

TEST(Radiometry, MeetsReadingsWorkedOutApart) {
  for (const Reading& r : readings) {
    // Half of the last digit given.
    EXPECT_NEAR(apparent_temperature(r.surface, r.emissivity, r.reflected, Band::all), r.broadband, 0.5e-4);
    EXPECT_NEAR(apparent_temperature(r.surface, r.emissivity, r.reflected, Band::long_wave), r.in_band,
                0.5e-4);
  }
}

TEST(Radiometry, TheBandIsPlancksLawIntegrated) {
  for (const double t : {-60.0, -20.0, 0.0, 20.0, 37.0, 100.0, 500.0, 1500.0}) {
    // Simpson's error with 2000 steps is below 1e-11 of the integral.
    EXPECT_NEAR(radiance(t, Band::long_wave) / by_quadrature(t), 1.0, 1e-10) << t;
    // Central differences of 0.01 K: their own error is 1e-9, and rounding of the difference 1e-10 or so.
    const double slope = (by_quadrature(t + 0.01) - by_quadrature(t - 0.01)) / 0.02;
    EXPECT_NEAR(radiance_slope(t, Band::long_wave) / slope, 1.0, 1e-7) << t;
  }
}

TEST(Radiometry, FollowsStefanAndBoltzmann) {
  // 5.670374419e-8 W/(m2 K4): CODATA 2018, from memory; all its digits.
  EXPECT_NEAR(radiance(0.0, Band::all) / (5.670374419e-8 * std::pow(K, 4)), 1.0, 1e-9);
  EXPECT_NEAR(radiance_slope(20.0, Band::all), 4.0 * radiance(20.0, Band::all) / 293.15, 1e-12);
  // The exponent of the band's radiance at 20 degC, worked out apart: 4.67, half of its last digit.
  EXPECT_NEAR(293.15 * radiance_slope(20.0, Band::long_wave) / radiance(20.0, Band::long_wave), 4.67, 0.005);
}

TEST(Radiometry, TheInverseLeadsBack) {
  for (const Band band : {Band::all, Band::long_wave}) {
    for (double t = -200.0; t < 1500.0; t += 7.3)
      EXPECT_NEAR(radiant_temperature(radiance(t, band), band), t, 1e-9) << t;  // as promised
    EXPECT_EQ(radiance(-K, band), 0.0);
    EXPECT_EQ(radiant_temperature(0.0, band), -K);
    for (const double e : {0.05, 0.3, 0.9, 1.0}) {
      const double seen = apparent_temperature(13.7, e, 21.3, band);
      EXPECT_NEAR(surface_behind(seen, e, 21.3, band), 13.7, 1e-7) << e;  // 1e-9 over the emissivity
    }
    // A surface of 0.05 in a room of 20 degC is read above 16 degC however cold it is.
    EXPECT_TRUE(std::isnan(surface_behind(0.0, 0.05, 20.0, band)));
  }
}

TEST(Radiometry, ABlackBodyReadsItselfAndAMirrorTheRoom) {
  for (const Band band : {Band::all, Band::long_wave}) {
    EXPECT_NEAR(apparent_temperature(12.0, 1.0, 35.0, band), 12.0, 1e-9);
    EXPECT_NEAR(apparent_temperature(12.0, 1e-12, 35.0, band), 35.0, 1e-9);
    EXPECT_NEAR(apparent_temperature(20.0, 0.4, 20.0, band), 20.0, 1e-9);  // nothing to be told apart
  }
}

TEST(Radiometry, AnEmissivityLiesAboveNothingAndUpToOne) {
  for (const double e : {0.0, -0.1, 1.0001, std::numeric_limits<double>::quiet_NaN(),
                         std::numeric_limits<double>::infinity()}) {
    EXPECT_THROW(received(15.0, e, 20.0, Band::all), ModelError) << e;
    EXPECT_THROW(apparent_temperature(15.0, e, 20.0, Band::long_wave), ModelError) << e;
    EXPECT_THROW(surface_behind(15.0, e, 20.0, Band::all), ModelError) << e;
  }
}

TEST(Radiometry, AMillionPixelsKeepTheirMean) {
  std::vector<double> rays(1'000'000);
  for (std::size_t i = 0; i < rays.size(); ++i)
    rays[i] = radiance(5.0 + 20.0 * static_cast<double>(i) / 1e6, Band::long_wave);
  double sum = 0.0;
  for (const double r : rays) sum += radiant_temperature(r, Band::long_wave);
  EXPECT_NEAR(sum / 1e6, 15.0, 1e-4);
}

}  // namespace
}  // namespace coldbay::radiometry_test
