#include "solver/results/loop_effect.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "solver/air_loops/bay_loop.hpp"
#include "tests/support/loops.hpp"
#include "tests/support/sections.hpp"

// What a loop does to the faces, against profiles known beforehand and against the closed form.

namespace coldbay::loop_effect_test {
namespace {

/// A wall of two cells in depth and many up, whose temperatures a test sets; films as usual.
struct TwoCells {
  Forecast looping, still;
};

/// From still air each cell differs by what dies away as exp(-z/length) from the bottom on the room side, and
/// from the top on the other.
TwoCells two_cells(double at_bottom, double at_top, double length, bool reversed = false) {
  constexpr Index n = 480;
  constexpr double height = 2.4;
  std::vector<double> edges;
  edges.reserve(n + 1);
  for (Index i = 0; i <= n; ++i) edges.push_back(height * static_cast<double>(i) / n);
  Forecast f{{}, {{Axis(edges), Axis({0.0, 1.0}), Axis({0.0, 0.05, 0.1})}, {}, {}, {}}, {}, {}, 0.0, {}, {}};
  for (auto& k : f.grid.conductivity) k.assign(2 * n, 0.05);
  f.air.inside.temperature = reversed ? 0.0 : 20.0;
  f.air.outside.temperature = reversed ? 20.0 : 0.0;
  const auto read = [&](Forecast& one) {
    one.results.profile = room_face(one.grid, one.air, one.field);
    one.results.reversed = reversed;
  };
  f.field.celsius.assign(2 * n, 10.0);
  TwoCells both{f, f};
  for (Index i = 0; i < n; ++i) {
    const double z = f.grid.axis[0].centre(i);
    both.looping.field.celsius[static_cast<std::size_t>(i)] += at_bottom * std::exp(-z / length);
    both.looping.field.celsius[static_cast<std::size_t>(n + i)] += at_top * std::exp(-(height - z) / length);
  }
  read(both.looping);
  read(both.still);
  both.looping.results.loop = LoopFlow{};
  both.looping.results.loop->loops = {{{0.0, height}, 1e-3, 0.1, 100.0}};
  return both;
}

/// Of the change in the cell beside a face, what the face itself changes by: half a cell of 0.5 m2K/W in
/// series with the film.
double of_the_cell(double film) { return film / (film + 0.5); }

constexpr double half_a_cell = 2.5e-3;  // of height [m]

TEST(LoopEffect, MarksAreAsHighAsWhatDiesAway) {
  constexpr double length = 0.38;
  const TwoCells w = two_cells(-5.0, 6.0, length);
  const LoopEffect e = loop_effect(w.looping, w.still);
  ASSERT_TRUE(e.room_face && e.outer_face);
  EXPECT_FALSE(e.room_face->at_top);
  EXPECT_TRUE(e.outer_face->at_top);
  // At the middle of the outermost cell, half a cell from the end.
  const double there = std::exp(-half_a_cell / length);
  EXPECT_NEAR(e.room_face->change, -5.0 * of_the_cell(0.13) * there, 1e-9);
  EXPECT_NEAR(e.outer_face->change, 6.0 * of_the_cell(0.04) * there, 1e-9);
  EXPECT_NEAR(e.room_face->change_at, half_a_cell, 1e-12);
  EXPECT_NEAR(e.outer_face->change_at, 2.4 - half_a_cell, 1e-12);
  // 1/e of what is half a cell from the end is one length further up; a straight line between two cells
  // misses the exponential by less than (cell/length)^2/8 of a cell.
  EXPECT_NEAR(e.room_face->height, length + half_a_cell, 1e-5);
  EXPECT_NEAR(e.outer_face->height, length + half_a_cell, 1e-5);
}

TEST(LoopEffect, InsideColderThanOutsideTheMarksChangePlaces) {
  // The same pattern turned over: warm at the top inside, cold at the bottom outside.
  TwoCells w = two_cells(-5.0, 6.0, 0.38, true);
  EXPECT_FALSE(loop_effect(w.looping, w.still).room_face);  // it is colder inside: not what is looked for
  const auto n = w.looping.field.celsius.size() / 2;
  for (std::size_t i = 0; i < n; ++i) std::swap(w.looping.field.celsius[i], w.looping.field.celsius[n + i]);
  w.looping.results.profile = room_face(w.looping.grid, w.looping.air, w.looping.field);
  const LoopEffect e = loop_effect(w.looping, w.still);
  ASSERT_TRUE(e.room_face && e.outer_face);
  EXPECT_TRUE(e.room_face->at_top);
  EXPECT_GT(e.room_face->change, 0.0);
  EXPECT_FALSE(e.outer_face->at_top);
  EXPECT_LT(e.outer_face->change, 0.0);
}

TEST(LoopEffect, WhatNobodyCanSeeIsNoMark) {
  const double just = least_mark / of_the_cell(0.13);
  const auto room_mark = [&](double change, double unsure) {
    TwoCells w = two_cells(-change, 0.0, 0.38);
    w.still.results.surface_uncertainty = unsure;
    return loop_effect(w.looping, w.still).room_face.has_value();
  };
  EXPECT_TRUE(room_mark(1.05 * just, 0.0));
  EXPECT_FALSE(room_mark(0.95 * just, 0.0));
  EXPECT_FALSE(room_mark(1.05 * just, 2.0 * least_mark));  // nor what may be the grid's
  TwoCells level = two_cells(0.0, 0.0, 0.38);
  EXPECT_FALSE(loop_effect(level.looping, level.still).outer_face);
  EXPECT_TRUE(loop_effect(level.looping, level.still).is_nothing());
}

TEST(LoopEffect, AMarkThatNeverEndsIsAsHighAsTheLoop) {
  const TwoCells w = two_cells(-5.0, 0.0, 100.0);
  EXPECT_EQ(loop_effect(w.looping, w.still).room_face->height, 2.4);
}

/// The wall of the tables (tests/support/loops.hpp) as a vertical section.
Section table_section(double gap, double height) {
  const double bay = 0.12, batt = bay - 2.0 * gap, lining = 0.0125;
  Section s;
  s.cut = CutKind::vertical;
  s.width = height;
  s.depth = bay + 2.0 * lining;
  s.materials = {test::material("lining", 0.25), test::still_air(), test::material("batt", batt / 2.3),
                 test::material("sheathing", 0.13)};
  const auto paint = [&](std::size_t m, Span up, Span depth) {
    s.shapes.push_back({Rectangle{up, depth}, m, ""});
  };
  paint(0, {0.0, height}, {0.0, lining});
  paint(1, {0.0, height}, {lining, lining + bay});
  paint(2, {gap, height - gap}, {lining + gap, lining + gap + batt});
  paint(3, {0.0, height}, {lining + bay, s.depth});
  return s;
}

// Against the flow solution of the same wall (10 mm, 20 K): U 0.8028 W/(m2 K) and 11.60 degC on the room face
// at 0.02 H, 14.88 at 0.1 H, where still air has 19.06; it and the model agree within 2 % of U and, so near
// the end, half a kelvin. And against the closed form, which has the speed and the way on which the air takes
// on the temperature of what it comes to, without heat along the layers: 15 %.
TEST(LoopEffect, AgreesWithTheFlowSolutionAndTheClosedForm) {
  constexpr double height = 2.4, flow_solution = 0.8028, within = 0.15;
  const Section s = table_section(0.010, height);
  Surroundings air{{20.0, 0.13}, {0.0, 0.04}, {}, {}}, standing = air;
  standing.gaps = AirInGaps::still;
  const Forecast looping = forecast(s, air, {}, {0.003, 0.1}),
                 still = forecast(s, standing, {}, {0.003, 0.1});
  ASSERT_TRUE(looping.results.loop && looping.results.u_value && still.results.u_value);
  EXPECT_FALSE(looping.results.limits);
  EXPECT_FALSE(looping.results.loop_left_out);
  EXPECT_FALSE(still.results.limits);
  EXPECT_TRUE(still.results.loop_left_out);
  EXPECT_FALSE(still.results.loop);

  const SteadyLoop closed = closed_form_loop(test::table_loop(0.010, 20.0));
  const LoopFlow& loop = *looping.results.loop;
  ASSERT_EQ(loop.loops.size(), 1U);
  EXPECT_NEAR(loop.loops[0].up.from, 0.0, 1e-9);
  EXPECT_NEAR(loop.loops[0].up.to, height, 1e-9);
  EXPECT_NEAR(loop.speed / closed.velocity, 1.0, within);
  const LoopEffect e = loop_effect(looping, still);
  EXPECT_NEAR((1.0 + e.share) * *still.results.u_value, flow_solution, 0.02 * flow_solution);
  EXPECT_NEAR(e.extra, (flow_solution - *still.results.u_value) * height * 20.0, 0.02 * flow_solution * 48.0);
  ASSERT_TRUE(e.room_face && e.outer_face);
  // The lining evens out the very end, and the slot makes it cold with still air, too: the greatest change is
  // a quarter less than the exponential's would be, and a third of it lies as much higher.
  EXPECT_GT(e.room_face->height, closed.exchange_length);
  EXPECT_LT(e.room_face->height, (1.0 + within + std::log(4.0 / 3.0)) * closed.exchange_length);
  EXPECT_LT(e.room_face->change, 11.60 - 19.06 + 0.5);  // it is the coldest place
  // Of that a third is left above 0.1 H, where the flow solution still has (19.06 - 14.88)/7.46 of it.
  EXPECT_GT(e.room_face->height, 0.1 * height);
  // Up in front, down behind.
  for (const GapFlow& g : loop.gaps) EXPECT_EQ(g.upward > 0.0, g.at.depth < 0.5 * s.depth) << g.at.across;
}

TEST(LoopEffect, LoopsThatAMemberPartsAreTwo) {
  Section s = table_section(0.010, 2.4);
  s.materials.push_back(test::material("blocking", 0.12));
  s.shapes.push_back({Rectangle{{1.4, 1.45}, {0.0125, 0.1325}}, 4, ""});
  // An end that the batt fills up to the blocking would be shut: a slot below it and one above.
  for (const Span slot : {Span{1.39, 1.4}, Span{1.45, 1.46}})
    s.shapes.push_back({Rectangle{slot, {0.0125, 0.1325}}, 1, ""});
  const Forecast f = forecast(s, {{20.0, 0.13}, {0.0, 0.04}, {}, {}}, {}, {0.01, 0.2});
  ASSERT_TRUE(f.results.loop);
  const auto& loops = f.results.loop->loops;
  ASSERT_EQ(loops.size(), 2U);
  EXPECT_GE(loops[0].flow, loops[1].flow);
  EXPECT_EQ(loops[0].flow, f.results.loop->flow);
  // The taller column drives more.
  EXPECT_NEAR(loops[0].up.to, 1.4, 1e-9);
  EXPECT_NEAR(loops[1].up.from, 1.45, 1e-9);
}

}  // namespace
}  // namespace coldbay::loop_effect_test
