#include "geometry/rasterise.hpp"

#include <gtest/gtest.h>

#include <random>

#include <cmath>

#include "geometry/air_cavities.hpp"
#include "geometry/grid_lines.hpp"
#include "materials/model_error.hpp"
#include "tests/support/sections.hpp"

namespace coldbay::rasterise_test {
namespace {

constexpr Index plenty = 10'000'000;

Painting painted(const Section& s) {
  const GridLines g = grid_lines(s, 1.0, plenty);
  return paint(s, g.across, g.depth);
}

/// Area showing a shape, from the painting.
double area_of(const Painting& p, std::uint32_t shape) {
  double sum = 0.0;
  for (Index k = 0; k < p.depth.cells(); ++k)
    for (Index i = 0; i < p.across.cells(); ++i) {
      const Index cell = i + p.across.cells() * k;
      double share = p.shape[static_cast<std::size_t>(cell)] == shape ? 1.0 : 0.0;
      if (const auto mixed = p.mixed_cells.find(cell); mixed != p.mixed_cells.end())
        share = static_cast<double>(std::count(mixed->second.begin(), mixed->second.end(), shape)) /
                static_cast<double>(mixed->second.size());
      sum += share * p.across.width(i) * p.depth.width(k);
    }
  return sum;
}

// The slow, obvious way beside the clever one: every cell that shows one shape shows the one that
// point-in-outline says at its middle.
TEST(Rasterise, AgreesWithPointInOutline) {
  Section s = test::layered(0.4, {{0.02, 0.2}, {0.1, 0.04}});
  test::add(s, 0.12, {0.03, 0.07}, {0.02, 0.12});
  s.shapes.push_back({Polygon{{{0.1, 0.02}, {0.3, 0.04}, {0.25, 0.11}, {0.12, 0.08}}}, 0, ""});
  s.shapes.push_back({Circle{{0.33, 0.06}, 0.02}, 1, ""});
  const Painting p = painted(s);
  int pure = 0;
  for (Index k = 0; k < p.depth.cells(); ++k)
    for (Index i = 0; i < p.across.cells(); ++i) {
      const auto shape = p.shape[static_cast<std::size_t>(i + p.across.cells() * k)];
      if (shape == Painting::mixed) continue;
      ++pure;
      ASSERT_EQ(s.shapes[shape].material, material_at(s, {p.across.centre(i), p.depth.centre(k)}));
    }
  EXPECT_GT(pure, 1000);
  EXPECT_GT(p.mixed_cells.size(), 100u);
}

// Sampling 16 x 16 points leaves an error of well under 1/16 of the area of the cells on the edge; with those
// a few per cent of the shape, 1e-3 of its area is generous.
TEST(Rasterise, KeepsTheAreaOfSlantsAndCircles) {
  Section s = test::layered(0.4, {{0.12, 0.04}});
  const Outline wedge = Polygon{{{0.05, 0.01}, {0.2, 0.03}, {0.13, 0.1}}}, pipe = Circle{{0.3, 0.06}, 0.015};
  s.shapes.push_back({wedge, 0, ""});
  s.shapes.push_back({pipe, 0, ""});
  const Painting p = painted(s);
  EXPECT_NEAR(area_of(p, 1) / area(wedge), 1.0, 1e-3);
  EXPECT_NEAR(area_of(p, 2) / area(pipe), 1.0, 1e-3);
}

TEST(Rasterise, RectanglesAreExact) {
  Section s = test::layered(0.4, {{0.12, 0.04}});
  test::add(s, 50.0, {0.1, 0.1012}, {0.01, 0.11});
  const Painting p = painted(s);
  EXPECT_TRUE(p.mixed_cells.empty());
  EXPECT_NEAR(area_of(p, 1), 0.0012 * 0.1, 1e-15);  // rounding of a sum of products
}

// A square turned into a polygon is drawn by lines alone, and conducts like the rectangle.
TEST(Rasterise, APolygonOfStraightEdgesIsARectangle) {
  Section a = test::layered(0.4, {{0.12, 0.04}}), b = a;
  test::add(a, 1.0, {0.1, 0.2}, {0.02, 0.08});
  test::add(b, 1.0, {0.1, 0.2}, {0.02, 0.08});
  b.shapes.back().outline = Polygon{{{0.1, 0.02}, {0.2, 0.02}, {0.2, 0.08}, {0.1, 0.08}}};
  const GridLines ga = grid_lines(a, 1.0, plenty), gb = grid_lines(b, 1.0, plenty);
  ASSERT_EQ(ga.across.edges(), gb.across.edges());
  EXPECT_EQ(rasterise(a, ga.across, ga.depth).conductivity, rasterise(b, gb.across, gb.depth).conductivity);
}

// One cell cut exactly in two by an edge parallel to an axis, k 1 and 3: in series 1.5, in parallel 2.
TEST(Rasterise, MixedCellsAreExactForStraightEdges) {
  Section s = test::layered(1.0, {{1.0, 1.0}});
  s.materials.push_back(test::material("half", 3.0));
  s.shapes.push_back({Polygon{{{0.0, 0.0}, {0.5, 0.0}, {0.5, 1.0}, {0.0, 1.0}}}, 1, ""});
  const ConductivityGrid g = rasterise(s, Axis({0.0, 1.0}), Axis({0.0, 1.0}));
  EXPECT_NEAR(g.k(Direction::across)[0], 1.5, 1e-14);
  EXPECT_NEAR(g.k(Direction::depth)[0], 2.0, 1e-14);
}

TEST(Rasterise, MixedConductivityLiesBetweenTheHarmonicAndTheArithmeticMean) {
  Section s = test::layered(1.0, {{1.0, 0.04}});
  s.materials.push_back(test::material("metal", 50.0));
  s.shapes.push_back({Polygon{{{0.0, 0.0}, {1.0, 0.0}, {0.0, 1.0}}}, 1, ""});
  const ConductivityGrid g = rasterise(s, Axis({0.0, 1.0}), Axis({0.0, 1.0}));
  const double across = g.k(Direction::across)[0], depth = g.k(Direction::depth)[0];
  EXPECT_NEAR(across, depth, 1e-12 * across);  // the triangle is its own mirror image
  EXPECT_GT(across, 2.0 / (1.0 / 0.04 + 1.0 / 50.0));
  EXPECT_LT(across, 0.5 * (0.04 + 50.0));
}

TEST(Rasterise, RefusesABareSection) {
  Section s = test::layered(1.0, {{0.5, 1.0}});
  s.depth = 1.0;
  const Painting p = painted(s);
  ASSERT_FALSE(bare_points(p).empty());
  EXPECT_GT(bare_points(p).front().depth, 0.5);
  EXPECT_THROW(conductivity_grid(s, p, find_air_spaces(s, p)), ModelError);
  s = test::layered(1.0, {{1.0, 1.0}});
  s.shapes[0].outline = Circle{{0.5, 0.5}, 0.7};  // misses only the corners
  const Painting round = painted(s);
  EXPECT_THROW(conductivity_grid(s, round, find_air_spaces(s, round)), ModelError);
}

TEST(Rasterise, KnowsWhatIsHidden) {
  Section s = test::layered(1.0, {{1.0, 1.0}});
  test::add(s, 2.0, {0.2, 0.4}, {0.2, 0.4});
  test::add(s, 3.0, {0.1, 0.5}, {0.1, 0.5});
  EXPECT_EQ(hidden_shapes(s, painted(s)), std::vector<std::size_t>{1});
}

// Only cells that an edge may cross are sampled. The slow way, sampling all, paints the same: random polygons
// (crossing themselves, edges on lines among them) and circles.
TEST(Paint, LeavesNoCrossedCellUnsampled) {
  std::mt19937 rng(3);
  const Axis across = test::jittered(0.4, 37, 1), depth = test::jittered(0.2, 23, 2);
  for (int trial = 0; trial < 200; ++trial) {
    Section s = test::layered(0.4, {{0.2, 0.04}});
    const auto x = [&] {
      return trial % 3 ? test::uniform(rng, 0.0, 0.4) : across.edge(static_cast<Index>(rng() % 38));
    };
    const auto y = [&] {
      return trial % 3 ? test::uniform(rng, 0.0, 0.2) : depth.edge(static_cast<Index>(rng() % 24));
    };
    Outline outline = Circle{{x(), y()}, test::uniform(rng, 0.001, 0.1)};
    if (trial % 4) {
      Polygon polygon;
      for (int n = 0; n < 3 + trial % 5; ++n) polygon.corners.push_back({x(), y()});
      outline = polygon;
    }
    s.shapes.push_back({outline, 0, ""});
    const Painting painted = paint(s, across, depth);
    constexpr int S = Painting::samples;
    for (Index k = 0; k < depth.cells(); ++k)
      for (Index i = 0; i < across.cells(); ++i) {
        int covered = 0;
        for (int n = 0; n < S * S; ++n)
          covered += contains(outline, {across.edge(i) + across.width(i) * (n % S + 0.5) / S,
                                        depth.edge(k) + depth.width(k) * (n / S + 0.5) / S})
                         ? 1
                         : 0;
        const std::uint32_t wanted = covered == 0 ? 0u : covered == S * S ? 1u : Painting::mixed;
        ASSERT_EQ(painted.shape[static_cast<std::size_t>(i + across.cells() * k)], wanted)
            << trial << " " << i << " " << k;
      }
  }
}

}  // namespace
}  // namespace coldbay::rasterise_test
