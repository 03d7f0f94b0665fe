#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "solver/forecast.hpp"
#include "tests/support/pipes.hpp"
#include "tools/input/case.hpp"
#include "tools/report/result_json.hpp"
#include "tools/report/summary.hpp"

// What is said of a strip that is held across a slab, by hand: (T - 20)/(0.13 + 0.4) + T/(0.04 + 0.5) watts.

namespace coldbay::held_report_test {
namespace {

struct Told {
  nlohmann::json json;
  std::string summary;
};

Told told(std::vector<double> temperatures) {
  const std::string yaml =
      "section: {width: 1 m, depth: 0.1 m, shapes: [{material: {conductivity: 0.1 W/mK}, across: [0 m, 1 m], "
      "depth: [0 m, 0.1 m]}]}\n"
      "air: {inside: {temperature: 20 °C, film: 0.13}, outside: {temperature: 0 °C, film: 0.04}}\n";
  Case c = read_case({"case.yaml", yaml});
  const double width = 1.0 / static_cast<double>(temperatures.size());
  for (std::size_t n = 0; n < temperatures.size(); ++n) {
    const double from = static_cast<double>(n) * width;
    test::hold(c.sections[0], Rectangle{{from, from + width}, {0.04, 0.05}}, temperatures[n]);
  }
  const Outcomes all = solve_case(c, [](const std::string&) {});
  return {nlohmann::json::parse(result_json(c, all, {"case.yaml", sha256(yaml)})),
          summary(c, 0, all.sections[0])};
}

TEST(HeldReport, GivesTheHeatOfThePipe) {
  const Told t = told({40.0});
  const double inside = -20.0 / 0.53, outside = -40.0 / 0.54;
  const nlohmann::json& flows = t.json["heat_into_section_W_per_m"];
  EXPECT_NEAR(flows["inside"], inside, 1e-7);
  EXPECT_NEAR(flows["outside"], outside, 1e-7);
  EXPECT_NEAR(flows["held"], -(inside + outside), 1e-7);
  EXPECT_NEAR(t.json["heat_flow_W_per_m"], inside, 1e-7);
  EXPECT_TRUE(t.json["u_value_W_per_m2K"].is_null());
  EXPECT_TRUE(t.json["u_value_uncertainty_W_per_m2K"].is_null());
  EXPECT_FALSE(t.json.contains("limits"));
  EXPECT_NE(t.summary.find("  from the pipe       111.81 W per metre\n"), std::string::npos) << t.summary;
  EXPECT_NE(t.summary.find("through the room face"), std::string::npos);
  EXPECT_EQ(t.summary.find("U-value"), std::string::npos);
}

TEST(HeldReport, SaysWhichWayAndOfHowMany) {
  // -10/0.54 - 30/0.53 = -75.12 W
  EXPECT_NE(told({-10.0}).summary.find("  into the pipe       75.12 W per metre\n"), std::string::npos);
  EXPECT_NE(told({40.0, 40.0}).summary.find("  from the pipes      111.81 W per metre\n"), std::string::npos);
}

TEST(HeldReport, SaysNothingWhereNothingIsHeld) {
  const Told t = told({});
  EXPECT_FALSE(t.json["heat_into_section_W_per_m"].contains("held"));
  EXPECT_EQ(t.summary.find("the pipe"), std::string::npos);
  EXPECT_NE(t.summary.find("room to outside"), std::string::npos);
}

}  // namespace
}  // namespace coldbay::held_report_test
