// Units as NetCDF files carry them, against UDUNITS-2, the library whose grammar the CF conventions use: what
// it takes the written unit for is what coldbay takes the typed one for.

#include <gtest/gtest.h>
#include <udunits2.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>
#include <tuple>
#include <variant>

#include "tools/input/quantity.hpp"

namespace coldbay::udunits_test {
namespace {

struct Typed {
  const char* unit;
  Quantity quantity;
  const char* si;  ///< what parse_quantity() answers in
};

void PrintTo(const Typed& t, std::ostream* out) { *out << t.unit; }

class UdunitsResults : public testing::Test {
 protected:
  using Unit = std::unique_ptr<ut_unit, decltype(&ut_free)>;
  static ut_system& known() {
    static ut_system* const system = [] {
      ut_set_error_message_handler(ut_ignore);  // of its own table, which says some things twice
      return ut_read_xml(nullptr);
    }();
    return *system;
  }
  static Unit parsed(const std::string& unit) {
    return {ut_parse(&known(), unit.c_str(), UT_UTF8), &ut_free};
  }
};
class Udunits : public UdunitsResults, public testing::WithParamInterface<Typed> {};

TEST_P(Udunits, TakesUnitsForWhatWeTakeThemFor) {
  const Typed& typed = GetParam();
  const Unit written = parsed(udunits_of(typed.unit)), si = parsed(typed.si);
  ASSERT_TRUE(written) << udunits_of(typed.unit);
  ASSERT_TRUE(si);
  const std::unique_ptr<cv_converter, decltype(&cv_free)> convert{ut_get_converter(written.get(), si.get()),
                                                                  &cv_free};
  ASSERT_TRUE(convert);
  for (const double number : {1.0, 20.0, 68.5}) {
    const auto ours =
        parse_quantity(std::to_string(number) + " " + typed.unit, typed.quantity, UnitSystem::metric);
    ASSERT_TRUE(std::holds_alternative<double>(ours)) << std::get<std::string>(ours);
    const double theirs = cv_convert_double(convert.get(), number);
    // Both are exact by definition: a few roundings, those of temperatures in sums of some 500.
    EXPECT_NEAR(std::get<double>(ours), theirs, 1e-12 * std::max(1.0, std::abs(theirs))) << typed.unit;
  }
}

using Q = Quantity;
INSTANTIATE_TEST_SUITE_P(
    All, Udunits,
    testing::Values(
        Typed{"mm", Q::length, "m"}, Typed{"cm", Q::length, "m"}, Typed{"m", Q::length, "m"},
        Typed{"in", Q::length, "m"}, Typed{"inches", Q::length, "m"}, Typed{"\"", Q::length, "m"},
        Typed{"ft", Q::length, "m"}, Typed{"'", Q::length, "m"}, Typed{"°C", Q::temperature, "degC"},
        Typed{"°F", Q::temperature, "degC"}, Typed{"K", Q::temperature, "degC"},
        Typed{"K", Q::temperature_difference, "K"}, Typed{"W/mK", Q::conductivity, "W m-1 K-1"},
        Typed{"mW/(m·K)", Q::conductivity, "W m-1 K-1"},
        Typed{"Btu·in/h·ft²·°F", Q::conductivity, "W m-1 K-1"},
        Typed{"Btu/h·ft·°F", Q::conductivity, "W m-1 K-1"}, Typed{"m2K/W", Q::resistance, "m2 K W-1"},
        Typed{"h·ft2·°F/Btu", Q::resistance, "m2 K W-1"}, Typed{"W/m2K", Q::transmittance, "W m-2 K-1"},
        Typed{"Btu/h·ft2·°F", Q::transmittance, "W m-2 K-1"}, Typed{"W/m", Q::heat_per_length, "W m-1"},
        Typed{"%", Q::fraction, "1"}, Typed{"kg/m3", Q::density, "kg m-3"},
        Typed{"lb/ft3", Q::density, "kg m-3"}, Typed{"pcf", Q::density, "kg m-3"},
        Typed{"J/kgK", Q::specific_heat, "J kg-1 K-1"}, Typed{"kJ/kgK", Q::specific_heat, "J kg-1 K-1"},
        Typed{"Btu/lb·°F", Q::specific_heat, "J kg-1 K-1"},
        Typed{"Pa s/m2", Q::airflow_resistivity, "Pa s m-2"},
        Typed{"kPa s/m2", Q::airflow_resistivity, "Pa s m-2"},
        Typed{"N s/m4", Q::airflow_resistivity, "Pa s m-2"},
        Typed{"kN s/m4", Q::airflow_resistivity, "Pa s m-2"}, Typed{"K day", Q::degree_time, "K s"},
        Typed{"°C days", Q::degree_time, "K s"}, Typed{"°F day", Q::degree_time, "K s"},
        Typed{"°", Q::angle, "radian"}, Typed{"degrees", Q::angle, "radian"},
        Typed{"rad", Q::angle, "radian"}));

TEST(UdunitsOf, LeavesWhatIsNoUnit) {
  EXPECT_EQ(udunits_of(""), "");
  EXPECT_EQ(udunits_of("furlong"), "");
}

// 1 W/m is 1.0400 Btu/h over a foot, 1 W/K 1.8956 Btu/h over 1 degF (International Table).
TEST_F(UdunitsResults, TakesUnitsOfResultsForWhatTheyAre) {
  for (const auto& [ours, si, number] : {std::tuple{"Btu/h·ft", "W m-1", 1.0 / 1.040021},
                                         {"Btu/h·°F", "W K-1", 1.0 / 1.895634},
                                         {"W/K", "W K-1", 1.0}}) {
    const Unit written = parsed(udunits_of(ours)), base = parsed(si);
    ASSERT_TRUE(written) << ours;
    const std::unique_ptr<cv_converter, decltype(&cv_free)> convert{
        ut_get_converter(written.get(), base.get()), &cv_free};
    ASSERT_TRUE(convert) << ours;
    EXPECT_NEAR(cv_convert_double(convert.get(), 1.0), number, 1e-6) << ours;  // seven digits printed
  }
}

}  // namespace
}  // namespace coldbay::udunits_test
