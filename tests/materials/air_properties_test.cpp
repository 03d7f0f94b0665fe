#include "materials/air_properties.hpp"

#include <gtest/gtest.h>

#include "materials/model_error.hpp"

namespace coldbay::air_properties_test {
namespace {

// [Incropera2007], table A.4; from memory. Its densities are those at 1 bar. The formulas come from
// elsewhere; Sutherland's, with constants for a wide range, are good to 1 % here.
TEST(AirProperties, AreThoseOfAHandbook) {
  const struct {
    double kelvin, density, viscosity, conductivity, specific_heat;
  } rows[] = {{250, 1.3947, 159.6e-7, 22.3e-3, 1006}, {300, 1.1614, 184.6e-7, 26.3e-3, 1007}};
  for (const auto& row : rows) {
    const AirProperties air = dry_air(row.kelvin - 273.15);
    EXPECT_NEAR(air.density / (1.01325 * row.density), 1.0, 0.01) << row.kelvin;
    EXPECT_NEAR(air.viscosity / row.viscosity, 1.0, 0.01) << row.kelvin;
    EXPECT_NEAR(air.conductivity / row.conductivity, 1.0, 0.01) << row.kelvin;
    EXPECT_NEAR(air.specific_heat / row.specific_heat, 1.0, 0.01) << row.kelvin;
    EXPECT_NEAR(air.expansion * row.kelvin, 1.0, 1e-12) << row.kelvin;
  }
}

// The value of the standard lies between those at 0 and 20 degC, or a loop would not stand still where its
// air does.
TEST(AirProperties, TheStandardsStillAirIsThatOfAMildWinter) {
  EXPECT_LT(dry_air(0.0).conductivity, still_air_conductivity);
  EXPECT_GT(dry_air(20.0).conductivity, still_air_conductivity);
}

// An own earlier calculation, printed to two digits: half the last one. The table there is for about 10 degC.
TEST(AirProperties, ResistivityIsPermeability) {
  const struct {
    double resistivity, permeability;
  } rows[] = {{5e3, 3.5e-9}, {7e3, 2.5e-9}, {10e3, 1.8e-9}, {20e3, 8.8e-10}, {50e3, 3.5e-10}};
  for (const auto& row : rows)
    EXPECT_NEAR(permeability(row.resistivity, dry_air(10.0)) / row.permeability, 1.0, 0.03)
        << row.resistivity;
  EXPECT_THROW(permeability(0.0, dry_air(10.0)), ModelError);
  EXPECT_THROW(permeability(-5e3, dry_air(10.0)), ModelError);
  EXPECT_THROW(dry_air(-300.0), ModelError);
}

}  // namespace
}  // namespace coldbay::air_properties_test
