#include "tools/study/effects.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "tests/tools/made_up_study.hpp"
#include "tools/study/sobol.hpp"
#include "tools/study/variation.hpp"

namespace coldbay::study_effects_test {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double rounding = 1e-12;  // a few operations on numbers of order one

/// Of all parts, and the last column.
std::vector<Swing> swings_of(const StudyTable& table) {
  const Variation all = variation_of(table);
  const std::vector<double>& y = table.numbers.back();
  std::vector<ParameterEffect> effects;
  for (const VariedPart& part : all.parts)
    effects.push_back(part.sampled && all.aliased ? effect_of_drawn(part.levels, y, all.crossing)
                                                  : effect_of(part.levels, y));
  return one_at_a_time(all, moves_of(all), effects, y);
}

/// Every combination of a list of temperatures and winds that go together, and of widths: y = 3 t + w.
StudyTable varied_together() {
  std::vector<Input> inputs{{"t", {}}, {"wind", {}}, {"w", {}}};
  std::vector<double> result;
  for (const double t : {-1.0, 0.0, 1.0})
    for (const double w : {0.0, 1.0}) {
      inputs[0].values.push_back(t);
      inputs[1].values.push_back(5.0 - t * t * t);
      inputs[2].values.push_back(w);
      result.push_back(3.0 * t + w);
    }
  return table_of(inputs, result);
}

// Variances 9 x 2/3 = 6 and 1/4. Two bars of 6/6.25 each would leave -0.96.
TEST(StudyEffects, WhatIsVariedTogetherIsOnePart) {
  const StudyTable table = varied_together();
  const Variation all = variation_of(table);
  ASSERT_EQ(all.parts.size(), 2U);
  EXPECT_EQ(all.parts[0].column.name, "t with wind");
  EXPECT_EQ(all.parts[0].levels.texts.front(), "−1 m, 6 m");
  const auto found = first_orders_of(all, table.numbers.back());
  EXPECT_NEAR(found[0].index, 6.0 / 6.25, rounding);
  EXPECT_NEAR(found[0].index + found[1].index, 1.0, rounding);
  EXPECT_EQ(found[0].error, 0.0);
  const auto swings = swings_of(table);
  ASSERT_EQ(swings.size(), 2U);
  EXPECT_TRUE(swings[0].all_else_still);
  EXPECT_EQ(swings[0].from_text, "−1 m, 6 m");
  EXPECT_NEAR(swings[0].at_to - swings[0].at_from, 6.0, rounding);
}

// A table that moves one column at a time, and one that has every combination, are not varied together, nor
// are two lists that happen to go together in the rows there are.
TEST(StudyEffects, OneTableNeedNotBeOnePart) {
  StudyTable table = table_of({{"a", {2, 1, 4, 2, 2}}, {"b", {5, 5, 5, 0, 7}}}, {9, 7, 13, 4, 11});
  for (std::size_t c = 0; c < 2; ++c) table.columns[c].factor = 0;
  EXPECT_EQ(variation_of(table).parts.size(), 2U);
  EXPECT_TRUE(is_one_at_a_time(moves_of(variation_of(table))));
  table = table_of({{"a", {0, 1, 0, 1}}, {"b", {0, 0, 1, 1}}}, {0, 1, 2, 3});
  for (std::size_t c = 0; c < 2; ++c) table.columns[c].factor = 0;
  EXPECT_TRUE(is_every_combination(variation_of(table), table.numbers.back()));
  StudyTable lists = table_of({{"a", {0, 1}}, {"b", {5, 6}}}, {0, 1});
  lists.columns[0].factor = 0;
  lists.columns[1].factor = 1;
  EXPECT_EQ(variation_of(lists).parts.size(), 2U);
}

// Draws of an older folder, or drawn elsewhere and read from a table: their values tell each other's, too.
TEST(StudyEffects, NumbersThatWereDrawnElsewhereAreNotVariedTogether) {
  StudyTable table = crossed(40, 5, 3, [](const auto& x) { return x[0]; });
  for (StudyColumn& c : table.columns) {
    c.drawn = false;
    c.factor = {};
  }
  const Variation all = variation_of(table);
  ASSERT_EQ(all.parts.size(), 4U);
  EXPECT_TRUE(all.parts[0].sampled && all.parts[2].sampled && !all.parts[3].sampled);
  EXPECT_EQ(all.crossing.draws, 40U);
  EXPECT_EQ(all.crossing.cells, 5U);
}

TEST(StudyEffects, EffectsByLevelAndByStretch) {
  const StudyTable levels = table_of({{"a", {2, 1, 2, 1}}}, {5, 1, 7, nan});
  const ParameterEffect effect = effect_of(levels_of(levels, 0), levels.numbers[1]);
  ASSERT_EQ(effect.levels.size(), 2U);
  EXPECT_EQ(effect.levels[0].middle, 1.0);
  EXPECT_EQ(effect.levels[0].result.n, 1U);
  EXPECT_NEAR(effect.levels[1].result.mean, 6.0, rounding);

  const StudyTable many = drawn(1, 1000, 7, [](const auto& x) { return 3.0 * x[0]; });
  const ParameterEffect stretches = effect_of(levels_of(many, 0), many.numbers[1]);
  ASSERT_TRUE(stretches.by_stretches);
  ASSERT_EQ(stretches.levels.size(), 20U);
  for (const EffectLevel& level : stretches.levels) {
    EXPECT_EQ(level.result.n, 50U);
    EXPECT_NEAR(level.result.mean, 3.0 * level.middle, rounding);
  }
}

// By hand: 2 a + b about a = 2, b = 5, and a third row that changes both and must not count.
TEST(StudyEffects, OneAtATimeHoldsTheRestStill) {
  const StudyTable table =
      table_of({{"a", {2, 1, 4, 2, 2, 9}}, {"b", {5, 5, 5, 0, 7, 9}}}, {9, 7, 13, 4, 11, 1000});
  const auto swings = swings_of(table);
  ASSERT_EQ(swings.size(), 2U);
  EXPECT_EQ(swings[0].part, 1U);  // 4 to 11, more than 7 to 13
  EXPECT_NEAR(swings[0].at_from, 4.0, rounding);
  EXPECT_NEAR(swings[0].at_to, 11.0, rounding);
  EXPECT_EQ(swings[1].from, 1.0);
  EXPECT_EQ(swings[1].to, 4.0);
  EXPECT_NEAR(swings[1].at_to - swings[1].at_from, 6.0, rounding);
  EXPECT_TRUE(swings[0].all_else_still && swings[1].all_else_still);
  EXPECT_FALSE(is_one_at_a_time(moves_of(variation_of(table))));
  StudyTable singly = table;
  singly.numbers[0][5] = 2.0;
  EXPECT_TRUE(is_one_at_a_time(moves_of(variation_of(singly))));
}

// Draws have no such rows: means of the outer stretches, of a fifth of [0, 1] each, 0.1 and 0.9 of the slope,
// within four times the deviation of a mean of 20 even draws of that width, 0.2/sqrt(12 x 20), times sqrt(2).
TEST(StudyEffects, OneAtATimeOfDrawsIsAMean) {
  const StudyTable table = drawn(2, 100, 5, [](const auto& x) { return 3.0 * x[0]; });
  const auto swings = swings_of(table);
  ASSERT_EQ(swings.size(), 2U);
  EXPECT_EQ(swings[0].part, 0U);
  EXPECT_FALSE(swings[0].all_else_still);
  EXPECT_NEAR(swings[0].at_to - swings[0].at_from, 3.0 * 0.8, 4.0 * 3.0 * 0.2 / std::sqrt(120.0));
}

// x3 does nothing. With 20 draws in 21 cells the outer stretches hold five draws each, whose x1 differ by
// chance by about 0.29 sqrt(2/5) = 0.18. Two errors hold 95 of 100, with so few draws rather 88 (Student,
// four degrees, by both); binomial, five deviations of 3.2 below.
TEST(StudyEffects, FewDrawsDoNotPassForAnEffect) {
  int seen = 0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const auto swings = swings_of(crossed(20, 21, seed, [](const auto& x) { return x[0] + 0.2 * x[3]; }));
    ASSERT_EQ(swings.size(), 4U);
    for (const Swing& s : swings)
      if (s.part == 2) {
        EXPECT_GT(s.error, 0.05);
        EXPECT_LT(s.error, 0.5);
        seen += std::abs(s.at_to - s.at_from) > 2.0 * s.error;
      }
  }
  EXPECT_LE(seen, 28);
  for (const Swing& s : swings_of(crossed(9, 21, 1, [](const auto& x) { return x[0] + x[3]; })))
    EXPECT_EQ(std::isnan(s.at_from), s.part != 3) << "nine draws tell nothing of what was drawn";
}

TEST(StudyEffects, WhatTheGridsLeaveUnsureIsEqual) {
  StudyTable table = table_of({}, {0.3, 0.3002, 0.301, 0.3012});
  table.columns.push_back({"fill", "", true, true});
  table.numbers.emplace_back();
  table.texts.push_back({"a", "b", "c", "d"});
  const auto ranks = [&](const ResultReading& reading) {
    std::vector<std::size_t> all;
    for (const Combination& c : ranked_combinations(table, 0, reading)) all.push_back(c.rank);
    return all;
  };
  EXPECT_EQ(ranks(reading_of(table, 0)), (std::vector<std::size_t>{1, 1, 3, 3}));  // 0.1 %: 0.0003
  EXPECT_EQ(ranks({}), (std::vector<std::size_t>{1, 2, 3, 4}));
  table.columns[0] = {"coldest surface", "°C", false, false};
  const ResultReading surface = reading_of(table, 0);
  EXPECT_TRUE(surface.higher_is_better && surface.is_equal(12.0, 12.009) && !surface.is_equal(12.0, 12.011));
  table.columns[0] = {"coldest surface", "°F", false, false};
  const ResultReading in_fahrenheit = reading_of(table, 0);
  EXPECT_TRUE(in_fahrenheit.is_equal(53.6, 53.617) && !in_fahrenheit.is_equal(53.6, 53.619));
  table.columns[0] = {"heat flow", "Btu/h·ft", false, false};
  EXPECT_TRUE(reading_of(table, 0).is_equal(10.0, 10.009) && !reading_of(table, 0).is_equal(10.0, 10.011));
  EXPECT_EQ(ranked_combinations(table, 0, {})[0].texts[0], "a");
  EXPECT_EQ(ranked_combinations(table, 0, surface)[0].texts[0], "d");
  table.columns[0] = {"U, plan", "W/m2K", false, false};
  table.columns.push_back({"U uncertainty, plan", "W/m2K", false, false});
  table.numbers.push_back({0.0005, 0.0006, 0.0006, 0.0005});
  table.texts.emplace_back();
  // 0.0011: the last one is surely more than the first alone.
  EXPECT_EQ(ranks(reading_of(table, 0)), (std::vector<std::size_t>{1, 1, 1, 2}));
}

TEST(StudyEffects, FillsAreRankedByTheirMeans) {
  StudyTable table = table_of({{"a", {1, 2, 1, 2, 1}}}, {5, 7, 1, 2, nan});
  table.columns.push_back({"fill", "", true, true});
  table.numbers.emplace_back();
  table.texts.push_back({"loose", "loose", "tight", "tight", "none"});
  const auto ranked = ranked_combinations(table, 1, reading_of(table, 1));
  ASSERT_EQ(ranked.size(), 2U);  // nothing was solved without a fill
  EXPECT_EQ(ranked[0].texts, std::vector<std::string>{"tight"});
  EXPECT_NEAR(ranked[0].result.mean, 1.5, rounding);
  EXPECT_NEAR(ranked[1].result.mean, 6.0, rounding);
}

}  // namespace
}  // namespace coldbay::study_effects_test
