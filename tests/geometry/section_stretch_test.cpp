#include "geometry/section_stretch.hpp"

#include <gtest/gtest.h>

#include <variant>

#include "materials/model_error.hpp"

namespace coldbay::section_stretch_test {
namespace {

/// A board with a fill in it, of any outline.
Section with(Outline outline) {
  Section s;
  s.width = 1.0;
  s.depth = 0.2;
  s.materials.resize(2);
  s.materials[0].conductivity = 0.2;
  s.materials[1].conductivity = 0.04;
  s.shapes = {{Rectangle{{0.0, 1.0}, {0.0, 0.2}}, 0, "board"}, {std::move(outline), 1, "fill"}};
  return s;
}

// Like an M: not convex, and the cut goes through both of its legs.
const Polygon m{{{0.2, 0.0}, {0.8, 0.0}, {0.8, 0.2}, {0.5, 0.1}, {0.2, 0.2}}};

TEST(SectionStretch, EveryPointShowsWhatItShowed) {
  const Section s = with(m);
  for (const Span across : {Span{0.0, 1.0}, Span{0.1, 0.45}, Span{0.3, 0.7}, Span{0.6, 1.0}}) {
    const Section part = stretch_of(s, across);
    EXPECT_DOUBLE_EQ(part.width, across.length());
    for (double x = across.from + 0.0017; x < across.to; x += 0.013)
      for (double y = 0.0013; y < 0.2; y += 0.0071)
        EXPECT_EQ(material_at(part, {x - across.from, y}), material_at(s, {x, y})) << x << ' ' << y;
  }
}

TEST(SectionStretch, PartsHaveTheAreaOfTheWhole) {
  const Section s = with(m), left = stretch_of(s, {0.0, 0.35}), right = stretch_of(s, {0.35, 1.0});
  // 0.6 x 0.2 less a triangle of 0.6 x 0.1 / 2; rounding of a dozen products.
  EXPECT_NEAR(area(s.shapes[1].outline), 0.09, 1e-12);
  EXPECT_NEAR(area(left.shapes[1].outline) + area(right.shapes[1].outline), 0.09, 1e-12);
}

TEST(SectionStretch, ACircleIsWholeOrNotThere) {
  const Section s = with(Circle{{0.5, 0.1}, 0.05});
  EXPECT_EQ(stretch_of(s, {0.0, 0.4}).shapes.size(), 1u);
  EXPECT_EQ(stretch_of(s, {0.4, 0.6}).shapes.size(), 2u);
  EXPECT_THROW(stretch_of(s, {0.0, 0.5}), ModelError);
}

TEST(SectionStretch, WhatConductsOtherwiseDoesNotShowTheSame) {
  const Section s = with(m);
  Section other = s;
  EXPECT_TRUE(show_the_same(s, other));
  other.materials[1].name = "another name";
  EXPECT_TRUE(show_the_same(s, other));
  other.materials[1].conductivity = 0.041;
  EXPECT_FALSE(show_the_same(s, other));
  other = s;
  std::get<Polygon>(other.shapes[1].outline).corners[3].depth = 0.101;
  EXPECT_FALSE(show_the_same(s, other));
  other = s;
  other.shapes.pop_back();
  EXPECT_FALSE(show_the_same(s, other));
  other = s;
  other.materials[1].is_air_space = true;
  EXPECT_FALSE(show_the_same(s, other));
}

}  // namespace
}  // namespace coldbay::section_stretch_test
