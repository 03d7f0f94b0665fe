#include "solver/results/survey_rules.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "solver/results/mornings.hpp"

// Weather made up so that the hours that qualify can be counted on one's fingers.

namespace coldbay::survey_rules_test {
namespace {

enum : std::size_t { astm, quoted, by_u, rating };  // the order of survey_rules()

constexpr std::int64_t day_13 = 56 * 365 + 14 + 12;  // 2026-01-13, days since 1970-01-01

/// Two days from 2026-01-13 00:00 at 0 degC, sun from 8:00 until 16:00, a light wind, no rain.
Weather two_days() {
  Weather w;
  w.start = day_13 * 24;
  w.temperature.assign(48, 0.0);
  w.wind.assign(48, 2.0);
  w.rain.assign(48, 0.0);
  for (int h = 0; h < 48; ++h) w.sun.push_back(h % 24 >= 8 && h % 24 < 16 ? 200.0 : 0.0);
  return w;
}

const SurveyWall light{20.0, 0.4, 0, false};

std::vector<HourVerdict> under(std::size_t rule, const Weather& w, const SurveyWall& wall = light) {
  return qualifying_hours(w, survey_rules()[rule], wall);
}

/// The hours of the second day before 8:00 that qualify, as a text of eight signs.
std::string second_morning(std::size_t rule, const Weather& w, const SurveyWall& wall = light) {
  std::string text;
  const auto verdicts = under(rule, w, wall);
  for (std::size_t h = 24; h < 32; ++h) text += verdicts[h].qualifies() ? 'y' : '-';
  return text;
}

TEST(SurveyRules, AreTheNumbersOfTheStandards) {
  // 10 K (18 °F), 4 h, 3 h of shade on a light frame and 8 h on masonry, 6.7 m/s (15 mph): ASTM C1060, the
  // difference seen as quoted, all else from memory.
  const SurveyRule& a = survey_rules()[astm];
  EXPECT_EQ(a.difference, 18.0 / 1.8);
  EXPECT_EQ(a.held, 4);
  EXPECT_EQ(a.no_sun->light, 3);
  EXPECT_EQ(a.no_sun->heavy, 8);
  EXPECT_NEAR(*a.most_wind, 15 * 0.44704, 0.01);  // mph by definition, rounded as it is quoted
  // 24 h, 5 m/s, dry for 12 h or 24 h: EN 13187 as a survey firm quotes it, seen.
  const SurveyRule& b = survey_rules()[quoted];
  EXPECT_EQ(b.held, 24);
  EXPECT_EQ(*b.most_wind, 5.0);
  EXPECT_EQ(b.dry->light, 12);
  EXPECT_EQ(b.dry->heavy, 24);
  // 3/U, 5 K at least, 5 K of drift outside and 2 K inside: ISO 6781, from memory.
  const SurveyRule& c = survey_rules()[by_u];
  EXPECT_EQ(least_difference(c, {20.0, 0.2, 0, false}), 3.0 / 0.2);
  EXPECT_EQ(least_difference(c, {20.0, 1.0, 0, false}), 5.0);
  EXPECT_EQ(least_difference(c, {20.0, 0.0, 0, false}), 5.0);  // no U is known
  EXPECT_EQ(least_difference(a, {20.0, 0.2, 0, false}), 10.0);
  EXPECT_EQ(least_differences({20.0, 0.2, 0, false}), (std::vector<double>{15.0, 10.0}));
  EXPECT_EQ(least_differences({20.0, 0.3, 0, false}), (std::vector<double>{10.0}));
  EXPECT_EQ(*c.outside_drift, 5.0);
  EXPECT_EQ(*c.inside_drift, 2.0);
  for (const SurveyRule& rule : survey_rules()) EXPECT_NE(rule.source.find("memory"), std::string_view::npos);
}

TEST(SurveyRules, AQuietColdNight) {
  const Weather w = two_days();
  EXPECT_EQ(second_morning(astm, w), "yyyyyyyy");
  EXPECT_EQ(second_morning(quoted, w), "yyyyyyyy");
  EXPECT_EQ(second_morning(by_u, w),
            "----yyyy");  // the hour that ends at 16:00 is the last with sun: 12 h on
  EXPECT_EQ(second_morning(rating, w), "yyyyyyyy");
  // In the evening, three hours of shade after the last sunny one.
  const auto verdicts = under(astm, w);
  EXPECT_EQ(verdicts[15 + 3].against, std::vector{Against::sun});
  EXPECT_TRUE(verdicts[15 + 4].qualifies());
  EXPECT_EQ(verdicts[32].against, std::vector{Against::sun});
}

TEST(SurveyRules, TheDifference) {
  Weather w = two_days();
  w.temperature.assign(48, 10.0);
  EXPECT_EQ(second_morning(astm, w), "yyyyyyyy");  // exactly 10 K
  w.temperature.assign(48, 10.01);
  EXPECT_EQ(second_morning(astm, w), "--------");
  EXPECT_EQ(under(astm, w)[27].against, std::vector{Against::difference});
  EXPECT_EQ(second_morning(by_u, w), "----yyyy");                          // 3/0.4 = 7.5 K
  EXPECT_EQ(second_morning(by_u, w, {20.0, 0.25, 0, false}), "--------");  // 12 K
}

TEST(SurveyRules, HeldAsLongAsTheRuleAsks) {
  Weather w = two_days();
  w.temperature[24 + 1] = 11.0;                    // one warm hour, from 1:00
  EXPECT_EQ(second_morning(astm, w), "y-----yy");  // 2:00 to 5:00 have it among the four before
  EXPECT_EQ(under(astm, w)[24 + 5].against, std::vector{Against::held});
  EXPECT_EQ(second_morning(quoted, w), "y-------");
}

TEST(SurveyRules, HeldAsLongAsTheWallTakesToSettle) {
  Weather w = two_days();
  w.temperature[24] = 11.0;
  EXPECT_EQ(second_morning(rating, w), "-----yyy");
  EXPECT_EQ(second_morning(rating, w, {20.0, 0.4, 6, false}), "-------y");
}

TEST(SurveyRules, ADifferenceTheOtherWayRoundIsNotHeld) {
  Weather w = two_days();
  w.temperature.assign(48, 32.0);
  EXPECT_EQ(second_morning(astm, w), "yyyyyyyy");  // 12 K warmer outside serves as well
  w.temperature[24 + 1] = 8.0;
  EXPECT_EQ(second_morning(astm, w), "y-----yy");
}

TEST(SurveyRules, Wind) {
  Weather w = two_days();
  w.wind[24 + 2] = 6.0;
  w.wind[24 + 5] = 7.0;
  EXPECT_EQ(second_morning(astm, w), "yyyyy-yy");
  EXPECT_EQ(second_morning(quoted, w), "yy-yy-yy");
  EXPECT_EQ(second_morning(rating, w), "yyyyyyyy");  // says nothing of wind
  EXPECT_EQ(under(quoted, w)[26].against, std::vector{Against::wind});
}

TEST(SurveyRules, RainAndMasonry) {
  Weather w = two_days();
  w.rain[24 + 1 - 12] = 0.2;
  const SurveyWall heavy{20.0, 0.4, 0, true};
  EXPECT_EQ(second_morning(astm, w), "yyyyyyyy");
  EXPECT_EQ(second_morning(quoted, w), "--yyyyyy");         // twelve dry hours
  EXPECT_EQ(second_morning(quoted, w, heavy), "--------");  // and twenty-four
  w = two_days();
  w.rain[24 + 3] = 0.2;
  EXPECT_EQ(second_morning(astm, w), "yyy-yyyy");
  // Sun until 19:00 is five hours before midnight: enough for boards, and for masonry from 3:00 on.
  w = two_days();
  for (std::size_t h = 16; h < 19; ++h) w.sun[h] = 50.0;
  EXPECT_EQ(second_morning(astm, w), "yyyyyyyy");
  EXPECT_EQ(second_morning(astm, w, heavy), "---yyyyy");
}

TEST(SurveyRules, WhatWasBeforeTheFileIsNotKnown) {
  const Weather w = two_days();
  const auto a = under(astm, w), b = under(quoted, w);
  EXPECT_EQ(a[3].against, std::vector{Against::history});
  EXPECT_TRUE(a[4].qualifies());
  EXPECT_EQ(b[7].against, std::vector{Against::history});
  EXPECT_TRUE(b[24].qualifies());
}

TEST(SurveyRules, WhatTheWeatherDoesNotTellIsNotJudged) {
  Weather w = two_days();
  w.wind.assign(48, 30.0);
  w.rain.assign(48, 5.0);
  EXPECT_EQ(second_morning(quoted, w), "--------");
  w.wind.clear();
  w.rain.clear();
  w.sun.clear();
  EXPECT_EQ(second_morning(quoted, w), "yyyyyyyy");
  EXPECT_EQ(not_judged(w, survey_rules()[quoted]), (std::vector{Against::sun, Against::wind, Against::rain}));
  EXPECT_EQ(not_judged(two_days(), survey_rules()[by_u]), std::vector{Against::inside_drift});
  EXPECT_TRUE(not_judged(two_days(), survey_rules()[astm]).empty());
}

TEST(SurveyRules, WhatLastsWhileTheWallSettles) {
  Weather w = two_days();
  w.temperature = {0, 2, 5, 3, -1, 25, 28};
  EXPECT_EQ(lasting_difference(w, {20.0, 0.4, 2, false}), (std::vector<double>{0, 0, 15, 15, 15, 0, 0}));
  EXPECT_EQ(lasting_difference(w, {20.0, 0.4, 0, false}), (std::vector<double>{20, 18, 15, 17, 21, -5, -8}));
}

TEST(Mornings, TheHoursThatMostRulesAllow) {
  const auto all = mornings(two_days(), survey_rules(), light);
  ASSERT_EQ(all.size(), 2u);
  EXPECT_EQ(all[0].day, day_13);
  EXPECT_EQ(all[0].rules, (std::vector<std::size_t>{astm, rating}));  // the others look a day back
  EXPECT_EQ(all[0].window.first, 4u);
  EXPECT_EQ(all[0].window.last, 7u);
  EXPECT_EQ(all[1].rules, (std::vector<std::size_t>{astm, quoted, by_u, rating}));
  EXPECT_EQ(all[1].window.first, 24u + 4u);
  EXPECT_EQ(all[1].window.last, 24u + 7u);
  EXPECT_EQ(all[1].window.least, 20.0);
  EXPECT_EQ(all[1].window.lasting, 20.0);
  ASSERT_TRUE(all[1].by_rule[astm].has_value());  // alone, it allows more
  EXPECT_EQ(all[1].by_rule[astm]->first, 24u);
  EXPECT_EQ(all[1].by_rule[astm]->last, 24u + 7u);
  EXPECT_FALSE(all[0].by_rule[quoted].has_value());
  EXPECT_EQ(mornings_under(all, astm), 2u);
  EXPECT_EQ(mornings_under(all, quoted), 1u);
}

TEST(Mornings, OfStretchesThatAsManyRulesAllowTheLongest) {
  Weather w = two_days();
  for (std::size_t h = 24 + 3; h < 24 + 8; ++h) w.wind[h] = 6.0;
  // Until 3:00 all but C, which waits for twelve hours of shade; from 4:00 all but B, which wants less wind.
  const auto all = mornings(w, survey_rules(), light);
  EXPECT_EQ(all[1].rules, (std::vector<std::size_t>{astm, by_u, rating}));
  EXPECT_EQ(all[1].window.first, 24u + 4u);
  EXPECT_EQ(all[1].window.last, 24u + 7u);
}

TEST(Mornings, ASurveyEndsWhereTheAirOutsideHasDrifted) {
  Weather w = two_days();
  for (std::size_t h = 24; h < 48; ++h) w.temperature[h] = -2.0 * static_cast<double>(h - 24);
  const auto all = mornings(w, survey_rules(), light);
  // From 4:00 at -8 degC, 5 K of drift are passed after 6:00 at -12: three hours, of which the first are
  // taken.
  EXPECT_EQ(all[1].rules.size(), 4u);
  EXPECT_EQ(all[1].window.first, 24u + 4u);
  EXPECT_EQ(all[1].window.last, 24u + 6u);
  EXPECT_EQ(all[1].window.least, 28.0);
  EXPECT_EQ(all[1].window.most, 32.0);
  EXPECT_EQ(all[1].window.lasting, 28.0);
}

TEST(Mornings, WithoutSunTheyEndAtEight) {
  Weather w = two_days();
  w.sun.clear();
  const auto all = mornings(w, survey_rules(), light);
  EXPECT_EQ(all[1].window.first, 24u);
  EXPECT_EQ(all[1].window.last, 24u + 7u);
  // Where there is sun all night there is none, and where there is none at all they end at noon.
  w.sun.assign(48, 100.0);
  EXPECT_TRUE(mornings(w, survey_rules(), light).empty());
  w.sun.assign(48, 0.0);
  EXPECT_EQ(mornings(w, survey_rules(), light)[1].window.last, 24u + 11u);
}

TEST(Mornings, SayWhatStandsAgainstThem) {
  Weather w = two_days();
  w.temperature.assign(48, 16.0);
  w.wind.assign(48, 9.0);
  const auto all = mornings(w, survey_rules(), light);
  ASSERT_EQ(all.size(), 2u);
  EXPECT_TRUE(all[1].rules.empty());
  EXPECT_EQ(all[1].against,
            std::vector{Against::difference});  // the rule that is silent on wind comes nearest
}

TEST(Mornings, WhichShowAFault) {
  Weather w = two_days();
  w.temperature.assign(48, 5.0);
  const auto all = mornings(w, survey_rules(), light);
  Visibility v;
  v.showing = Showing::shows;
  v.stands_out = true;
  v.needed = 15.0;
  EXPECT_EQ(mornings_showing(all, v), 2u);
  v.needed = 15.1;
  EXPECT_EQ(mornings_showing(all, v), 0u);
  v.needed = 3.0;
  v.stands_out = false;
  EXPECT_EQ(mornings_showing(all, v), 0u);
  // A fault counts where the whole window shows it, as long as the wall has had to settle: here a warmer hour
  // at 2:00 is felt until 8:00, though the rules take no notice of it.
  v.stands_out = true;
  v.needed = 14.0;
  w.temperature[26] = 8.0;
  EXPECT_EQ(mornings_showing(mornings(w, survey_rules(), light), v), 2u);
  EXPECT_EQ(mornings_showing(mornings(w, survey_rules(), {20.0, 0.4, 6, false}), v), 1u);
}

TEST(Mornings, OfNoWeatherThereAreNone) {
  EXPECT_TRUE(mornings({}, survey_rules(), light).empty());
  Weather afternoon;
  afternoon.start = day_13 * 24 + 13;
  afternoon.temperature.assign(5, 0.0);
  EXPECT_TRUE(mornings(afternoon, survey_rules(), light).empty());
}

}  // namespace
}  // namespace coldbay::survey_rules_test
