#include <gtest/gtest.h>
#include "tools/input/quantity.hpp"
namespace coldbay::unit_order_test {
namespace {
// Every order in which people write these units, each against the handbooks' figure (half its last digit).
TEST(Quantity, TheOrderOfAUnitDoesNotMatter) {
  const auto si = [](const char* text, Quantity q) {
    return std::get<double>(parse_quantity(text, q, UnitSystem::metric));
  };
  for (const char* text : {"1 Btu/(ft·h·°F)", "1 Btu/(h·ft·°F)"})
    EXPECT_NEAR(si(text, Quantity::conductivity), 12 * 0.144228, 12 * 0.5e-6) << text;
  EXPECT_NEAR(si("1 Btu·in/(ft²·h·°F)", Quantity::conductivity), 0.144228, 0.5e-6);
  for (const char* text : {"1 h·°F·ft²/Btu", "1 °F·ft²·h/Btu", "1 ft²·°F·h/Btu"})
    EXPECT_NEAR(si(text, Quantity::resistance), 0.176110, 0.5e-6) << text;
  EXPECT_NEAR(si("1 Btu/(ft²·°F·h)", Quantity::transmittance) * 0.176110, 1.0, 0.5e-6 / 0.176110);
  EXPECT_DOUBLE_EQ(si("1 W/(m²·°C)", Quantity::transmittance), 1.0);
}
}  // namespace
}  // namespace coldbay::unit_order_test
