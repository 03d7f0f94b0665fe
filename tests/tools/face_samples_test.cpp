#include "tools/report/handout/face_samples.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace coldbay::face_samples_test {
namespace {

Axis even(double from, double to, int n) {
  std::vector<double> edges;
  edges.reserve(static_cast<std::size_t>(n) + 1);
  for (int i = 0; i <= n; ++i) edges.push_back(from + (to - from) * i / n);
  return Axis(edges);
}

/// A stud's stripe at 0.4 m and a plate at the floor: soft edges as on a lining.
double stripe(double across, double up, double depth) {
  const double x = (across - 0.4) / 0.03, y = up / 0.05;
  return 20.0 - depth * std::exp(-x * x) - 1.5 * std::exp(-y * y);
}

FaceMap face(double depth, int nx, int ny) {
  FaceMap map{even(0.0, 0.8, nx), even(0.0, 2.4, ny), {}};
  for (Index j = 0; j < map.up.cells(); ++j)
    for (Index i = 0; i < map.across.cells(); ++i)
      map.celsius.push_back(stripe(map.across.centre(i), map.up.centre(j), depth));
  return map;
}

/// What a page reads: bilinear between samples, as viewer_fields.js does, written anew.
double read(const FaceSamples& s, std::size_t field, double across, double up) {
  const auto bracket = [](const std::vector<double>& places, double at) {
    const double inside = std::clamp(at, places.front(), places.back());
    std::size_t i = 0;
    while (i + 2 < places.size() && places[i + 1] < inside) ++i;
    return std::pair(i, (inside - places[i]) / (places[i + 1] - places[i]));
  };
  const auto [i, u] = bracket(s.across, across);
  const auto [j, v] = bracket(s.up, up);
  const std::size_t column = i, row = j;
  const auto at = [&](std::size_t di, std::size_t dj) {
    return s.base + FaceSamples::step * s.fields[field][column + di + s.across.size() * (row + dj)];
  };
  return (1 - v) * ((1 - u) * at(0, 0) + u * at(1, 0)) + v * ((1 - u) * at(0, 1) + u * at(1, 1));
}

TEST(FaceSamples, ReadAsTheFacesDoFromFewPlaces) {
  const FaceMap built = face(2.0, 160, 240), right = face(1.0, 90, 150);  // axes of their own
  const std::array<const FaceMap*, 2> faces{&built, &right};
  constexpr double within = 0.01;
  const FaceSamples s = samples_of(faces, {0.1, 0.7}, {0.0, 2.4}, within);
  // Promised: twice `within`, and half a step of rounding.
  constexpr double promised = 2.0 * within + 0.5 * FaceSamples::step;
  double worst = 0.0;
  for (double x = 0.1; x <= 0.7; x += 0.0031)
    for (double y = 0.0; y <= 2.4; y += 0.0047) {
      worst = std::max(worst, std::abs(read(s, 0, x, y) - temperature_on(built, x, y)));
      worst = std::max(worst, std::abs(read(s, 1, x, y) - temperature_on(right, x, y)));
    }
  EXPECT_LE(worst, promised);
  EXPECT_GT(worst, 0.2 * within) << "nothing was left out";
  // 190 columns and 390 rows of both faces together; most of a wall is even.
  EXPECT_LT(s.across.size() * s.up.size(), 3000u);
}

TEST(FaceSamples, AnEvenFaceTakesItsCorners) {
  FaceMap map{even(0.0, 1.0, 50), even(0.0, 2.0, 70), std::vector<double>(50 * 70, 18.25)};
  const std::array<const FaceMap*, 1> faces{&map};
  const FaceSamples s = samples_of(faces, {0.0, 1.0}, {0.0, 2.0}, 0.01);
  EXPECT_EQ(s.across.size(), 2u);
  EXPECT_EQ(s.up.size(), 2u);
  EXPECT_NEAR(read(s, 0, 0.3, 0.4), 18.25, 0.5 * FaceSamples::step);
}

}  // namespace
}  // namespace coldbay::face_samples_test
