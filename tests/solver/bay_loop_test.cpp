#include "solver/air_loops/bay_loop.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "materials/air_space.hpp"
#include "materials/model_error.hpp"
#include "tests/support/loops.hpp"

namespace coldbay::bay_loop_test {
namespace {

using test::more;
using test::of_the_table;
using test::table_loop;

// An own earlier calculation in another language: the loop of one dimension with Nu = 4, by the eigenvalues
// of (3) and by the closed form, and its increase with Nu = 8.24. Printed figures are cut or rounded: one
// unit of the last digit. Its air conducts as at the mean temperature (of_the_table). U with still air is not
// compared: there it comes from a flow solution with the slots in it.
TEST(BayLoop, GivesTheTable) {
  const struct {
    double dT, mm, N, velocity, reynolds, u_closed, u_loop, percent, last;
  } rows[] = {
      {20, 3, 112, 15, 6, 0.379, 0.379, 5.1, 0.1},   {20, 5, 22.3, 39, 28, 0.434, 0.433, 23.0, 0.1},
      {20, 7.5, 6.6, 78, 82, 0.581, 0.579, 69, 1},   {20, 10, 3.2, 109, 154, 0.773, 0.770, 134, 1},
      {20, 15, 1.5, 131, 277, 1.024, 1.021, 243, 1}, {40, 3, 49, 32, 15, 0.401, 0.401, 11.7, 0.1},
      {40, 5, 10.2, 82, 62, 0.524, 0.523, 50, 1},    {40, 7.5, 3.5, 141, 160, 0.783, 0.780, 134, 1},
      {40, 10, 1.9, 171, 257, 1.009, 1.005, 221, 1}, {40, 15, 1.0, 176, 399, 1.156, 1.152, 306, 1},
  };
  for (const auto& row : rows) {
    SCOPED_TRACE(::testing::Message() << row.dT << " K, " << row.mm << " mm");
    const BayLoop bay = table_loop(1e-3 * row.mm, row.dT);
    LoopModel model = of_the_table(row.dT);
    EXPECT_NEAR(more(single_loop(bay, model)), row.percent, row.last);
    model.nusselt = 4.0;
    const SteadyLoop loop = single_loop(bay, model), closed = closed_form_loop(bay, model);
    EXPECT_NEAR(loop.u_loop, row.u_loop, 0.0015);
    EXPECT_NEAR(closed.u_loop, row.u_closed, 0.0015);
    EXPECT_NEAR(1e3 * loop.velocity, row.velocity, 1.0);
    EXPECT_NEAR(loop.reynolds, row.reynolds, 1.0);
    // Two digits, cut.
    EXPECT_NEAR(0.5 * bay.height / closed.exchange_length / row.N, 1.0, 0.04);
  }
}

// The same calculation, Nu = 4, 20 K: one parameter at a time. Half a unit of the last digit printed, and
// half a point more where the increase is large: the table was made on a grid.
TEST(BayLoop, GivesTheSensitivities) {
  LoopModel model = of_the_table(20.0);
  model.nusselt = 4.0;
  const auto near = [](double percent, double printed, double last) {
    EXPECT_NEAR(percent, printed, 0.5 * last + 0.002 * printed);
  };
  for (const auto& [heads, percent] : {std::pair(0.0, 127.7), {3.0, 124.6}, {6.0, 121.7}}) {
    LoopModel changed = model;
    changed.heads = heads;
    near(more(single_loop(table_loop(0.010, 20.0), changed)), percent, 0.1);
  }
  for (const auto& [mm, percent, last] : {std::tuple(0.5, 0.6, 0.1),
                                          {1.0, 4.6, 0.1},
                                          {2.0, 29.0, 1.0},
                                          {3.0, 64.0, 1.0},
                                          {5.0, 106.0, 1.0},
                                          {10.0, 125.0, 1.0}}) {
    BayLoop bay = table_loop(0.010, 20.0);
    bay.bottom_slot = bay.top_slot = 1e-3 * mm;
    near(more(single_loop(bay, model)), percent, last);
  }
  const double heights[] = {0.6, 1.2, 2.4, 4.8}, at_5[] = {72, 42, 23, 12}, at_10[] = {235, 182, 125, 76};
  for (std::size_t i = 0; i < 4; ++i) {
    BayLoop thin = table_loop(0.005, 20.0), thick = table_loop(0.010, 20.0);
    thin.height = thick.height = heights[i];
    near(more(single_loop(thin, model)), at_5[i], 1.0);
    near(more(single_loop(thick, model)), at_10[i], 1.0);
  }
  const double batts[] = {1.5, 2.3, 4, 6, 8}, at_7[] = {41, 67, 124, 193, 262},
               at_15[] = {128, 202, 359, 545, 731};
  for (std::size_t i = 0; i < 5; ++i) {
    BayLoop thin = table_loop(0.0075, 20.0), thick = table_loop(0.015, 20.0);
    thin.strips[0].batt = thick.strips[0].batt = batts[i];
    near(more(single_loop(thin, model)), at_7[i], 1.0);
    near(more(single_loop(thick, model)), at_15[i], 1.0);
  }
}

// The same: the thin side governs. How high its slots were in these rows is not known, from the thinner to
// the thicker gap; that is worth a tenth of the increase.
TEST(BayLoop, TheThinSideGoverns) {
  LoopModel model = of_the_table(20.0);
  model.nusselt = 4.0;
  const auto percent = [&model](double mm_1, double mm_2, double slot) {
    BayLoop bay = table_loop(0.5e-3 * (mm_1 + mm_2), 20.0);
    bay.strips[0].room_gap = 1e-3 * mm_1;
    bay.strips[0].sheathing_gap = 1e-3 * mm_2;
    bay.bottom_slot = bay.top_slot = 1e-3 * slot;
    return more(single_loop(bay, model));
  };
  for (const auto& [mm_1, mm_2, printed] : {std::tuple(7.5, 7.5, 67.0),
                                            {11.0, 4.0, 21.0},
                                            {13.0, 2.0, 3.0},
                                            {10.0, 2.0, 3.0},
                                            {10.0, 3.0, 10.0}}) {
    EXPECT_LE(percent(mm_1, mm_2, mm_2), printed + 0.5);
    EXPECT_GE(percent(mm_1, mm_2, mm_1), printed - 0.5);
  }
  // As good as touching.
  EXPECT_NEAR(percent(10.0, 1.0, 10.0), 0.4, 0.05);
  EXPECT_LT(percent(10.0, 1.0, 10.0), 0.5);
  EXPECT_LT(percent(1.0, 10.0, 10.0), 0.5);
  EXPECT_LT(percent(10.0, 0.5, 10.0), 0.1);
}

// Two-dimensional flow solutions of the same walls (Navier-Stokes with Boussinesq's buoyancy, walls, batt and
// radiation solved with the flow; an own earlier calculation): five of them in full, the rest as percentages.
// The loop leaves out what lining and batt conduct along their height, and that matters most where the foot
// is short or the wall is: 2 % of U, 4 % of the flow on a wall 2.4 m high, 4 % of either at 0.6 m.
TEST(BayLoop, AgreesWithTheFlowSolution) {
  const struct {
    double height, mm, dT, flow, u;
  } rows[] = {{2.4, 3, 20, 4.57e-5, 0.3724},
              {2.4, 5, 20, 2.03e-4, 0.4310},
              {2.4, 10, 20, 1.161e-3, 0.8028},
              {2.4, 7.5, 40, 1.116e-3, 0.8071},
              {0.6, 5, 20, 1.64e-4, 0.5919}};
  for (const auto& row : rows) {
    SCOPED_TRACE(::testing::Message() << row.height << " m, " << row.dT << " K, " << row.mm << " mm");
    BayLoop bay = table_loop(1e-3 * row.mm, row.dT);
    bay.height = row.height;
    const SteadyLoop loop = single_loop(bay);
    EXPECT_NEAR(loop.u_loop / row.u, 1.0, row.height < 1.0 ? 0.04 : 0.02);
    EXPECT_NEAR(loop.flow / row.flow, 1.0, 0.04);
  }
}

/// A wall the same on both sides of the batt.
BayLoop symmetric(double depth, double slot) {
  BayLoop bay = table_loop(depth, 25.0);
  bay.outside_resistance = bay.inside_resistance;
  bay.sheathing_radiation = bay.room_radiation;
  bay.bottom_slot = bay.top_slot = slot;
  return bay;
}

// Where both sides are alike the closed form is the solution: the two share no formula for the temperatures.
TEST(BayLoop, TheClosedFormIsExactOnASymmetricWall) {
  for (const double mm : {2.0, 5.0, 10.0, 20.0})
    for (const double slot : {0.5, 5.0, 20.0}) {
      const BayLoop bay = symmetric(1e-3 * mm, 1e-3 * slot);
      const SteadyLoop loop = single_loop(bay), closed = closed_form_loop(bay);
      EXPECT_NEAR(loop.u_loop / closed.u_loop, 1.0, 1e-9) << mm << ", " << slot;
      EXPECT_NEAR(loop.flow / closed.flow, 1.0, 1e-9) << mm << ", " << slot;
      EXPECT_NEAR(loop.exchange_length / closed.exchange_length, 1.0, 1e-9) << mm << ", " << slot;
    }
}

// A touching face, a closed end, no difference: the layers in series, as in a textbook.
TEST(BayLoop, WithoutALoopTheWallIsItsLayers) {
  const BayLoop open = table_loop(0.010, 20.0);
  const double gap = 1.0 / (0.025 / 0.010 + open.room_radiation), R = 0.18 + 2.3 + 0.0125 / 0.13 + 0.04;
  const auto expect_still = [](const BayLoop& bay, double resistance) {
    const SteadyLoop loop = single_loop(bay);
    EXPECT_EQ(loop.flow, 0.0);
    EXPECT_EQ(loop.u_loop, loop.u_still);
    EXPECT_NEAR(loop.u_loop * resistance, 1.0, 1e-12);
  };
  BayLoop bay = open;
  bay.strips[0].room_gap = 0.0;
  expect_still(bay, R + gap);
  bay.strips[0].sheathing_gap = 0.0;
  expect_still(bay, R);
  bay = open;
  bay.bottom_slot = 0.0;
  expect_still(bay, R + 2.0 * gap);
  bay = open;
  bay.top_slot = 0.0;
  expect_still(bay, R + 2.0 * gap);
  bay = open;
  bay.outside = bay.inside;
  expect_still(bay, R + 2.0 * gap);
  // The gap closing bit by bit ends there, too. Heat by the loop goes down with the third power.
  bay = open;
  bay.strips[0].room_gap = 1e-5;
  EXPECT_NEAR(single_loop(bay).u_loop * (R + gap), 1.0, 1e-3);
}

// A short loop in deep gaps exchanges so little on its way round that the air is as warm everywhere, and the
// batt is bypassed: what is left in series is lining, sheathing, their films and half a gap on each side
// (with Nu = 4 and no radiation). The way there goes as the height to the power 2/3, hence 1e-3.
TEST(BayLoop, AStrongLoopBypassesTheBatt) {
  LoopModel model;
  model.nusselt = 4.0;
  model.heads = 0.0;
  BayLoop bay = table_loop(0.020, 20.0);
  bay.room_radiation = bay.sheathing_radiation = 0.0;
  bay.height = 1e-4;
  bay.path = 1e-6;
  const double bypassed = 1.0 / (0.18 + 2.0 * 0.020 / (2.0 * 0.025) + 0.0125 / 0.13 + 0.04);
  EXPECT_NEAR(single_loop(bay, model).u_loop / bypassed, 1.0, 1e-3);
  double before = single_loop(table_loop(0.020, 20.0)).u_loop;
  for (const double height : {1.2, 0.6, 0.3}) {
    BayLoop shorter = table_loop(0.020, 20.0);
    shorter.height = height;
    const double u = single_loop(shorter).u_loop;
    EXPECT_GT(u, before);
    before = u;
  }
}

TEST(BayLoop, TurnsRoundWhereOutsideIsWarmer) {
  BayLoop bay = table_loop(0.010, 20.0);
  bay.bottom_slot = 0.004;
  const SteadyLoop winter = single_loop(bay);
  std::swap(bay.inside, bay.outside);
  const SteadyLoop summer = single_loop(bay);
  EXPECT_GT(winter.flow, 0.0);
  EXPECT_NEAR(summer.flow, -winter.flow, 1e-12 * winter.flow);
  EXPECT_NEAR(summer.u_loop, winter.u_loop, 1e-12);
  // Turned over, and turned about with all its layers.
  std::swap(bay.bottom_slot, bay.top_slot);
  EXPECT_NEAR(single_loop(bay).u_loop, winter.u_loop, 1e-12);
  std::swap(bay.inside_resistance, bay.outside_resistance);
  bay.strips[0].sheathing_gap = 0.006;
  BayLoop about = bay;
  std::swap(about.inside_resistance, about.outside_resistance);
  std::swap(about.strips[0].room_gap, about.strips[0].sheathing_gap);
  EXPECT_NEAR(single_loop(about).u_loop, single_loop(bay).u_loop, 1e-12);
}

TEST(BayLoop, BalancesItsHeat) {
  for (const double mm : {0.2, 3.0, 10.0, 20.0}) {
    BayLoop bay = table_loop(1e-3 * mm, 40.0);
    bay.strips[0].sheathing_gap *= 0.7;
    EXPECT_LT(single_loop(bay).imbalance, 1e-12) << mm;
  }
}

// Beyond 20 mm a gap gains nothing: the rule for air spaces levels off just there ([ISO6946]).
TEST(BayLoop, ADeepGapIsOneOf20Millimetres) {
  EXPECT_EQ(single_loop(table_loop(0.030, 20.0, 0.09)).u_loop,
            single_loop(table_loop(0.020, 20.0, 0.09)).u_loop);
  AirSpace space;
  space.thickness = 0.030;
  BayLoop bay = table_loop(0.030, 20.0);
  bay.room_radiation = bay.sheathing_radiation = 0.0;
  space.emissivity_warm = space.emissivity_cold = 1e-9;
  const double rest = 0.18 + 2.3 + 0.0125 / 0.13 + 0.04;
  EXPECT_NEAR(single_loop(bay).u_still * (rest + 2.0 * air_space_resistance(space)), 1.0, 1e-6);
}

TEST(BayLoop, RefusesABayWithMoreWaysThanOne) {
  BayLoop bay = table_loop(0.010, 20.0);
  bay.left_joint = 0.002;
  EXPECT_THROW(single_loop(bay), ModelError);
  EXPECT_THROW(closed_form_loop(bay), ModelError);
}

}  // namespace
}  // namespace coldbay::bay_loop_test
