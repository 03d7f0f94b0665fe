#include "tools/input/weather_reader.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <chrono>
#include <clocale>
#include <fstream>
#include <iterator>
#include <string>

#include "solver/results/mornings.hpp"
#include "tools/input/hour_stamp.hpp"

namespace coldbay::weather_reader_test {
namespace {

WeatherFile read(const std::string& text) { return read_weather({"w.csv", text}); }

std::vector<InputError> errors_of(const std::string& text) {
  try {
    read(text);
  } catch (const InputErrors& e) {
    return e.errors();
  }
  ADD_FAILURE() << "read without an error: " << text.substr(0, 200);
  return {{}};
}

/// Everything that is said of a file, as a person sees it.
std::string told(const std::string& text) {
  std::string all;
  for (const InputError& e : errors_of(text)) all += render(e, {"w.csv", text});
  return all;
}

void expect_error(const std::string& text, int line, int column, const std::string& title) {
  const InputError e = errors_of(text).front();
  EXPECT_EQ(e.where.line, line) << e.title;
  EXPECT_EQ(e.where.column, column) << e.title;
  EXPECT_EQ(e.title, title);
}

const std::string two_columns = "time,temperature [°C]\n";

// 2026-01-14 is 20467 days after 1970-01-01: 56 years of 365 days, 14 leap days, 13 days of January.
constexpr std::int64_t day_14 = 56 * 365 + 14 + 13;

TEST(WeatherReader, AllColumns) {
  const WeatherFile f = read(
      "time,temperature [°C],wind [m/s],sun [W/m2],rain [mm]\n"
      "2026-01-14T05:00,-3.5,1.2,0,0\n"
      "2026-01-14T06:00,-4,2,12.5,0.2\n");
  EXPECT_EQ(f.weather.start, day_14 * 24 + 5);
  EXPECT_EQ(f.weather.temperature, (std::vector<double>{-3.5, -4.0}));
  EXPECT_EQ(f.weather.wind, (std::vector<double>{1.2, 2.0}));
  EXPECT_EQ(f.weather.sun, (std::vector<double>{0.0, 12.5}));
  EXPECT_EQ(f.weather.rain, (std::vector<double>{0.0, 0.2}));
  EXPECT_TRUE(f.notes.empty());
}

TEST(WeatherReader, UnitsAndWordsAreForgiving) {
  // 5 °F = -15 °C, 10 mph = 4.4704 m/s, 0.1 in = 2.54 mm: by definition.
  const WeatherFile f = read(
      "Rain (in);WIND_SPEED [mph];Outside Temperature (°F);Local time;Sun (W/m²)\n"
      "0.1;10;5;2026-01-14 05:00;-3\n");
  EXPECT_NEAR(f.weather.temperature.at(0), -15.0, 1e-12);
  EXPECT_NEAR(f.weather.wind.at(0), 4.4704, 1e-12);
  EXPECT_NEAR(f.weather.rain.at(0), 2.54, 1e-12);
  EXPECT_EQ(f.weather.sun.at(0), 0.0);  // what a gauge reads at night
  EXPECT_NEAR(read("time,temperature_C,wind km/h\n2026-01-14T05:00:00,1,36\n").weather.wind.at(0), 10.0,
              1e-12);
}

TEST(WeatherReader, SeparatorsMarksEndsAndQuotes) {
  const std::vector<double> wanted{-3.5, 4.25};
  for (const std::string text :
       {"time,temperature [°C]\n2026-01-14T05:00,-3.5\n2026-01-14T06:00,+4.25",
        "\uFEFFtime;temperature [°C]\r\n2026-01-14T05:00;-3,5\r\n2026-01-14T06:00;4,25\r\n",
        "time\ttemperature [°C]\n2026-01-14T05:00\t−3,5\n2026-01-14T06:00\t4,25\n",
        "\"time\";\"temperature [°C]\"\n\"2026-01-14T05:00\"; \"-3.5\" \n2026-01-14T06:00; 4.25 \n",
        "time,\"temperature [°C]\"\n\n2026-01-14T05:00,-3.5,\n  \n2026-01-14T06:00,4.25,,\n,\n,,\n"})
    EXPECT_EQ(read(text).weather.temperature, wanted) << text;
}

TEST(WeatherReader, IsIndependentOfTheLocale) {
  // Where a locale with a decimal comma is there, it must not matter; without one this only says that it is
  // not.
  const std::string before = std::setlocale(LC_ALL, nullptr);
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8"})
    if (std::setlocale(LC_ALL, name)) break;
  EXPECT_EQ(read(two_columns + "2026-01-14T05:00,-3.5\n").weather.temperature.at(0), -3.5);
  std::setlocale(LC_ALL, before.c_str());
}

TEST(WeatherReader, TellsOfColumnsThatItDoesNotUse) {
  const std::string text = "time,temperature [°C],wnd [m/s],humidity [%]\n2026-01-14T05:00,1,2,3\n";
  const WeatherFile f = read(text);
  ASSERT_EQ(f.notes.size(), 2u);
  EXPECT_TRUE(f.weather.wind.empty());
  EXPECT_EQ(render(f.notes[0], {"w.csv", text}, "warning"),
            "w.csv:1:23: warning: the column 'wnd [m/s]' is not used\n"
            "    1 | time,temperature [°C],wnd [m/s],humidity [%]\n"
            "      |                       ^^^^^^^^^\n"
            " hint: did you mean 'wind'?\n");
  EXPECT_EQ(f.notes[1].hint, "");
}

TEST(WeatherReader, FilesThatAreNone) {
  EXPECT_EQ(told(""), "w.csv: error: this file is empty\n hint: see cases/weather-example.csv\n");
  EXPECT_EQ(errors_of("\uFEFF\r\n , \n").front().title, "this file is empty");
  EXPECT_EQ(errors_of(two_columns).front().title, "this file has a header, and no hour below it");
  EXPECT_EQ(errors_of("\xFF\xFEt\0i\0").front().title, "this file is UTF-16, not UTF-8");
  // The degree sign of a file in Latin-1.
  EXPECT_EQ(told("time,temperature [\xB0"
                 "C]\n2026-01-14T05:00,1\n"),
            "w.csv:1:19: error: this is not UTF-8\n"
            "    1 | time,temperature [?C]\n"
            "      |                   ^\n"
            " hint: save the file as UTF-8, or write the degree sign of °C away: C\n");
}

TEST(WeatherReader, Headers) {
  expect_error("2026-01-14T05:00,-3.5\n", 1, 1, "this file has no header: its first line is an hour already");
  expect_error("time,wind [m/s]\n2026-01-14T05:00,3\n", 1, 1, "no column holds a temperature");
  expect_error("temperature [°C]\n3\n", 1, 1, "no column holds a time");
  expect_error("time,temperature\n2026-01-14T05:00,3\n", 1, 6, "'temperature' does not say its unit");
  expect_error("time,temperature [K]\n2026-01-14T05:00,3\n", 1, 6, "'K' is not a unit of temperature");
  expect_error("time,temperature [°C],wind [Bft]\n2026-01-14T05:00,3,2\n", 1, 23,
               "'Bft' is not a unit of wind");
  expect_error("time,temperature [°C],air temperature [°C]\n2026-01-14T05:00,3,3\n", 1, 23,
               "this is the second column with a temperature");
  expect_error("time,\"temperature [°C]\n2026-01-14T05:00,3\n", 1, 6, "this quote is not closed on its line");
  // Separated both ways: what the semicolon leaves is no column of ours.
  const InputError mixed = errors_of("time;temperature [°C],wind [m/s]\n2026-01-14T05:00;3\n").front();
  EXPECT_EQ(mixed.title, "no column holds a temperature");
  EXPECT_EQ(mixed.hint,
            "a column 'temperature [°C]' is needed; the fields of this header are separated by semicolons");
}

TEST(WeatherReader, EveryErrorOfAFileAtOnce) {
  EXPECT_EQ(told("time,temperature [°C],wind [mph]\n"
                 "2026-01-14T05:00,warm,3\n"
                 "2026-01-14T06:00,NaN,300\n"
                 "2026-01-14T07:00,-999,\n"
                 "2026-01-14T08:30,1,2\n"
                 "2026-01-14T09:00,1\n"),
            "w.csv:2:18: error: 'warm' is not a number\n"
            "    2 | 2026-01-14T05:00,warm,3\n"
            "      |                  ^^^^\n"
            " hint: write a temperature as digits, such as -3.5; its unit stands in the header\n"
            "w.csv:3:18: error: 'NaN' is not a number\n"
            "    3 | 2026-01-14T06:00,NaN,300\n"
            "      |                  ^^^\n"
            " hint: write a temperature as digits, such as -3.5; its unit stands in the header\n"
            "w.csv:3:22: error: a wind of 300 mph cannot be: it lies between 0 and 268\n"
            "    3 | 2026-01-14T06:00,NaN,300\n"
            "      |                      ^^^\n"
            " hint: is it a mark for a missing value, or is the unit in the header another one?\n"
            "w.csv:4:18: error: a temperature of -999 °C cannot be: it lies between -80 and 60\n"
            "    4 | 2026-01-14T07:00,-999,\n"
            "      |                  ^^^^\n"
            " hint: is it a mark for a missing value, or is the unit in the header another one?\n"
            "w.csv:4:23: error: this hour has no wind\n"
            "    4 | 2026-01-14T07:00,-999,\n"
            "      |                       ^\n"
            " hint: no weather is guessed: fill it from the hours beside, or from another station\n"
            "w.csv:5:1: error: '2026-01-14T08:30' is not on the hour\n"
            "    5 | 2026-01-14T08:30,1,2\n"
            "      | ^^^^^^^^^^^^^^^^\n"
            " hint: give one line for each hour, as 05:00\n"
            "w.csv:6:1: error: 2 fields where the header names 3\n"
            "    6 | 2026-01-14T09:00,1\n"
            "      | ^^^^^^^^^^^^^^^^^^\n"
            " hint: a field that is empty still needs its separator\n");
}

TEST(WeatherReader, HoursMissingTwiceAndOutOfOrder) {
  EXPECT_EQ(told(two_columns + "2026-03-29T01:00,1\n"
                               "2026-03-29T03:00,1\n"
                               "2026-03-29T07:00,1\n"
                               "2026-03-29T05:00,1\n"
                               "2026-03-29T03:00,1\n"),
            "w.csv:3:1: error: one hour is missing before this one: 2026-03-29 02:00\n"
            "    3 | 2026-03-29T03:00,1\n"
            "      | ^^^^^^^^^^^^^^^^\n"
            " hint: a line is needed for every hour; where clocks go forward one is left out: keep to "
            "standard time "
            "all through the file\n"
            "w.csv:4:1: error: 3 hours are missing before this one: 2026-03-29 04:00 to 2026-03-29 06:00\n"
            "    4 | 2026-03-29T07:00,1\n"
            "      | ^^^^^^^^^^^^^^^^\n"
            " hint: a line is needed for every hour; where clocks go forward one is left out: keep to "
            "standard time "
            "all through the file\n"
            "w.csv:5:1: error: 2026-03-29 05:00 comes after 2026-03-29 07:00\n"
            "    5 | 2026-03-29T05:00,1\n"
            "      | ^^^^^^^^^^^^^^^^\n"
            " hint: sort the lines by time\n"
            "w.csv:6:1: error: 2026-03-29 03:00 is already given on line 3\n"
            "    6 | 2026-03-29T03:00,1\n"
            "      | ^^^^^^^^^^^^^^^^\n"
            " hint: where clocks go back an hour comes twice: keep to standard time all through the file\n");
}

TEST(WeatherReader, TwoLinesInTheWrongOrderAreNoMoreThanThat) {
  const auto errors = errors_of(
      two_columns + "2026-01-14T05:00,1\n2026-01-14T07:00,1\n2026-01-14T06:00,1\n2026-01-14T08:00,1\n");
  ASSERT_EQ(errors.size(), 2u);  // 6:00 is missing, and comes late; nothing is wrong with 8:00
  EXPECT_EQ(errors[0].title, "one hour is missing before this one: 2026-01-14 06:00");
  EXPECT_EQ(errors[1].title, "2026-01-14 06:00 comes after 2026-01-14 07:00");
  // A year mistyped: told without looking at millions of hours.
  EXPECT_EQ(errors_of(two_columns + "2026-01-14T05:00,1\n9026-01-14T06:00,1\n").size(), 1u);
}

TEST(WeatherReader, OneErrorIsToldOnce) {
  // A time that cannot be read leaves no hole behind it.
  EXPECT_EQ(errors_of(two_columns + "2026-01-14T05:00,1\nsix,1\n2026-01-14T07:00,1\n").size(), 1u);
}

TEST(WeatherReader, Times) {
  const auto title = [](const std::string& time) {
    return errors_of(fmt::format("{}{},1\n", two_columns, time)).front().title;
  };
  EXPECT_EQ(title("14.01.2026 05:00"), "'14.01.2026 05:00' is not a time");
  EXPECT_EQ(title("2026-01-14"), "'2026-01-14' is not a time");
  EXPECT_EQ(title("2026-1-14T05:00"), "'2026-1-14T05:00' is not a time");
  EXPECT_EQ(title(""), "'' is not a time");
  EXPECT_EQ(title("2026-02-29T05:00"), "there is no such time as '2026-02-29T05:00'");
  EXPECT_EQ(title("2026-01-14T24:00"), "there is no such time as '2026-01-14T24:00'");
  EXPECT_EQ(title("2026-01-14T05:00Z"), "'2026-01-14T05:00Z' has an offset from universal time");
  EXPECT_EQ(title("2026-01-14T05:00+01:00"), "'2026-01-14T05:00+01:00' has an offset from universal time");
  EXPECT_EQ(read(two_columns + "2024-02-29T05:00,1\n").weather.hours(), 1u);  // a leap year
  for (const std::int64_t hour : {std::int64_t{0}, day_14 * 24 + 23, std::int64_t{-1}, std::int64_t{-25}}) {
    const auto back = parse_hour(hour_text(hour));
    EXPECT_EQ(std::get<std::int64_t>(back), hour) << hour_text(hour);
  }
}

TEST(WeatherReader, NumbersThatAreNone) {
  for (const char* number :
       {"nan", "inf", "-inf", "1e999", "0x10", "--1", "+-1", "1.2.3", "1 2", "-", "°", "1e5x"})
    EXPECT_EQ(errors_of(fmt::format("{}2026-01-14T05:00,{}\n", two_columns, number)).front().title,
              fmt::format("'{}' is not a number", number));
  EXPECT_EQ(errors_of("time;temperature [°C]\n2026-01-14T05:00;1.013,5\n").front().title,
            "'1.013,5' is not a number");
}

TEST(WeatherReader, CommasInNumbers) {
  // A comma for a decimal point in a file separated by commas makes one field more.
  const InputError unquoted = errors_of(two_columns + "2026-01-14T05:00,-3,5\n").front();
  EXPECT_EQ(unquoted.title, "3 fields where the header names 2");
  EXPECT_EQ(unquoted.hint, "decimals after a comma need semicolons or tabs between the fields");
  // In quotes it might as well stand between thousands.
  EXPECT_EQ(errors_of(two_columns + "2026-01-14T05:00,\"-3,5\"\n").front().title, "'-3,5' has a comma");
  const InputError both =
      errors_of("time;temperature [°C]\n2026-01-14T05:00;3,5\n2026-01-14T06:00;3.5\n").front();
  EXPECT_EQ(both.title, "decimals stand after a point here, after a comma on line 2");
  EXPECT_EQ(both.where.line, 3);
}

TEST(WeatherReader, MixedSeparators) {
  expect_error(two_columns + "2026-01-14T05:00;-3,5\n", 2, 1,
               "this line is not separated by commas alone, as the header is");
  expect_error("time;temperature [°C]\n2026-01-14T05:00,3\n", 2, 1,
               "this line is not separated by semicolons alone, as the header is");
  expect_error("time;temperature [°C]\n2026-01-14T05:00\t3\n", 2, 1,
               "this line is not separated by semicolons alone, as the header is");
  expect_error(two_columns + "2026-01-14T05:00,\"3\" 4\n", 2, 22,
               "text stands between a closed quote and the end of its field");
}

TEST(WeatherReader, ColumnsCountCharacters) {
  expect_error("time,temperature [°C],site,wind [m/s]\n2026-01-14T05:00,1,größer,x\n", 2, 27,
               "'x' is not a number");
}

TEST(WeatherReader, StopsAtAHundred) {
  std::string text = two_columns;
  for (int i = 0; i < 8760; ++i) text += "no time,1\n";
  EXPECT_EQ(errors_of(text).size(), most_errors);
}

TEST(WeatherReader, AYearIsReadInTime) {
  std::string text = "time,temperature [°C],wind [m/s],sun [W/m2],rain [mm]\n";
  for (std::int64_t i = 0; i < 8760; ++i)
    text += fmt::format("{},{:.1f},{:.1f},{},0\n", hour_text(day_14 * 24 + i),
                        10.0 - 0.001 * static_cast<double>(i), 3.5, i % 24 * 10);
  const auto begin = std::chrono::steady_clock::now();
  EXPECT_EQ(read(text).weather.hours(), 8760u);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
  // 4 ms; ten times that on a busy machine, with room for sanitizers.
  EXPECT_LT(took.count(), 0.5);
  RecordProperty("milliseconds", static_cast<int>(1e3 * took.count()));
}

TEST(WeatherReader, TheExampleHasGoodMorningsAndBadOnes) {
  std::ifstream in(std::string(COLDBAY_CASES) + "/weather-example.csv", std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  const WeatherFile f = read(text);
  EXPECT_TRUE(f.notes.empty());
  ASSERT_EQ(f.weather.hours(), 14u * 24u);
  const auto all = mornings(f.weather, survey_rules(), {20.0, 0.45, 5, false});
  EXPECT_EQ(all.size(), 14u);
  for (std::size_t rule = 0; rule < survey_rules().size(); ++rule) {
    EXPECT_GT(mornings_under(all, rule), 1u) << survey_rules()[rule].name;
    EXPECT_LT(mornings_under(all, rule), 14u) << survey_rules()[rule].name;
  }
}

}  // namespace
}  // namespace coldbay::weather_reader_test
