#include "geometry/wall/measured.hpp"

#include <gtest/gtest.h>

#include "geometry/wall/cuts.hpp"
#include "tests/support/faults.hpp"

// What the elevation of a wall says, against areas by hand. 2x4, three bays, 2.4 m high, one plate below and
// two above: 3 x 0.4064 m wide, bays of 0.3684 x 2.286 m.

namespace coldbay::measured_test {
namespace {

using test::make, test::two_by_four;

constexpr double rounding = 1e-9;  ///< sums of some thousand products
constexpr double wide = 0.3684, high = 2.4 - 3 * 0.038;

Measured of(const Wall& w) {
  EXPECT_TRUE(check(w).empty());
  return measured(w, build(w));
}

TEST(Measured, ASoundWall) {
  const Measured m = of(two_by_four());
  EXPECT_NEAR(m.area, 3 * 0.4064 * 2.4, rounding);
  EXPECT_NEAR(m.all.area, 3 * wide * high, rounding);
  EXPECT_NEAR(m.framing, 1.0 - 3 * wide * high / (3 * 0.4064 * 2.4), rounding);
  EXPECT_EQ(m.all.nothing + m.all.incomplete + m.all.compressed, 0.0);
  EXPECT_EQ(m.bays.size(), 3u);
}

TEST(Measured, ShareByShare) {
  Wall w = two_by_four();
  make(Fault::missing, w.bays[0], 1.0);
  w.bays[1].gap.left = 0.01;
  w.bays[2].staples = InsetStaples{0.019, 0.05, true};
  const Measured m = of(w);
  EXPECT_NEAR(m.bays[0].nothing, 1.0, rounding);
  EXPECT_NEAR(m.bays[1].nothing, 0.01 / wide, rounding);
  EXPECT_NEAR(m.bays[2].nothing, 0.0, rounding);
  EXPECT_NEAR(m.bays[2].incomplete, 0.1 / wide, rounding);
  EXPECT_NEAR(m.all.nothing, (1.0 + 0.01 / wide) / 3.0, rounding);
}

TEST(Measured, EndsAndFolds) {
  Wall w = two_by_four();
  w.bays[0].short_end = ShortEnd{0.1, BayEnd::top, false};
  w.bays[1].folded = FoldedEnd{0.1, BayEnd::bottom};
  w.bays[2].thickness = 0.06;
  const Measured m = of(w);
  EXPECT_NEAR(m.bays[0].nothing, 0.1 / high, rounding);
  // The slope beyond the fold leaves air, half as long as the batt is thick, and so does the round of the
  // bend (a quarter of it), but for the last step of either where that is less than the slack of 2 mm.
  EXPECT_NEAR(m.bays[1].incomplete, (0.5 + 0.25) * 0.089 / high, 2 * 0.2 * 0.5 * 0.089 / high);
  // The rest of the doubled end is pressed.
  EXPECT_NEAR(m.bays[1].compressed + m.bays[1].incomplete, (0.1 + 0.5 * 0.089) / high, rounding);
  EXPECT_NEAR(m.bays[2].incomplete, 1.0, rounding);
}

TEST(Measured, AirWithinTheSlackIsNone) {
  Wall w = two_by_four();
  w.bays[0].gap.room = 0.5 * slack;
  w.bays[1].gap.room = 1.5 * slack;
  const Measured m = of(w);
  EXPECT_EQ(m.bays[0].incomplete, 0.0);
  EXPECT_NEAR(m.bays[1].incomplete, 1.0, rounding);
}

// A squeezed batt is compressed all over. So is one forced in, where it touches both faces; along its edges
// the shoulders, as wide as it was too wide by, leave air behind.
TEST(Measured, CompressedFill) {
  Wall w = two_by_four();
  make(Fault::squeezed, w.bays[0], 0.5);
  w.bays[1].width = wide + friction_fit + 0.02;
  const Measured m = of(w);
  EXPECT_NEAR(m.bays[0].compressed, 1.0, rounding);
  EXPECT_NEAR(m.bays[1].compressed + m.bays[1].incomplete, 1.0, rounding);
  EXPECT_GT(m.bays[1].incomplete, 0.0);
  EXPECT_LE(m.bays[1].incomplete, 2 * 0.02 / wide + rounding);
}

// A box with nothing behind it: its face; with a piece behind, the piece is all that counts, and it is
// complete.
TEST(Measured, ABox) {
  Wall w = two_by_four();
  make(Fault::box_open, w.bays[0], 1.0);
  EXPECT_NEAR(of(w).bays[0].nothing, 0.057 * 0.095 / (wide * high), rounding);
  w.bays[0].enclosures[0].behind = Enclosure::Behind::filled;
  const Measured m = of(w);
  EXPECT_EQ(m.bays[0].nothing + m.bays[0].incomplete + m.bays[0].compressed, 0.0);
}

// A window is no part of the wall's area; blocking, jacks, header and sill are framing.
TEST(Measured, OpeningsAndBlocking) {
  Wall w = two_by_four();
  w.frame.blocking = {1.2};
  EXPECT_NEAR(of(w).framing, 1.0 - 3 * wide * (high - 0.038) / (3 * 0.4064 * 2.4), rounding);
  w.bays[1].clear_width = 0.6 + 2 * 0.038;
  Opening o;
  o.width = 0.6;
  o.sill = 0.9;
  o.head = 1.9;
  o.header = 0.15;
  o.path = "wall.bays[1].opening";
  w.bays[1].opening = o;
  const Measured m = of(w);
  const double whole = (2 * 0.4064 + 0.6 + 3 * 0.038) * 2.4;
  EXPECT_NEAR(m.area, whole - 0.6 * 1.0, rounding);
  const double above = (0.6 + 2 * 0.038) * (2.4 - 2 * 0.038 - 2.05), below = 0.6 * (0.9 - 0.038 - 0.038);
  EXPECT_NEAR(m.bays[1].area, above + below, rounding);
  EXPECT_NEAR(m.framing * m.area, m.area - 2 * wide * (high - 0.038) - above - below, rounding);
}

// A flange of steel, or the flat stud of an open corner, leaves the depth to the fill: only webs and edgewise
// studs are framing. The steel plates are sheets too, and so are their webs.
TEST(Measured, WhatLeavesRoomIsNoFraming) {
  Wall w = two_by_four();
  w.posts.resize(4);
  w.posts[0].kind = Post::Kind::corner_open;
  const double whole = (3 * wide + 3.5 * 0.038) * 2.4;
  EXPECT_NEAR(of(w).area, whole, rounding);
  EXPECT_NEAR(of(w).framing, 1.0 - 3 * wide * high / whole, rounding);
  Wall steel = two_by_four();
  steel.frame.material = test::material("steel", 50.0);
  steel.frame.sheet = 0.0011;
  steel.frame.member_width = 0.041;
  steel.frame.top_plates = 1;
  const double between = 2.4 - 2 * 0.0011;
  EXPECT_NEAR(of(steel).framing, 1.0 - 3 * wide * between / (3 * (wide + 0.0011) * 2.4), rounding);
}

// Of a plan: two whole studs and two halves in three bays; at the height of blocking, all of it.
TEST(Measured, FramingOfAPlan) {
  Wall w = two_by_four();
  w.frame.blocking = {1.2};
  EXPECT_NEAR(framing_of_plan(build(w), 0.8), 0.038 / 0.4064, rounding);
  EXPECT_NEAR(framing_of_plan(build(w), 1.2), 1.0, rounding);
}

// A hole in the shape of a circle, drawn in lines at most 5 mm apart: its width, here 60 mm, to one of them
// each side; where its chord is less than the slack it is none.
TEST(Measured, ARoundVoid) {
  Wall w = two_by_four();
  w.bays[0].voids = {{Direction::up, Circle{{0.15, 0.045}, 0.03}, {}, "wall.bays[0].void"}};
  EXPECT_NEAR(of(w).bays[0].incomplete, 0.06 / wide, 2 * 0.005 / wide);
}

}  // namespace
}  // namespace coldbay::measured_test
