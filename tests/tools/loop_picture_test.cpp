#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "tests/support/sections.hpp"
#include "tools/input/case.hpp"
#include "tools/outcome.hpp"
#include "tools/report/lettering.hpp"
#include "tools/report/loop_arrows.hpp"
#include "tools/report/section_picture.hpp"

// Where the air goes, on pictures of a vertical section.

namespace coldbay::loop_picture_test {
namespace {

constexpr Box plot{44.0, 120.0, 1544.0, 190.0};

/// Air that goes up at 20 mm of depth and down at 100 mm, or the other way round, from end to end of 2.4 m.
LoopFlow round_a_batt(double up = 1.0) {
  LoopFlow loop;
  loop.flow = 1e-3;
  for (int i = 1; i < 120; ++i)
    for (const double depth : {0.020, 0.100})
      loop.gaps.push_back({{0.02 * i, depth}, (depth < 0.06 ? up : -up) * 1e-3});
  return loop;
}

Section section_of_loop() {
  Section s = test::layered(2.4, {{0.12, 0.04}});
  s.cut = CutKind::vertical;
  return s;
}

bool within(const Box& inner, const Box& outer) {
  return inner.left >= outer.left && inner.right <= outer.right && inner.top >= outer.top &&
         inner.bottom <= outer.bottom;
}

TEST(LoopArrows, PointWhereTheAirGoes) {
  for (const double up : {1.0, -1.0}) {
    const LoopArrows a = loop_arrows(round_a_batt(up), section_of_loop(), plot, {});
    ASSERT_EQ(a.arrows.size(), 22U);  // 1500 pixels, one each 130 or a little more, in either gap
    for (const auto& arrow : a.arrows) {
      const bool room_side = arrow.at.y > 0.5 * (plot.top + plot.bottom);  // the room is at the bottom
      EXPECT_EQ(arrow.right, room_side == (up > 0.0));
      EXPECT_NEAR(arrow.at.y, plot.bottom - (room_side ? 20.0 : 100.0) / 120.0 * plot.height(), 1e-9);
    }
    ASSERT_EQ(a.words.size(), 2U);
    EXPECT_EQ(a.words[0].text, "air rises →");
    EXPECT_EQ(a.words[1].text, "← air falls");
  }
}

TEST(LoopArrows, WordsCoverNothing) {
  std::mt19937 random(7);
  int left_out = 0;
  for (int trial = 0; trial < 300; ++trial) {
    std::vector<Box> taken;
    const auto n = static_cast<int>(random() % 40);
    for (int i = 0; i < n; ++i) {
      const double x = test::uniform(random, plot.left, plot.right),
                   y = test::uniform(random, plot.top, plot.bottom);
      taken.push_back({x, y, x + test::uniform(random, 5.0, 120.0), y + test::uniform(random, 5.0, 20.0)});
    }
    const LoopArrows a = loop_arrows(round_a_batt(), section_of_loop(), plot, taken);
    left_out += a.words.size() < 2 ? 1 : 0;
    std::vector<Box> boxes;
    for (const auto& arrow : a.arrows) boxes.push_back(box_of(arrow));
    for (const auto& words : a.words) boxes.push_back(words.box);
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      EXPECT_TRUE(within(boxes[i], plot));
      for (const Box& t : taken) EXPECT_FALSE(overlap(boxes[i], t));
      for (std::size_t k = 0; k < i; ++k) EXPECT_FALSE(overlap(boxes[i], boxes[k]));
    }
    for (const auto& words : a.words)
      EXPECT_TRUE(within(text_box(words.at, Align::left, words.text, text_size::small), words.box));
  }
  EXPECT_LT(left_out, 100);  // there was something to avoid, and mostly a place to go
}

TEST(LoopArrows, NoneWhereNextToNothingFlows) {
  LoopFlow loop = round_a_batt();
  for (GapFlow& g : loop.gaps)
    if (g.at.across > 1.2) g.upward *= 0.01;
  for (const auto& arrow : loop_arrows(loop, section_of_loop(), plot, {}).arrows)
    EXPECT_LT(arrow.at.x, 0.5 * (plot.left + plot.right) + 1.0);
  EXPECT_TRUE(loop_arrows({}, section_of_loop(), plot, {}).arrows.empty());
}

bool same(const Picture& a, const Picture& b) { return a.rgb == b.rgb; }

void expect_clear_margin(const Picture& p) {
  constexpr int margin = 12;
  for (int y = 0; y < p.height; ++y)
    for (int x = 0; x < p.width; ++x) {
      if (x >= margin && y >= margin && x < p.width - margin && y < p.height - margin) continue;
      const auto at =
          3 * (static_cast<std::size_t>(x) + static_cast<std::size_t>(y) * static_cast<std::size_t>(p.width));
      ASSERT_EQ((Rgb{p.rgb[at], p.rgb[at + 1], p.rgb[at + 2]}), ink::paper) << x << ", " << y;
    }
}

TEST(LoopPictures, StillAirIsBesideTheLoop) {
  const Case c =
      read_case({"case.yaml",
                 "air: {inside: {temperature: 20}, outside: {temperature: 0}}\nwall:\n  height: 2.4 m\n"
                 "  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n"
                 "  frame: {member: softwood 38 x 89 mm, spacing: 400 mm}\n"
                 "  bays: [{batt: R-13, gap: {room: 8 mm, sheathing: 8 mm, top: 8 mm, bottom: 8 mm}}]\n"
                 "accuracy: {U: 1 %, surface: 0.2 K}\nsections: [vertical through bay 1]\n"});
  const Outcome o = std::move(solve_case(c, [](const std::string&) {}).sections[0]);
  ASSERT_TRUE(o.still);
  const Section& s = c.sections[0];
  const TemperatureScale scale{0.0, 20.0, "own scale"};
  const Forecast& f = o.built;

  const Picture plain = temperature_picture(s, f.grid, f.air, f.field, scale, {}),
                arrows = temperature_picture(s, f.grid, f.air, f.field, scale, {}, &*f.results.loop);
  EXPECT_FALSE(same(plain, arrows));
  EXPECT_EQ(plain.width, arrows.width);
  EXPECT_EQ(plain.height, arrows.height);
  expect_clear_margin(arrows);

  FaceShown shown{&f.results.profile};
  const Picture alone = face_picture(s, shown, scale, {});
  shown.still = &o.still->results.profile;
  const Picture beside = face_picture(s, shown, scale, {});
  EXPECT_FALSE(same(alone, beside));
  expect_clear_margin(beside);
  shown.outer = true;
  EXPECT_FALSE(same(beside, face_picture(s, shown, scale, {})));  // the words above the strip
}

}  // namespace
}  // namespace coldbay::loop_picture_test
