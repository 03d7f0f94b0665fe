#include "geometry/wall/air_round.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <string>

#include "tests/support/walls.hpp"

// Where the air on the two faces of a fill is joined: by hand, from what is done to the batt.

namespace coldbay::air_round_test {
namespace {

constexpr double rounding = 1e-12;  ///< sums of a few metres [m]

AirRoundFill of(const std::function<void(Bay&)>& harm) {
  Wall w = test::two_by_four();
  harm(w.bays[0]);
  EXPECT_TRUE(check(w).empty());
  return air_round(w.bays[0], test::space_of_bay(w, 0));
}

/// "tblr" of what joins.
std::string joints(const std::function<void(Bay&)>& harm) {
  const AirRoundFill a = of(harm);
  return std::string(a.top ? "t" : "") + (a.bottom ? "b" : "") + (a.left ? "l" : "") + (a.right ? "r" : "");
}

TEST(AirRoundFill, IsAsDeepAsTheGapsOfItsFaces) {
  AirRoundFill a = of([](Bay&) {});
  EXPECT_EQ(a.room, 0.0);
  EXPECT_EQ(a.sheathing, 0.0);
  a = of([](Bay& b) { b.gap = {0.0, 0.0, 0.01, 0.02}; });
  EXPECT_NEAR(a.room, 0.01, rounding);
  EXPECT_NEAR(a.sheathing, 0.02, rounding);
  EXPECT_TRUE(a.on_both_faces());
  a = of([](Bay& b) {
    b.thickness = 0.06;
    b.against = Face::sheathing;
  });
  EXPECT_NEAR(a.room, 0.029, rounding);
  EXPECT_FALSE(a.on_both_faces());
  a = of([](Bay& b) {
    b.staples = InsetStaples{0.019, 0.05, false};
    b.gap.room = 0.001;
  });
  EXPECT_NEAR(a.room, 0.020, rounding);
  EXPECT_FALSE(a.on_both_faces());
  // Of a quarter round the outermost step counts, at its mean depth: it lies between a third and all of the
  // radius, since the edge falls away from r at the side to (1 - sqrt(1 - (3/4)^2)) r a quarter further in.
  a = of([](Bay& b) { b.shoulders = 0.03; });
  EXPECT_LT(a.sheathing, 0.03);
  EXPECT_GT(a.sheathing, (1.0 - std::sqrt(1.0 - 0.5625)) * 0.03);
  Wall empty = test::two_by_four();
  empty.bays[0].fills.clear();
  EXPECT_FALSE(air_round(empty.bays[0], test::space_of_bay(empty, 0)).on_both_faces());
}

TEST(AirRoundFill, IsJoinedWhereTheFillLeavesAWay) {
  EXPECT_EQ(joints([](Bay&) {}), "");
  EXPECT_EQ(joints([](Bay& b) { b.gap.top = 0.01; }), "t");
  EXPECT_EQ(joints([](Bay& b) { b.gap.bottom = 0.01; }), "b");
  EXPECT_EQ(joints([](Bay& b) { b.gap = {0.01, 0.0, 0.0, 0.0, 0.01, 0.01}; }), "tbl");
  for (const bool filled : {false, true}) {
    EXPECT_EQ(joints([&](Bay& b) { b.short_end = ShortEnd{0.05, BayEnd::top, filled}; }), filled ? "" : "t");
    EXPECT_EQ(joints([&](Bay& b) {
                b.short_end = ShortEnd{0.05, BayEnd::bottom, filled};
              }),
              filled ? "" : "b");
    for (const Side side : {Side::left, Side::right})
      EXPECT_EQ(joints([&](Bay& b) {
                  b.width = 0.33;
                  b.strip = side;
                  b.strip_filled = filled;
                }),
                filled               ? ""
                : side == Side::left ? "l"
                                     : "r");
  }
  EXPECT_EQ(joints([](Bay& b) { b.fallen = 0.1; }), "t");
  EXPECT_EQ(joints([](Bay& b) { b.folded = FoldedEnd{0.1, BayEnd::bottom}; }), "");
  EXPECT_EQ(joints([](Bay& b) { b.width = 0.375; }), "");  // held by friction
}

// A facing stretched over the strip closes it off from the room side.
TEST(AirRoundFill, IsNotJoinedUnderAFlange) {
  EXPECT_EQ(joints([](Bay& b) {
              b.width = 0.33;
              b.flange_stretched = true;
            }),
            "");
}

}  // namespace
}  // namespace coldbay::air_round_test
