#include "solver/air_loops/loop_estimate.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <utility>

#include "geometry/wall/build.hpp"
#include "materials/air_space.hpp"
#include "solver/air_loops/bay_network.hpp"
#include "solver/air_loops/loop_of_bay.hpp"
#include "solver/air_loops/still_column.hpp"
#include "solver/forecast.hpp"
#include "tests/support/solved.hpp"
#include "tests/support/walls.hpp"

namespace coldbay::loop_estimate_test {
namespace {

constexpr double mm = 1e-3;

Surroundings cold() { return {{20.0, 0.13}, {0.0, 0.04}, {}, {}}; }

/// The middle bay of a 2x4 wall with its batt in front of 10 mm and behind 10 mm of air, ends open by 8
/// and 12.
Wall loose() {
  Wall w = test::two_by_four();
  w.bays[1].gap = {0.0, 0.0, 10 * mm, 10 * mm, 12 * mm, 8 * mm};
  return w;
}

std::vector<BayLoop> loops(const Wall& w, std::size_t bay = 1) {
  return loops_of_bay(w, build(w), bay, cold());
}

BayLoop loop(const Wall& w, std::size_t bay = 1) {
  const std::vector<BayLoop> all = loops(w, bay);
  EXPECT_EQ(all.size(), 1u);
  return all.empty() ? BayLoop{} : all[0];
}

LoopEstimate estimate(const Wall& w, double tolerance = 1 * mm) {
  const auto e = estimate_loop(w, 1, cold(), tolerance);
  EXPECT_TRUE(e.has_value());
  return e.value_or(LoopEstimate{});
}

TEST(LoopOfBay, MeasuresWhatLiesInTheBay) {
  const BayLoop bay = loop(loose());
  // 2.4 m less three plates, less both ends; between studs.
  EXPECT_NEAR(bay.height, 2.4 - 3 * 0.038 - 0.020, 1e-9);
  EXPECT_NEAR(bay.bottom_slot, 8 * mm, 1e-9);
  EXPECT_NEAR(bay.top_slot, 12 * mm, 1e-9);
  ASSERT_EQ(bay.strips.size(), 1u);
  EXPECT_NEAR(bay.strips[0].width, 0.3684, 1e-9);
  EXPECT_NEAR(bay.strips[0].room_gap, 10 * mm, 1e-9);
  EXPECT_NEAR(bay.strips[0].sheathing_gap, 10 * mm, 1e-9);
  EXPECT_NEAR(bay.path, 69 * mm, 1e-9);
  EXPECT_NEAR(bay.inside_resistance, 0.13 + 0.0127 / 0.16, 1e-9);
  EXPECT_NEAR(bay.outside_resistance, 0.04 + 0.0111 / 0.1, 1e-9);
  EXPECT_EQ(bay.left_joint, 0.0);
  EXPECT_EQ(bay.permeability, 0.0);
  EXPECT_EQ(bay.inside, 20.0);
  EXPECT_EQ(bay.outside, 0.0);
  // The gap towards the room is the warmer, and radiates more: emissivities 0.9, near 18 and 2 degC.
  const auto radiation = [](double T) {
    return 4.0 * stefan_boltzmann * std::pow(T + 273.15, 3) / (2.0 / 0.9 - 1.0);
  };
  EXPECT_NEAR(bay.room_radiation, radiation(18.0), 0.05);
  EXPECT_NEAR(bay.sheathing_radiation, radiation(2.0), 0.05);
}

// The same layers as a drawn section, solved on the grid with still air.
TEST(LoopOfBay, StandsStillAsTheGridDoes) {
  const BayLoop bay = loop(loose());
  Section s = test::layered(0.3, {{0.0127, 0.16}, {0.010, 1.0}, {0.069, 1.0}, {0.010, 1.0}, {0.0111, 0.1}});
  s.materials[1] = s.materials[3] = test::still_air();
  const Fill fill = loose().bays[1].fills[0];
  s.materials[2] = fill_material(fill, 0.089 / 0.069);
  Surroundings air = cold();
  air.gaps = AirInGaps::still;
  EXPECT_NEAR(single_loop(bay).u_still / *forecast(s, air, {}).results.u_value, 1.0, 2e-3);
}

// An empty bay on a cold night: its air convects by a difference of more than 5 K, which is its own.
TEST(StillColumn, SettlesAsTheGridDoes) {
  Wall w = test::two_by_four();
  w.bays[1].fills.clear();
  const Exchange inside{20.0, 0.13}, outside{-30.0, 0.04};
  const BuiltWall built = build(w);
  const Span clear = built.bays[1].clear;
  const double across = 0.5 * (clear.from + clear.to);
  double R = inside.film + outside.film;
  for (const StillLayer& layer : still_column(met_at(pieces_within(built, clear, {1.0, 1.1}), across, 1.05),
                                              built.frame, inside, outside))
    R += layer.resistance;
  Section s = test::layered(0.3, {{0.0127, 0.16}, {0.089, 1.0}, {0.0111, 0.1}});
  s.materials[1] = test::still_air();
  EXPECT_NEAR(*forecast(s, {inside, outside, {}, {}}, {}).results.u_value * R, 1.0, 1e-4);
}

TEST(LoopOfBay, FindsPocketsShouldersAndJoints) {
  Wall w = test::two_by_four();
  Bay& bay = w.bays[1];
  bay.staples = InsetStaples{12 * mm, 50 * mm, false};
  bay.gap.sheathing = 6 * mm;
  bay.gap.left = 3 * mm;
  const BayLoop stapled = loop(w);
  EXPECT_NEAR(stapled.left_joint, 3 * mm, 1e-9);
  EXPECT_EQ(stapled.right_joint, 0.0);
  ASSERT_EQ(stapled.strips.size(), 2u * steps + 1);
  // Each step has the mean depth of its stretch of the taper.
  for (int i = 0; i < steps; ++i) {
    const double depth = 12 * mm * (1.0 - (i + 0.5) / steps);
    for (const std::size_t at :
         {static_cast<std::size_t>(i), stapled.strips.size() - 1 - static_cast<std::size_t>(i)}) {
      EXPECT_NEAR(stapled.strips[at].room_gap, depth, 1e-9);
      EXPECT_NEAR(stapled.strips[at].sheathing_gap, 6 * mm, 1e-9);
      EXPECT_NEAR(stapled.strips[at].width, 50 * mm / steps, 1e-9);
    }
  }
  EXPECT_EQ(stapled.strips[steps].room_gap, 0.0);
  // Where the pocket is deep the batt is thin.
  EXPECT_LT(stapled.strips[0].batt, stapled.strips[steps].batt);

  bay.staples.reset();
  bay.gap = {0.0, 0.0, 5 * mm, 0.0, 0.0, 0.0};
  bay.shoulders = 20 * mm;
  const BayLoop rounded = loop(w);
  double area = 0.0;
  for (const LoopStrip& s : rounded.strips) {
    EXPECT_NEAR(s.room_gap, 5 * mm, 1e-9);
    area += s.width * s.sheathing_gap;
  }
  EXPECT_NEAR(area, 2.0 * (1.0 - std::numbers::pi / 4.0) * 400e-6, 1e-9);

  bay.shoulders = 0.0;
  bay.width = 0.3600;
  bay.strip = Side::right;
  EXPECT_NEAR(loop(w).right_joint, 8.4 * mm, 1e-9);
  bay.flange_stretched = true;
  EXPECT_EQ(loop(w).right_joint, 0.0);
}

TEST(LoopOfBay, ThinBattsLieAgainstOneFace) {
  Wall w = test::two_by_four();
  w.bays[1].thickness = 0.064;
  EXPECT_NEAR(loop(w).strips.at(0).sheathing_gap, 25 * mm, 1e-9);
  EXPECT_EQ(loop(w).strips.at(0).room_gap, 0.0);
  w.bays[1].against = Face::sheathing;
  EXPECT_NEAR(loop(w).strips.at(0).room_gap, 25 * mm, 1e-9);
}

TEST(LoopOfBay, EndsAreAsOpenAsWhatIsLeftOut) {
  Wall w = loose();
  w.bays[1].gap.top = w.bays[1].gap.bottom = 0.0;
  EXPECT_EQ(loop(w).top_slot, 0.0);
  w.bays[1].short_end = ShortEnd{30 * mm, BayEnd::top, false};
  EXPECT_NEAR(loop(w).top_slot, 30 * mm, 1e-9);
  EXPECT_NEAR(loop(w).height, 2.4 - 3 * 0.038 - 0.030, 1e-9);
  w.bays[1].short_end->filled = true;
  EXPECT_EQ(loop(w).top_slot, 0.0);
  w.bays[1].fallen = 50 * mm;
  EXPECT_NEAR(loop(w).top_slot, 50 * mm, 1e-9);
}

// A row of blocking parts the bay: each part turns at its own plate, and the ends at the blocking are shut.
TEST(LoopOfBay, BlockingPartsIt) {
  Wall w = loose();
  w.frame.blocking = {1.2};
  const std::vector<BayLoop> parts = loops(w);
  ASSERT_EQ(parts.size(), 2u);
  EXPECT_NEAR(parts[0].height, 1.2 - 0.019 - 0.038 - 0.008, 1e-9);
  EXPECT_NEAR(parts[0].bottom_slot, 8 * mm, 1e-9);
  EXPECT_EQ(parts[0].top_slot, 0.0);
  EXPECT_EQ(parts[1].bottom_slot, 0.0);
  EXPECT_NEAR(parts[1].top_slot, 12 * mm, 1e-9);
  EXPECT_EQ(estimate(w).none, NoLoop::closed);
}

TEST(LoopOfBay, AirGetsThroughFibreButNotThroughAFacing) {
  Wall w = loose();
  w.bays[1].fills[0].material.airflow_resistivity = 10e3;
  const double r = *fill_material(w.bays[1].fills[0], 0.089 / 0.069).airflow_resistivity;
  EXPECT_NEAR(loop(w).permeability, dry_air(10.0).viscosity / r, 1e-15);
  w.bays[1].faced = true;
  EXPECT_EQ(loop(w).permeability, 0.0);
}

TEST(LoopOfBay, EmptyBaysAndScrapsHaveNoFaces) {
  Wall w = loose();
  w.bays[1].fills.clear();
  EXPECT_TRUE(loops(w).empty());
  EXPECT_FALSE(estimate_loop(w, 1, cold(), mm).has_value());
  w = loose();
  w.bays[1].scraps = Scraps{};
  EXPECT_TRUE(loops(w).empty());
  EXPECT_FALSE(estimate_loop(loose(), 0, cold(), mm).has_value());  // it fits
}

// A batt that lies against the lining has air behind it where a cable runs up, and nobody would look for a
// loop.
TEST(LoopEstimate, APocketOfAServiceIsNoFace) {
  Wall w = test::two_by_four();
  ServiceRun cable = test::cable_at(0.18);
  cable.runs_up = true;
  w.bays[1].runs = {cable};
  EXPECT_FALSE(estimate_loop(w, 1, cold(), mm).has_value());
  w.bays[1].gap.sheathing = 5 * mm;
  EXPECT_EQ(estimate(w).none, NoLoop::touches_lining);
}

TEST(LoopEstimate, SaysWhyThereIsNone) {
  Wall w = loose();
  EXPECT_FALSE(estimate(w).none.has_value());
  w.bays[1].gap.room = 0.0;
  EXPECT_EQ(estimate(w).none, NoLoop::touches_lining);
  w = loose();
  w.bays[1].gap.sheathing = 0.0;
  EXPECT_EQ(estimate(w).none, NoLoop::touches_sheathing);
  w = loose();
  w.bays[1].gap.bottom = 0.0;
  const LoopEstimate closed = estimate(w);
  EXPECT_EQ(closed.none, NoLoop::closed);
  EXPECT_EQ(closed.loop.flow, 0.0);
  EXPECT_EQ(closed.loop.u_loop, closed.loop.u_still);
  EXPECT_EQ(closed.extra_heat, 0.0);
  Surroundings even = cold();
  even.outside.temperature = even.inside.temperature;
  EXPECT_EQ(estimate_loop(loose(), 1, even, mm)->none, NoLoop::even);
}

// What the bay's own equations give for it, and for gaps a millimetre off; the network where there are more
// ways.
TEST(LoopEstimate, IsTheLoopOfTheBayWithItsRange) {
  const Wall w = loose();
  const LoopEstimate e = estimate(w);
  BayLoop bay = loop(w);
  EXPECT_FALSE(e.by_network);
  EXPECT_EQ(e.loop.u_loop, single_loop(bay).u_loop);
  EXPECT_NEAR(e.extra_heat, (e.loop.u_loop - e.loop.u_still) * 0.3684 * bay.height * 20.0, 1e-9);
  bay.strips[0].room_gap = bay.strips[0].sheathing_gap = 9 * mm;
  EXPECT_NEAR(e.narrower.u_loop, single_loop(bay).u_loop, 1e-9);
  bay.strips[0].room_gap = bay.strips[0].sheathing_gap = 11 * mm;
  EXPECT_NEAR(e.wider.u_loop, single_loop(bay).u_loop, 1e-9);
  EXPECT_LT(loop_share(e.narrower.u_still, e.narrower.u_loop), loop_share(e.loop.u_still, e.loop.u_loop));
  EXPECT_GT(loop_share(e.wider.u_still, e.wider.u_loop), loop_share(e.loop.u_still, e.loop.u_loop));

  Wall joined = w;
  joined.bays[1].gap.left = 2 * mm;
  EXPECT_TRUE(estimate(joined).by_network);
  EXPECT_EQ(estimate(joined).loop.u_loop, network_loop(loop(joined)).u_loop);

  // A gap no wider than the tolerance may be none at all.
  Wall thin = w;
  thin.bays[1].gap.room = 1 * mm;
  const LoopEstimate t = estimate(thin);
  EXPECT_EQ(t.narrower.u_loop, t.narrower.u_still);
  EXPECT_LT(loop_share(t.loop.u_still, t.loop.u_loop), 0.01);
}

TEST(LoopEstimate, SaysWhereTheChannelEndsAndWhichWayItTurns) {
  Wall w = loose();
  EXPECT_FALSE(estimate(w).beyond_channel);
  EXPECT_FALSE(estimate(w).reversed);
  w.bays[1].gap.room = 25 * mm;
  EXPECT_TRUE(estimate(w).beyond_channel);
  Surroundings hot = cold();
  std::swap(hot.inside.temperature, hot.outside.temperature);
  const LoopEstimate summer = *estimate_loop(loose(), 1, hot, mm);
  EXPECT_TRUE(summer.reversed);
  EXPECT_LT(summer.loop.flow, 0.0);
  EXPECT_GT(summer.extra_heat, 0.0);
}

TEST(LoopEstimate, BaysThatAreAlikeAreReckonedOnce) {
  Wall w = loose();
  w.bays[2] = w.bays[1];
  w.bays[2].path = "wall.bays[2]";
  const auto all = estimate_loops(w, cold(), mm);
  ASSERT_EQ(all.size(), 3u);
  EXPECT_FALSE(all[0].has_value());
  ASSERT_TRUE(all[1] && all[2]);
  EXPECT_EQ(all[1]->loop.u_loop, all[2]->loop.u_loop);
  EXPECT_EQ(all[1]->loop.u_loop, estimate(w).loop.u_loop);
}

}  // namespace
}  // namespace coldbay::loop_estimate_test
