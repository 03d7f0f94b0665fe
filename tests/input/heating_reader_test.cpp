#include "tools/input/heating_reader.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include "tools/input/case.hpp"

namespace coldbay::heating_reader_test {
namespace {

Case with_heating(const std::string& heating) {
  return read_case(SourceText{
      "season.yaml",
      "units: inch-pound\nair: {inside: {temperature: 70 °F}, outside: {temperature: 20 °F}}\n"
      "section: {width: 100 mm, depth: 100 mm, shapes: [{material: softwood, across: [0 mm, 100 mm], depth: "
      "[0 mm, 100 mm]}]}\nheating: " +
          heating + "\n"});
}

std::string wrong_with(const std::string& heating) {
  try {
    with_heating(heating);
  } catch (const InputErrors& e) {
    return e.errors().front().title;
  }
  return {};
}

constexpr double rounding = 1e-12;  // one division and one product

TEST(Heating, IsReadInTheUnitsPeopleBuyBy) {
  const Case c = with_heating("{degree days: 5400 °F day, price: $1.30/therm, efficiency: 90 %}");
  ASSERT_TRUE(c.heating && c.heating->price);
  EXPECT_NEAR(c.heating->degree_seconds / (3000.0 * 86400.0), 1.0, rounding);  // 5400 / 1.8
  // 1 therm = 100,000 Btu of the International Table, 105.505585262 MJ (Btu from memory).
  EXPECT_NEAR(c.heating->price->per_joule * 105.505585262e6, 1.30, rounding);
  EXPECT_EQ(c.heating->price->currency, "$");
  EXPECT_TRUE(c.heating->price->currency_first);
  EXPECT_DOUBLE_EQ(c.heating->efficiency.value(), 0.9);

  const Case pump = with_heating("{degree days: 5400, price: 0.30 EUR per kWh, efficiency: 300 %}");
  EXPECT_EQ(pump.heating->degree_days, "5400 °F day");
  EXPECT_NEAR(pump.heating->price->per_joule * 3.6e6, 0.30, rounding);
  EXPECT_FALSE(pump.heating->price->currency_first);
  EXPECT_DOUBLE_EQ(pump.heating->efficiency.value(), 3.0);
  EXPECT_FALSE(with_heating("{degree days: 3000 K day}").heating->price);
}

TEST(Heating, WhatIsWrongIsSaid) {
  EXPECT_EQ(wrong_with("{price: $0.14/kWh}"), "a heating season needs 'degree days'");
  EXPECT_EQ(wrong_with("{degree days: 0 K day}"), "'0 K day' is out of range");
  EXPECT_EQ(wrong_with("{degree days: 3000 K}"),
            "'3000 K' is not degree days such as 2800 K day or 5000 °F day");
  EXPECT_EQ(wrong_with("{degree days: 3000 K day, efficiency: 0}"),
            "heating makes 10 % to 1000 % of what it takes");
  EXPECT_EQ(wrong_with("{degree days: 3000 K day, efficiency: good}"),
            "heating makes 10 % to 1000 % of what it takes");
  for (const char* price :
       {"0.14", "$/kWh", "0.14/kWh", "$0.1.4/kWh", "-0.14 $/kWh", "$0.14 EUR/kWh", "1e999 $/kWh"})
    EXPECT_EQ(wrong_with(std::string("{degree days: 3000 K day, price: ") + price + "}"),
              fmt::format("'{}' is not a price such as $0.14/kWh or 0.30 EUR/kWh", price))
        << price;
  EXPECT_EQ(wrong_with("{degree days: 3000 K day, price: $0.14/cord}"),
            "the unit 'cord' of energy is not known: write kWh, MWh, MJ, GJ, therm, kBtu or MMBtu");
  EXPECT_EQ(wrong_with("{degree days: 3000 K day, price: '0,14 EUR/kWh'}"),
            "'0,14 EUR/kWh': write the decimals after a point");
}

}  // namespace
}  // namespace coldbay::heating_reader_test
