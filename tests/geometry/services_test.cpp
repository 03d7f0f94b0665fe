#include "geometry/wall/services.hpp"

#include <gtest/gtest.h>

#include "geometry/wall/cuts.hpp"
#include "tests/support/fibre.hpp"

namespace coldbay::services_test {
namespace {

using test::fibre_of_bay, test::random_bay, test::space_of_bay, test::uniform;

constexpr double rounding = 1e-9;  ///< sums of a few thousand products
constexpr unsigned seeds = 20;

using How = ServiceRun::Laid;

/// A run of random size and place in a bay, the batt on one side of it.
ServiceRun random_run(std::mt19937& rng, const Wall& w, How laid, bool runs_up) {
  ServiceRun run = test::cable_at(0.0, laid);
  run.diameter = uniform(rng, 0.006, 0.02);
  run.depth = w.frame.member_depth * uniform(rng, 0.35, 0.65);
  run.runs_up = runs_up;
  run.at = runs_up ? w.bays[0].clear_width * uniform(rng, 0.1, 0.9) : w.height * uniform(rng, 0.2, 0.8);
  if (rng() % 2 == 0) run.pocket = uniform(rng, 0.01, 0.2);
  return run;
}

// Pushed over a cable, or behind it, a batt weighs what it did: up and across, near a stud too, where half of
// the pocket is cut off.
TEST(Services, ABattPushedAsideKeepsItsFibre) {
  for (const How laid : {How::over, How::behind})
    for (const bool runs_up : {false, true})
      for (unsigned seed = 0; seed < seeds; ++seed) {
        std::mt19937 rng(seed);
        Wall w = random_bay(rng);
        const double whole = fibre_of_bay(w, 0);
        w.bays[0].runs = {random_run(rng, w, laid, runs_up)};
        ASSERT_TRUE(check(w).empty()) << check(w).front().what;
        EXPECT_NEAR(fibre_of_bay(w, 0) / whole, 1.0, rounding) << seed << runs_up;
        // A second one, wherever it lies: dents may cross.
        w.bays[0].runs.push_back(w.bays[0].runs[0]);
        w.bays[0].runs[1].at += 0.03;
        EXPECT_NEAR(fibre_of_bay(w, 0) / whole, 1.0, rounding) << seed << runs_up;
      }
}

// Split round it, the batt gives up the cable's own volume and no more: by design nothing is pressed for
// that. A circle is summed up along 40 chords: 0.5 % of it.
TEST(Services, ABattSplitRoundACableLosesItsVolumeOnly) {
  for (unsigned seed = 0; seed < seeds; ++seed) {
    std::mt19937 rng(seed);
    Wall w = random_bay(rng);
    const double whole = fibre_of_bay(w, 0);
    w.bays[0].runs = {random_run(rng, w, How::split, false)};
    const double r = 0.5 * w.bays[0].runs[0].diameter,
                 lost = 3.14159265 * r * r * w.bays[0].clear_width * label_density(*w.bays[0].fills[0].batt);
    EXPECT_NEAR((whole - fibre_of_bay(w, 0)) / lost, 1.0, 0.005) << seed;
    EXPECT_EQ(
        pocket_depth(w.bays[0].runs[0], laid_fills(w.bays[0], space_of_bay(w, 0))[0], space_of_bay(w, 0)),
        0.0);
  }
}

// "Over" is whole up to the cable, seen from the room, and air from there to the sheathing; "behind" the
// other way round. Also in a batt that begins behind a gap, or lies thin against either face.
TEST(Services, ThePocketIsOnItsSideOfTheCable) {
  const auto try_one = [](const Wall& w, const char* what) {
    ASSERT_TRUE(check(w).empty()) << what;
    const BuiltWall built = build(w);
    const ServiceRun& run = w.bays[0].runs[0];
    const Region body = laid_fills(w.bays[0], space_of_bay(w, 0))[0].at;
    const double front = built.frame.from + run.depth - 0.5 * run.diameter, back = front + run.diameter;
    const bool over = run.laid == How::over;
    double fill_from = 1.0, fill_to = 0.0;
    // Just above the cable, where the pocket is as deep as at it.
    const double up = run.at + 0.499 * run.diameter;
    for (const Met& m : met_at(pieces_within(built, {0.2, 0.21}, {up, up + 1e-4}), 0.2, up))
      if (m.piece->role == Piece::Role::fill) {
        fill_from = std::min(fill_from, m.depth.from);
        fill_to = std::max(fill_to, m.depth.to);
      }
    EXPECT_NEAR(fill_from, over ? body.depth.from : back, rounding) << what;
    EXPECT_NEAR(fill_to, over ? front : body.depth.to, rounding) << what;
  };
  for (const How laid : {How::over, How::behind}) {
    Wall w = test::two_by_four();
    w.bays[0].runs = {test::cable_at(1.2, laid)};
    try_one(w, "whole");
    w.bays[0].gap.room = 0.01;
    try_one(w, "gap on the room side");
    w.bays[0].gap = {};
    w.bays[0].gap.sheathing = 0.01;
    try_one(w, "gap on the sheathing side");
    w.bays[0].gap = {};
    w.bays[0].thickness = 0.08;
    try_one(w, "thin, against the lining");
    w.bays[0].against = Face::sheathing;
    try_one(w, "thin, against the sheathing");
  }
}

/// Fill behind the middle of a box [m], and its density over the label's.
struct Behind {
  double fill = 0.0, air = 0.0, squeezed = 0.0;
};
Behind behind_box(const Wall& w) {
  const BuiltWall built = build(w);
  const Region at = space_of(w.bays[0].enclosures[0], space_of_bay(w, 0));
  const double across = 0.5 * (at.across.from + at.across.to), up = 0.5 * (at.up.from + at.up.to);
  Behind b;
  for (const Met& m : met_at(pieces_within(built, at.across, at.up), across, up)) {
    if (m.depth.from < at.depth.to - 1e-12 || m.depth.to > built.frame.to + 1e-12) continue;
    (m.piece->role == Piece::Role::fill ? b.fill : b.air) += m.depth.length();
    if (m.piece->role == Piece::Role::fill) b.squeezed = m.piece->squeezed;
  }
  return b;
}

TEST(Services, WhatIsBehindABox) {
  using B = Enclosure::Behind;
  Wall w = test::two_by_four();
  w.bays[0].enclosures = {test::box_at(1.2)};
  Enclosure& box = w.bays[0].enclosures[0];
  const double left = 0.0127 + 0.089 - 0.07;  // 31.7 mm
  const auto behind = [&](B how) {
    box.behind = how;
    EXPECT_TRUE(check(w).empty());
    return behind_box(w);
  };
  EXPECT_NEAR(behind(B::open).air, left, rounding);
  EXPECT_EQ(behind(B::open).fill, 0.0);
  EXPECT_NEAR(behind(B::filled).fill, left, rounding);
  EXPECT_NEAR(behind(B::filled).squeezed, 1.0, rounding);
  EXPECT_NEAR(behind(B::foam).fill, left, rounding);
  box.piece = 0.02;
  EXPECT_NEAR(behind(B::piece).fill, 0.02, rounding);
  EXPECT_NEAR(behind(B::piece).air, left - 0.02, rounding);
  // Squeezed in: the whole depth of the batt in what there is behind.
  EXPECT_NEAR(behind(B::squeezed).fill, left, rounding);
  EXPECT_NEAR(behind(B::squeezed).squeezed, 0.089 / left, rounding);
  EXPECT_EQ(behind(B::squeezed).air, 0.0);
}

// The fibre of a bay with a box. Squeezed in, all of it is there: what was in the box's place is behind it.
// Open or filled, the batt is cut, and what was cut away is gone; so is what a margin takes, through the
// whole depth where it is open behind and beside the box alone where it is not.
TEST(Services, TheFibreRoundABox) {
  using B = Enclosure::Behind;
  for (unsigned seed = 0; seed < seeds; ++seed) {
    std::mt19937 rng(seed);
    Wall w = random_bay(rng);
    Bay& bay = w.bays[0];
    const double whole = fibre_of_bay(w, 0), rho = label_density(*bay.fills[0].batt),
                 depth = w.frame.member_depth;
    bay.enclosures = {test::box_at(uniform(rng, 0.5, 1.5))};
    Enclosure& box = bay.enclosures[0];
    box.stud = rng() % 2 == 0 ? Side::left : Side::right;
    const double in_frame = uniform(rng, 0.2, 0.7) * depth;
    box.depth = 0.0127 + in_frame;
    const double area = box.width * box.height;
    box.behind = B::squeezed;
    ASSERT_TRUE(check(w).empty());
    EXPECT_NEAR(fibre_of_bay(w, 0) / whole, 1.0, rounding) << seed;
    box.behind = B::filled;
    EXPECT_NEAR(fibre_of_bay(w, 0) / (whole - rho * area * in_frame), 1.0, rounding) << seed;
    box.behind = B::open;
    EXPECT_NEAR(fibre_of_bay(w, 0) / (whole - rho * area * depth), 1.0, rounding) << seed;
    box.margin = uniform(rng, 0.005, 0.03);
    const double cut = (box.width + box.margin) * (box.height + 2.0 * box.margin);
    EXPECT_NEAR(fibre_of_bay(w, 0) / (whole - rho * cut * depth), 1.0, rounding) << seed;
    box.behind = B::filled;
    EXPECT_NEAR(fibre_of_bay(w, 0) / (whole - rho * cut * in_frame), 1.0, rounding) << seed;
  }
}

// The frame stays whole where a batt gives way: flanges of steel studs at the height of a cable and behind a
// box, blocking along a cable that runs up; and a void is there beside one.
TEST(Services, LeaveTheFrameWhole) {
  const auto first_member = [](const BuiltWall& built, double across, double up) {
    double steel = 0.0;
    for (const Met& m : met_at(pieces_within(built, {across, across + 1e-6}, {up, up + 1e-6}), across, up))
      if (m.piece->role == Piece::Role::frame) steel += m.depth.length();
    return steel;
  };
  Wall w = test::two_by_four();
  w.frame.material = test::material("steel", 50.0);
  w.frame.sheet = 0.0011;
  w.frame.member_width = 0.041;
  w.frame.top_plates = 1;
  w.bays[0].runs = {test::cable_at(1.2)};
  w.bays[0].enclosures = {test::box_at(0.5)};
  w.bays[0].enclosures[0].behind = Enclosure::Behind::filled;
  ASSERT_TRUE(check(w).empty());
  const BuiltWall steel = build(w);
  EXPECT_NEAR(first_member(steel, 0.02, 1.5), 2 * 0.0011, rounding);
  EXPECT_NEAR(first_member(steel, 0.02, 1.2), 2 * 0.0011, rounding);  // at the cable
  EXPECT_NEAR(first_member(steel, 0.02, 0.5), 0.0011, rounding);      // the box stands before the other
  w = test::two_by_four();
  w.frame.blocking = {1.0};
  w.bays[0].runs = {test::cable_at(0.18)};
  w.bays[0].runs[0].runs_up = true;
  ASSERT_TRUE(check(w).empty());
  EXPECT_NEAR(first_member(build(w), 0.019 + 0.19, 1.0), 0.089, rounding);
  const double before = test::air_of_bay(w, 0);
  w.bays[0].voids = {{Direction::up, Rectangle{{0.17, 0.19}, {0.005, 0.02}}, Span{1.5, 1.7}, ""}};
  ASSERT_TRUE(check(w).empty());
  EXPECT_NEAR(test::air_of_bay(w, 0) - before, 0.02 * 0.015 * 0.2, rounding);
}

// A pipe is drawn as a square of the same area outside, with the wall it has.
TEST(Services, APipeKeepsItsAreaAndItsWall) {
  Wall w = test::two_by_four();
  ServiceRun pipe = test::cable_at(1.2, How::split);
  pipe.kind = ServiceRun::Kind::pipe;
  pipe.diameter = 0.022;
  pipe.wall = 0.0009;
  pipe.inside = test::material("water", 0.6);
  pipe.temperature = 10.0;
  w.bays[0].runs = {pipe};
  const BuiltWall built = build(w);
  const Piece &outer = built.pieces[built.pieces.size() - 2], &inner = built.pieces.back();
  EXPECT_NEAR(area(outer.outline), 0.25 * 3.14159265358979 * 0.022 * 0.022, rounding);
  const Rectangle a = bounding_box(outer.outline), b = bounding_box(inner.outline);
  EXPECT_NEAR(b.depth.from - a.depth.from, 0.0009, rounding);
  EXPECT_NEAR(a.across.to - b.across.to, 0.0009, rounding);
  EXPECT_EQ(inner.held, 10.0);
  EXPECT_FALSE(outer.held);
  // Only a cut along its axis, or across it, meets the pipe; both find a probe in it where it is cut across.
  EXPECT_EQ(vertical_section(w, 0.2, "", "").probes.size(), 1u);
  EXPECT_EQ(plan_section(w, 1.2, "", "").probes.size(), 0u);
}

}  // namespace
}  // namespace coldbay::services_test
