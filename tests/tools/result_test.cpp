#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "solver/forecast.hpp"
#include "tools/input/case.hpp"
#include "tools/report/result_json.hpp"
#include "tools/report/summary.hpp"

// What a person and a script are told, against numbers worked out by hand.

namespace coldbay::result_test {
namespace {

struct Told {
  nlohmann::json json;
  std::string summary;
};

Told told(const std::string& yaml) {
  const Case c = read_case({"case.yaml", yaml});
  const Outcomes all = solve_case(c, [](const std::string&) {});
  return {nlohmann::json::parse(result_json(c, all, {"case.yaml", sha256(yaml)})),
          summary(c, 0, all.sections[0])};
}

std::string slab(const std::string& humidity) {
  return "section: {width: 1 m, depth: 0.1 m, shapes: [{material: {conductivity: 0.1 W/mK}, across: [0 m, 1 "
         "m], "
         "depth: [0 m, 0.1 m]}]}\n"
         "air: {inside: {temperature: 20 °C, film: 0.13, humidity: " +
         humidity + "}, outside: {temperature: 0 °C, film: 0.04}}\n";
}

// R = 0.13 + 1 + 0.04 = 1.17 m2K/W; 1 h·ft2·°F/Btu is 0.176110 m2K/W.
TEST(ResultJson, GivesTheSlabsNumbers) {
  const nlohmann::json j = told(slab("50 %")).json;
  EXPECT_NEAR(j["u_value_W_per_m2K"], 1.0 / 1.17, 1e-9);
  EXPECT_NEAR(j["r_value_m2K_per_W"], 1.17, 1e-9);
  EXPECT_NEAR(j["r_value_h_ft2_F_per_Btu"], 1.17 / 0.176110, 1e-4);  // the factor's last digit
  EXPECT_NEAR(j["u_value_Btu_per_h_ft2_F"], 0.176110 / 1.17, 1e-6);
  EXPECT_NEAR(j["heat_flow_W_per_m"], 20.0 / 1.17, 1e-9);
  EXPECT_NEAR(j["inside_surface_min_C"], 20.0 - 20.0 * 0.13 / 1.17, 1e-9);
  EXPECT_NEAR(j["temperature_factor"], 1.0 - 0.13 / 1.17, 1e-9);
  EXPECT_NEAR(j["dew_point_C"], 9.27, 0.005);  // [ISO13788]
}

TEST(Summary, SaysOnWhichSideOfTheDewPointTheFaceIs) {
  EXPECT_NE(told(slab("50 %")).summary.find("stays above it"), std::string::npos);  // 17.8 above 9.3 degC
  EXPECT_NE(told(slab("95 %")).summary.find("FALLS BELOW IT"), std::string::npos);  // 17.8 below 19.2 degC
}

const std::string wall =
    "air: {inside: {temperature: 20}, outside: {temperature: OUT}}\nwall:\n  height: 2.4 m\n"
    "  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n"
    "  frame: {member: softwood 38 x 89 mm, spacing: 400 mm, plates: {bottom: 1, top: 2}}\n"
    "  bays: [BAY]\nsections: [plan at CUT]\n";

std::string wall_with(std::string bay, const std::string& cut = "1.2 m", const std::string& out = "0") {
  std::string text = wall;
  text.replace(text.find("BAY"), 3, bay);
  text.replace(text.find("CUT"), 3, cut);
  text.replace(text.find("OUT"), 3, out);
  return text;
}

TEST(Summary, AStudIsColderInWinterAndWarmerInSummer) {
  EXPECT_NE(told(wall_with("cellulose")).summary.find("colder than the middle"), std::string::npos);
  EXPECT_NE(told(wall_with("cellulose", "1.2 m", "35")).summary.find("warmer than the middle"),
            std::string::npos);
}

// --- good_case_test.cpp ---
TEST(GoodCase, PlatesAreCountedWhereTheyAre) {
  EXPECT_NO_THROW(read_case({"c", wall_with("cellulose", "50 mm")}));  // one at the bottom: 38 mm
  EXPECT_THROW(read_case({"c", wall_with("cellulose", "2340 mm")}),
               InputErrors);  // two at the top: from 2324 mm
}

TEST(GoodCase, ABoxHasItsUsualSizes) {
  const Section s =
      read_case({"c", wall_with("{fill: cellulose, box: {at: 1.2 m, material: steel, stud: right, "
                                "behind: filled}}")})
          .sections.at(0);
  const auto name_at = [&](double across_mm, double depth_mm) {
    return s.materials[*material_at(s, {1e-3 * across_mm, 1e-3 * depth_mm})].name;
  };
  constexpr double stud = 381.0;  // near face of the right stud [mm]; the box is 57 wide, 70 deep, 1.6 thick
  EXPECT_EQ(name_at(stud - 1.5, 40), "steel");
  EXPECT_EQ(name_at(stud - 1.7, 40), "air space");
  EXPECT_EQ(name_at(stud - 56.5, 40), "steel");
  EXPECT_EQ(name_at(stud - 57.5, 40), "cellulose");
  EXPECT_EQ(name_at(stud - 30, 68.0), "air space");
  EXPECT_EQ(name_at(stud - 30, 69.0), "steel");
  EXPECT_EQ(name_at(stud - 30, 71.0), "cellulose");  // filled behind
  ASSERT_FALSE(s.stands_for.empty());
  EXPECT_NEAR(s.stands_for[0].from, 1.2 - 0.095 / 2 + 0.0016, 1e-9);  // within its steel, or above it
  const Section plastic =
      read_case({"c", wall_with("{fill: cellulose, box: {at: 1.2 m, behind: open}}")}).sections.at(0);
  const auto plastic_at = [&](double across_mm, double depth_mm) {
    return plastic.materials[*material_at(plastic, {1e-3 * across_mm, 1e-3 * depth_mm})].name;
  };
  EXPECT_EQ(plastic_at(19 + 2.4, 40), "rigid plastic");  // on the left stud where none is named; 2.5 thick
  EXPECT_EQ(plastic_at(19 + 2.6, 40), "air space");
  EXPECT_EQ(plastic_at(19 + 30, 80), "air space");  // open behind
}

TEST(GoodCase, MaterialsThatDifferStayApart) {
  const Section s =
      read_case({"c",
                 "section: {width: 100, depth: 50, shapes: [\n"
                 " {material: {conductivity: 0.04, name: foam}, across: [0, 100], depth: [0, 50]},\n"
                 " {material: {conductivity: 0.02, name: foam}, across: [0, 50], depth: [0, 50]}]}\n"
                 "air: {inside: {temperature: 20}, outside: {temperature: 0}}\n"})
          .sections.at(0);
  EXPECT_EQ(s.materials[s.shapes[0].material].conductivity, 0.04);
  EXPECT_EQ(s.materials[s.shapes[1].material].conductivity, 0.02);
}

TEST(GoodCase, FilmsAreTheStandardsWhereNoneIsGiven) {
  const Case c = read_case({"c", wall_with("cellulose")});
  EXPECT_EQ(c.air.inside.film, 0.13);
  EXPECT_EQ(c.air.outside.film, 0.04);
}

}  // namespace
}  // namespace coldbay::result_test
