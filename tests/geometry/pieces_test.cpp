#include "geometry/wall/pieces.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include "geometry/wall/cuts.hpp"
#include "tests/support/faults.hpp"
#include "tests/support/fibre.hpp"

namespace coldbay::pieces_test {
namespace {

using test::everything, test::uniform;

// A ray from the room goes through the whole wall, piece by piece, without a hole and without an overlap: all
// stretches of all rays fill the wall's volume. Rounding of a hundred thousand products.
TEST(Pieces, FillTheWall) {
  for (const bool steel : {false, true}) {
    std::mt19937 rng(11);
    const Wall w = everything(rng, steel);
    ASSERT_TRUE(check(w).empty()) << check(w).front().path << check(w).front().what;
    const BuiltWall built = build(w);
    const double volume = test::sum_over(built, {0.0, built.width}, {0.0, built.height},
                                         [](const Met& m) { return m.depth.length(); });
    EXPECT_NEAR(volume / (built.width * built.height * built.depth), 1.0, 1e-9);
    for (unsigned i = 0; i < 500; ++i) {
      const double across = uniform(rng, 0.0, built.width), up = uniform(rng, 0.0, built.height);
      double at = 0.0;
      for (const Met& m :
           met_at(pieces_within(built, {across, across + 1e-6}, {up, up + 1e-6}), across, up)) {
        EXPECT_EQ(m.depth.from, at);
        at = m.depth.to;
      }
      EXPECT_EQ(at, built.depth);
    }
  }
}

// The areas of what a plan shows, added up over a net of its edges, are width times depth; every field of it
// has a material.
TEST(Pieces, TileEverySection) {
  std::mt19937 rng(12);
  const Wall w = everything(rng, false);
  const BuiltWall built = build(w);
  for (const double height : {0.5, 1.2, 1.4, 2.0}) {
    const Section s = plan_section(w, built, height, "", "");
    std::vector<double> x{0.0, s.width}, y{0.0, s.depth};
    for (const Shape& shape : s.shapes) {
      const Rectangle r = bounding_box(shape.outline);
      x.insert(x.end(), {r.across.from, r.across.to});
      y.insert(y.end(), {r.depth.from, r.depth.to});
    }
    std::sort(x.begin(), x.end());
    std::sort(y.begin(), y.end());
    double area = 0.0;
    for (std::size_t i = 0; i + 1 < x.size(); ++i)
      for (std::size_t j = 0; j + 1 < y.size(); ++j)
        if (material_at(s, {0.5 * (x[i] + x[i + 1]), 0.5 * (y[j] + y[j + 1])}))
          area += (x[i + 1] - x[i]) * (y[j + 1] - y[j]);
    EXPECT_NEAR(area / (s.width * s.depth), 1.0, 1e-9) << height;
  }
}

// A plan, a vertical cut and a ray meet in a point of the wall: all three find the same material there.
TEST(Pieces, LookTheSameFromAbove) {
  for (const bool steel : {false, true})
    for (unsigned seed = 0; seed < 3; ++seed) {
      std::mt19937 rng(seed);
      const Wall w = everything(rng, steel);
      ASSERT_TRUE(check(w).empty());
      const BuiltWall built = build(w);
      for (int i = 0; i < 15; ++i) {
        // Every third at the height of boxes and cables.
        const double up = i % 3 == 0 ? uniform(rng, 1.15, 1.25) : uniform(rng, built.up.from, built.up.to);
        const Section plan = plan_section(w, built, up, "", "");
        for (int j = 0; j < 12; ++j) {
          const double across = uniform(rng, 0.0, built.width);
          const Section vertical = vertical_section(w, built, across, "", "");
          for (int k = 0; k < 20; ++k) {
            const double depth = uniform(rng, 0.0, built.depth);
            const auto a = material_at(plan, {across, depth}), b = material_at(vertical, {up, depth});
            ASSERT_TRUE(a && b);
            const std::string where = fmt::format("across {}, up {}, depth {}", across, up, depth);
            EXPECT_EQ(plan.materials[*a].name, vertical.materials[*b].name) << where;
            EXPECT_TRUE(plan.materials[*a] == vertical.materials[*b]) << where;
            for (const Met& m :
                 met_at(pieces_within(built, {across, across + 1e-6}, {up, up + 1e-6}), across, up))
              if (depth >= m.depth.from && depth < m.depth.to) {
                EXPECT_TRUE(m.piece->material == plan.materials[*a]) << where;
              }
          }
        }
      }
    }
}

// Corners and posts at the depth of a third of the frame, left to right: what is wood, air and batt.
TEST(Pieces, StandAtTheEndsAsDescribed) {
  Wall w = test::two_by_four();
  w.posts.resize(4);
  w.posts[0].kind = Post::Kind::corner_three;
  w.posts[1].studs = 2;
  w.posts[3].kind = Post::Kind::corner_open;
  ASSERT_TRUE(check(w).empty());
  const BuiltWall built = build(w);
  const auto name_at = [&](double across, double depth) {
    for (const Met& m : met_at(pieces_within(built, {across, across + 1e-6}, {1.0, 1.0 + 1e-6}), across, 1.0))
      if (depth >= m.depth.from && depth < m.depth.to) return m.piece->material.name;
    return std::string();
  };
  const auto changes = [&](double depth) {
    std::string all;
    for (double x = 0.0005; x < built.width; x += 0.001)
      if (const std::string name = name_at(x, depth); all.empty() || !all.ends_with(name))
        all += fmt::format("{}{:.0f} {}", all.empty() ? "" : ", ", 1e3 * (x - 0.0005), name);
    return all;
  };
  // In millimetres: bays of 368.4, studs of 38, the last bay beside a stud laid flat, 89 wide and 38 deep.
  EXPECT_EQ(
      changes(0.0127 + 0.03),
      "0 softwood, 38 air space, 76 softwood, 114 batt, 482 softwood, 558 batt, 927 softwood, 965 batt, 1244 "
      "softwood");
  EXPECT_EQ(
      changes(0.0127 + 0.06),
      "0 softwood, 38 air space, 76 softwood, 114 batt, 482 softwood, 558 batt, 927 softwood, 965 batt, 1333 "
      "softwood");
}

// Two steel studs side by side: two webs with air between them, and flanges over it all.
TEST(Pieces, LeaveAirBetweenSteelStuds) {
  Wall w = test::two_by_four();
  w.frame.material = test::material("steel", 50.0);
  w.frame.sheet = 0.001;
  w.frame.member_width = 0.041;
  w.frame.top_plates = 1;
  w.posts.resize(4);
  w.posts[1].studs = 2;
  ASSERT_TRUE(check(w).empty());
  const BuiltWall built = build(w);
  const double left = 0.0005 + 0.3684;  // of the first web
  double air = 0.0, steel = 0.0;
  const Span up{1.0, 1.1}, across{left, left + 0.042};
  // Both count as framing: nobody can fill what is between two studs.
  for (const bool is_air : {true, false}) {
    double& area = is_air ? air : steel;
    area = test::sum_over(built, across, up,
                          [&](const Met& m) {
                            return m.piece->role == Piece::Role::frame &&
                                           m.piece->material.is_air_space == is_air
                                       ? m.depth.length()
                                       : 0.0;
                          }) /
           up.length();
  }
  EXPECT_NEAR(air, 0.040 * (0.089 - 0.002), 1e-12);  // rounding
  EXPECT_NEAR(steel, 0.040 * 0.002 + 2 * 0.001 * 0.089, 1e-12);
}

// A plane shows a circle that runs along it as a rectangle as deep as its chord, and a bent polygon in parts.
TEST(Pieces, AreCutByChords) {
  Piece p{test::still_air(), Piece::Role::air, Direction::across, Circle{{1.0, 0.05}, 0.02}, {0.1, 0.4}};
  EXPECT_TRUE(cut(p, Direction::up, 1.021).empty());
  const auto shown = cut(p, Direction::up, 1.012);
  ASSERT_EQ(shown.size(), 1u);
  const Rectangle r = bounding_box(shown[0]);
  EXPECT_NEAR(r.depth.length(), 2.0 * 0.016, 1e-12);  // 3-4-5, rounding
  EXPECT_EQ(r.across.from, 0.1);
  EXPECT_EQ(cut(p, Direction::across, 0.2).size(), 1u);
  EXPECT_TRUE(cut(p, Direction::across, 0.4).empty());  // its end belongs to what comes after
  // A horseshoe, open towards greater heights.
  p.outline = Polygon{
      {{1.0, 0.0}, {1.3, 0.0}, {1.3, 0.02}, {1.1, 0.02}, {1.1, 0.06}, {1.3, 0.06}, {1.3, 0.08}, {1.0, 0.08}}};
  EXPECT_EQ(cut(p, Direction::up, 1.05).size(), 1u);
  EXPECT_EQ(cut(p, Direction::up, 1.2).size(), 2u);
  EXPECT_EQ(cut(p, Direction::up, 1.295).size(), 2u);
  EXPECT_TRUE(cut(p, Direction::up, 1.3).empty());
  // A wedge: at a third of its height, two thirds of its depth.
  p.outline = Polygon{{{1.0, 0.0}, {1.3, 0.0}, {1.0, 0.06}}};
  const auto wedge = cut(p, Direction::up, 1.1);
  ASSERT_EQ(wedge.size(), 1u);
  EXPECT_NEAR(bounding_box(wedge[0]).depth.length(), 0.04, 1e-12);
}

}  // namespace
}  // namespace coldbay::pieces_test
