#include "tools/input/quantity.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <locale>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

namespace coldbay::quantity_test {
namespace {

using Q = Quantity;
using System = UnitSystem;
using Written = std::vector<const char*>;

/// The reader multiplies once or twice by an exact factor: a few units in the last place.
constexpr double rounding = 1e-14;

double read(const std::string& text, Q quantity, System system = System::metric) {
  const auto value = parse_quantity(text, quantity, system);
  if (const auto* why = std::get_if<std::string>(&value)) {
    ADD_FAILURE() << text << ": " << *why;
    return std::nan("");
  }
  return std::get<double>(value);
}

void expect_all(const Written& all, Q quantity, double si, System system = System::metric) {
  for (const char* text : all)
    EXPECT_NEAR(read(text, quantity, system), si, rounding * std::max(1.0, std::abs(si))) << text;
}

void expect_refused(const Written& all, Q quantity, System system = System::metric) {
  for (const char* text : all) {
    const auto value = parse_quantity(text, quantity, system);
    const auto* why = std::get_if<std::string>(&value);
    ASSERT_TRUE(why) << "'" << text << "' was read as " << std::get<double>(value);
    EXPECT_FALSE(why->empty()) << text;
  }
}

std::string refusal(const char* text, Q quantity) {
  return std::get<std::string>(parse_quantity(text, quantity, System::metric));
}

TEST(Quantity, ReadsMetricLengths) {
  expect_all({"89 mm", "89mm", "8.9 cm", "0.089 m", "89", " 89 mm ", "89.0 MM", "89 mm.", "89\u00a0mm",
              "89\u2009mm", "89\u202fmm", "+89 mm", "8.9e1 mm", "089 mm"},
             Q::length, 0.089);
  expect_all({"1 m 20 cm", "1 m 200 mm", "1.2 m"}, Q::length, 1.2);
}

TEST(Quantity, ReadsInchesAsPeopleWriteThem) {
  // 1 in is 25.4 mm exactly, so three and a half are 88.9.
  expect_all({"3-1/2 in", "3 1/2 in", "3½ in", "3 ½ in", "3.5 in", "3.5\"", "3-1/2\"", "3½″", "3 1/2 inches",
              "3.5 inch", "3-1/2-in", "3 1⁄2 in", "3.5”", "7/2 in", "3-1/2 IN"},
             Q::length, 0.0889);
  expect_all({"1/2 in", "1/2\"", ".5 in", "½ in", "½\"", "0.5\""}, Q::length, 0.0127);
  expect_all({"1/4 in", "¼ in"}, Q::length, 0.25 * 0.0254);
  expect_all({"3/4 in", "¾ in"}, Q::length, 0.75 * 0.0254);
  expect_all({"1/8 in", "⅛ in"}, Q::length, 0.125 * 0.0254);
  expect_all({"3/8 in", "⅜ in"}, Q::length, 0.375 * 0.0254);
  expect_all({"5/8 in", "⅝ in"}, Q::length, 0.625 * 0.0254);
  expect_all({"7/8 in", "⅞ in"}, Q::length, 0.875 * 0.0254);
  expect_all({"97-1/8", "97 1/8", "97⅛", "97.125"}, Q::length, 97.125 * 0.0254, System::inch_pound);
}

TEST(Quantity, ReadsAirflowResistivities) {
  // A newton is a pascal times a square metre.
  expect_all({"5 kPa s/m2", "5 kPa·s/m²", "5000 Pa s/m2", "5000 Pa·s/m2", "5 kN·s/m4", "5000 N s/m4", "5000"},
             Q::airflow_resistivity, 5000.0);
  expect_all({"5000"}, Q::airflow_resistivity, 5000.0, System::inch_pound);
  expect_refused({"5 Pa s/m", "5 kPa", "5 m2K/W", "five"}, Q::airflow_resistivity);
}

TEST(Quantity, ReadsFeetAndInches) {
  expect_all({"8 ft", "8'", "8 feet", "8 foot", "8’", "8′"}, Q::length, 8 * 0.3048);
  expect_all({"8' 1-1/8\"", "8'1-1/8\"", "8'-1 1/8\"", "8′ 1⅛″", "8′1 1/8″", "8 ft 1-1/8 in", "8' 1 1/8 in"},
             Q::length, 97.125 * 0.0254);
  // Whatever the file's units, the bare number behind feet counts inches, as it does when spoken.
  expect_all({"8 ft 1 in", "8 ft 1", "8' 1"}, Q::length, 97 * 0.0254, System::metric);
  expect_all({"8 ft 1 in", "8 ft 1", "8' 1"}, Q::length, 97 * 0.0254, System::inch_pound);
  expect_all({"-1 ft 6 in", "-1' 6\""}, Q::length, -18 * 0.0254);  // not six inches the other way
}

TEST(Quantity, ReadsTemperaturesAndTheirDifferences) {
  expect_all({"-5 °C", "−5 °C", "–5 °C", "- 5 °C", "-5 degC", "-5 C", "-5C", "-5 deg C", "-5 ℃", "-5 celsius",
              "-5 degrees Celsius", "-5", "-5.0 ºC", "268.15 K", "23 °F", "23 F", "23 ℉", "23 degF",
              "23 Fahrenheit"},
             Q::temperature, -5.0);
  EXPECT_NEAR(read("-5", Q::temperature, System::inch_pound), (-5.0 - 32.0) / 1.8, rounding * 32.0);

  // The same words are two things: 18 °F apart are 10 K, 18 °F on a thermometer are 7.78 °C below freezing.
  expect_all({"18 °F", "10 K", "10 °C", "10", "10 kelvin"}, Q::temperature_difference, 10.0);
  expect_all({"18"}, Q::temperature_difference, 10.0, System::inch_pound);
  EXPECT_NEAR(read("18 °F", Q::temperature), -7.78, 0.005);
}

TEST(Quantity, ReadsConductivities) {
  expect_all(
      {"0.035 W/mK", "0.035 W/(m·K)", "0.035 W/(m K)", "0.035 W/m-K", "0.035 W/m*K", "0.035 W/m.K",
       "0.035 W/m⋅K", "0.035 W/m/K", "0.035 W m-1 K-1", "0.035 W/(m·°C)", "35 mW/mK", "0.035", "3.5e-2 W/mK"},
      Q::conductivity, 0.035);
  for (const char* text :
       {"1 Btu·in/(h·ft²·°F)", "1 Btu·in/h·ft2·°F", "1 Btu-in/hr-ft2-F", "1 BTU in/h ft² °F",
        "1 Btu·in/(hr·ft^2·°F)", "1 Btu·in/(ft2·h·°F)", "1 Btu in/h sq ft F"})
    // 0.144228 is the handbooks' figure: half of its last digit.
    EXPECT_NEAR(read(text, Q::conductivity), 0.144228, 0.5e-6) << text;
  EXPECT_DOUBLE_EQ(read("1", Q::conductivity, System::inch_pound),
                   read("1 Btu·in/(h·ft²·°F)", Q::conductivity));
  for (const char* text : {"1 Btu/(h·ft·°F)", "1 Btu/hr-ft-F"})
    EXPECT_NEAR(read(text, Q::conductivity), 12 * 0.144228, 12 * 0.5e-6) << text;
}

TEST(Quantity, ReadsResistancesAndTransmittances) {
  expect_all({"2.3 m2K/W", "2.3 m²K/W", "2.3 m²·K/W", "2.3 m2-K/W", "2.3 m^2 K/W", "2.3 (m²·K)/W",
              "2.3 K m²/W", "2.3 m²·°C/W", "2.3"},
             Q::resistance, 2.3);
  for (const char* text : {"1 h·ft2·°F/Btu", "1 hr-ft2-F/Btu", "1 h ft² °F/Btu", "1 h·ft²·°F/BTU",
                           "1 ft²·°F·h/Btu", "1 ft2-hr-F/Btu", "1 hr sq ft F/Btu", "1 hour·ft2·degF/Btu",
                           "1 °F·ft²·h/Btu", "R-1", "R1", "R 1", "r-1", "R‑1"})
    // 0.176110 is the handbooks' figure: half of its last digit.
    EXPECT_NEAR(read(text, Q::resistance), 0.176110, 0.5e-6) << text;
  EXPECT_DOUBLE_EQ(read("R-13", Q::resistance), read("13", Q::resistance, System::inch_pound));
  EXPECT_DOUBLE_EQ(read("R-13", Q::resistance, System::metric),
                   read("R-13", Q::resistance, System::inch_pound));

  expect_all({"0.27 W/m2K", "0.27 W/(m²·K)", "0.27 W/m²K", "0.27 W/m²/K", "0.27 W/m2-K", "0.27 W m-2 K-1"},
             Q::transmittance, 0.27);
  for (const char* text : {"1 Btu/h·ft2·°F", "1 Btu/(hr·ft²·°F)", "1 Btu/hr-ft2-F", "1 Btu/(ft²·h·°F)"})
    EXPECT_NEAR(read(text, Q::transmittance) * 0.176110, 1.0, 0.5e-6 / 0.176110) << text;
  expect_all({"9.5 W/m", "9.5"}, Q::heat_per_length, 9.5);
}

TEST(Quantity, ReadsSharesAndSaysWhenPercentIsMeant) {
  expect_all({"35 %", "35%", "35 percent", "0.35", ".35"}, Q::fraction, 0.35);
  EXPECT_NE(refusal("35", Q::fraction).find("is '35 %' meant?"), std::string::npos);
}

TEST(Quantity, ReadsAngles) {
  expect_all({"45°", "45 °", "45 deg", "45 degrees", "45", "45º", "45.0°"}, Q::angle, std::numbers::pi / 4.0);
  expect_all({"45"}, Q::angle, std::numbers::pi / 4.0, System::inch_pound);
  expect_all({"0.8 rad", "0.8 radians"}, Q::angle, 0.8);
  expect_refused({"45 mm", "45 °C", "45 %", "45° 30", "nan"}, Q::angle);
  EXPECT_EQ(refusal("45 °C", Q::angle), "'45 °C' is not an angle such as 45° or 0.8 rad");
}

TEST(Quantity, FactorsFollowTheirExactDefinitions) {
  EXPECT_EQ(read("1 in", Q::length), 0.0254);
  EXPECT_EQ(read("1 ft", Q::length), 0.3048);
  // International Table Btu, 1055.05585262 J; a foot of 0.3048 m; 5/9 K: all exact.
  const double u = 1055.05585262 / (3600.0 * 0.3048 * 0.3048 * 5.0 / 9.0);
  EXPECT_NEAR(read("1 Btu/h·ft2·°F", Q::transmittance), u, rounding * u);
  EXPECT_NEAR(read("R-1", Q::resistance), 1.0 / u, rounding);
  EXPECT_NEAR(read("1 Btu·in/h·ft2·°F", Q::conductivity), u * 0.0254, rounding);
}

TEST(Quantity, DigitsAreDecimalOnly) {
  EXPECT_EQ(read("010", Q::length), 0.010);  // ten, not eight
  EXPECT_EQ(read("016 in", Q::length), 16 * 0.0254);
  expect_refused({"0x10", "0x10 mm", "0b1", "0o17", "1_000 mm", "nan", "NaN", ".nan", "nan mm", "inf", "-inf",
                  ".inf", "infinity", "1e999", "1e999 mm", "-1e999", "1e308 m 1e400 mm"},
                 Q::length);
  expect_refused({"nan °C", "inf", "-.inf"}, Q::temperature);
  expect_refused({"R-nan", "R-inf", "R--13", "R-", "R", "R-13 K", "RR-13", "R-1e999"}, Q::resistance);
}

TEST(Quantity, RefusesWhatItDoesNotUnderstandWhole) {
  expect_refused(
      {"",       " ",  "mm",     "-",          "--5 mm", "abc",  "5 mm x", "5 mm,", "5 furlongs", "5 6 mm",
       "1/0 in", "1/", "5 mm)7", "3 - 1/2 in", "5 -",    "5 ()", "5 ?",    "½½ in", "12.5.1 mm",  "5 mm\n6"},
      Q::length);
  // One of the parts would be lost or counted twice.
  expect_refused({"500 mm 3 mm", "500 mm 3", "2 m 5", "1 in 3 ft", "0 mm 12.5 mm", "8 ft -1 in"}, Q::length);
  expect_refused({"20 °", "20 deg", "20 °C 5 °C", "20 °C 5", "20 mm"}, Q::temperature);
}

TEST(Quantity, RefusesTheWrongKind) {
  expect_refused({"5 °C", "5 K", "5 W/mK", "5 %", "R-5"}, Q::length);
  expect_refused({"5 mm", "5 %", "R-5"}, Q::temperature);
  expect_refused({"5 mm", "2.3 m2K/W", "0.3 W/m2K", "R-13", "9 W/m"}, Q::conductivity);
  expect_refused({"5 mm", "0.035 W/mK", "0.3 W/m2K", "5 %"}, Q::resistance);
  expect_refused({"0.035 W/mK", "2.3 m2K/W"}, Q::transmittance);
  expect_refused({"5 mm", "35 °C"}, Q::fraction);
  EXPECT_EQ(refusal("5 °C", Q::length), "'5 °C' is not a length such as 89 mm or 3-1/2 in");
  EXPECT_EQ(refusal("5 furlongs", Q::length),
            "the unit 'furlongs' is not known: write a length such as 89 mm or 3-1/2 in");
}

TEST(Quantity, AsksForAPointWhereACommaStands) {
  expect_refused({"12,5 mm", "12,5", "1,200 mm", "0,035"}, Q::length);
  EXPECT_EQ(refusal("0,035 W/mK", Q::conductivity), "'0,035 W/mK': write the decimals after a point");
}

/// As in much of Europe: 1.234,5. Made here, so that no locale need be installed.
struct CommaDecimals : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST(Quantity, TheLocaleChangesNothing) {
  const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaDecimals));
  ASSERT_EQ(std::use_facet<std::numpunct<char>>(std::locale()).decimal_point(), ',');
  EXPECT_EQ(read("0.035", Q::conductivity), 0.035);
  EXPECT_EQ(read("1234.5 mm", Q::length), 1.2345);
  expect_refused({"0,035"}, Q::conductivity);
  EXPECT_EQ(refusal("1234.5 kg", Q::length),
            "the unit 'kg' is not known: write a length such as 89 mm or 3-1/2 in");
  std::locale::global(before);
}

TEST(Quantity, TellsWordsFromTheNumberBehindThem) {
  const auto expect_split = [](const char* text, const char* words, const char* number) {
    const WordsAndNumber parts = split_number(text);
    EXPECT_EQ(parts.words, words) << text;
    EXPECT_EQ(parts.number, number) << text;
  };
  expect_split("gypsum board 1/2 in", "gypsum board", "1/2 in");
  expect_split("gypsum board ½ in", "gypsum board", "½ in");
  expect_split("osb 7/16 in", "osb", "7/16 in");
  expect_split("softwood 1-1/2", "softwood", "1-1/2");
  expect_split("board 2 of 3 12.5 mm", "board 2 of 3", "12.5 mm");
  expect_split("concrete 8 ft 1 in", "concrete", "8 ft 1 in");
  expect_split("lap siding", "lap siding", "");
  expect_split("batt R-13", "batt R-13", "");
  expect_split("", "", "");
}

TEST(Quantity, ALongTextIsSplitWithoutTryingEveryPlaceInIt) {
  std::string text;
  for (int i = 0; i < 1'000'000; ++i)
    text += "1 ";  // minutes, if every place were tried: the test would time out
  EXPECT_LE(split_number(text).number.size(), 100u);
}

TEST(Quantity, ALongTextIsNoNumberAndIsNotRepeatedInFull) {
  for (const char* part : {"½", "x", "1 ", "-"}) {
    std::string text = "5 ";
    for (int i = 0; i < 10'000; ++i) text += part;
    const auto value = parse_quantity(text, Q::length, System::metric);
    ASSERT_TRUE(std::holds_alternative<std::string>(value)) << part;
    EXPECT_LT(std::get<std::string>(value).size(), 200u) << part;
  }
}

TEST(Quantity, KnowsTheUnitBehindANumber) {
  EXPECT_EQ(unit_of("3-1/2 in"), "in");
  EXPECT_EQ(unit_of("3½ in"), "in");
  EXPECT_EQ(unit_of("3½"), "");
  EXPECT_EQ(unit_of("140mm"), "mm");
  EXPECT_EQ(unit_of("softwood"), "");
}

}  // namespace
}  // namespace coldbay::quantity_test
