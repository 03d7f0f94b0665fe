#include "tools/compare.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tools/input/library_reader.hpp"
#include "tools/report/side_by_side_picture.hpp"
#include "tools/report/side_by_side_text.hpp"
#include "tools/side_by_side.hpp"

namespace coldbay::compare_test {
namespace {

namespace fs = std::filesystem;

/// A slab between its films: U is 1 / (0.13 + thickness / k + 0.04), the sum of resistances of ISO 6946.
SourceText slab(const std::string& name, int thickness_mm, int outside = 0) {
  return {
      name + ".yaml",
      fmt::format(
          "title: {}\n"
          "section:\n"
          "  width: 400 mm\n"
          "  depth: {} mm\n"
          "  shapes:\n"
          "    - {{material: {{conductivity: 0.04 W/mK}}, across: [0 mm, 400 mm], depth: [0 mm, {} mm]}}\n"
          "air:\n"
          "  inside: {{temperature: 20 °C, film: 0.13 m2K/W}}\n"
          "  outside: {{temperature: {} °C, film: 0.04 m2K/W}}\n"
          "sides: {{left: adiabatic, right: adiabatic}}\n",
          name, thickness_mm, thickness_mm, outside)};
}

SideCase made_up(const std::string& name, double u, double within, double room = 20.0) {
  SideCase c;
  c.name = name;
  c.title = name;
  c.inside = room;
  SideSection s;
  s.name = "plan at 48 in, \"<b>\"";
  s.width = 1.2;
  s.u = Sure{u, within};
  s.heat = {20.0 * u, 20.0 * within};
  s.coldest = {room - 20.0 * 0.13 * u, 0.01};
  s.factor = Sure{1.0 - 0.13 * u, 0.0005};
  s.face = {{0.3, 0.6, 0.9}, {0.4, 0.4, 0.4}, {room - 1.0, s.coldest.value, room - 1.0}, {1.0, 2.0, 1.0}};
  c.sections.push_back(s);
  return c;
}

std::vector<std::string> names_of(const SideBySide& all) {
  std::vector<std::string> names;
  for (const SideCase& c : all.cases) names.push_back(c.name);
  return names;
}

// Grid errors of two solves add up, whichever way they go: 0.30 and 0.31 within 0.004 each are 0.01 apart,
// and sure; within 0.006 each they are not.
TEST(Compare, CloserThanTheirGridsIsEqual) {
  const SureDifference sure = difference_of({0.31, 0.004}, {0.30, 0.004});
  EXPECT_FALSE(sure.equal);
  EXPECT_NEAR(sure.value, 0.01, 1e-15);
  EXPECT_NEAR(sure.within, 0.008, 1e-15);
  EXPECT_TRUE(difference_of({0.31, 0.006}, {0.30, 0.006}).equal);
  EXPECT_TRUE(difference_of({0.30, 0.006}, {0.31, 0.006}).equal);
}

TEST(Compare, RanksAreSharedByThoseThatAreEqual) {
  const SideBySide all = side_by_side({made_up("worst", 0.5, 0.001), made_up("good", 0.301, 0.001),
                                       made_up("best", 0.3, 0.001), made_up("middle", 0.4, 0.001)},
                                      UnitSystem::metric);
  EXPECT_EQ(names_of(all), (std::vector<std::string>{"best", "good", "middle", "worst"}));
  EXPECT_EQ(all.ranks, (std::vector<std::size_t>{1, 1, 3, 4}));
  EXPECT_EQ(all.by, RankedBy::section_u);
  const std::string text = side_by_side_text(all);
  EXPECT_NE(text.find("equal within what the grids are sure of: best and good\n"), std::string::npos) << text;
  EXPECT_EQ(text.find("good and middle"), std::string::npos) << text;
  EXPECT_NE(text.find("+33.33 ± 0.67 %"), std::string::npos) << text;  // 0.1/0.3 and 0.002/0.3
}

TEST(Compare, TheWholeWallGoesBeforeASection) {
  SideCase a = made_up("a", 0.3, 0.001), b = made_up("b", 0.4, 0.001);
  a.wall_u = Sure{0.6, 0.001};
  b.wall_u = Sure{0.5, 0.001};
  EXPECT_EQ(names_of(side_by_side({a, b}, UnitSystem::metric)), (std::vector<std::string>{"b", "a"}));
  b.wall_u.reset();  // then there is nothing to hold a's against
  EXPECT_EQ(names_of(side_by_side({a, b}, UnitSystem::metric)), (std::vector<std::string>{"a", "b"}));
  b.sections[0].u.reset();
  EXPECT_EQ(side_by_side({a, b}, UnitSystem::metric).by, RankedBy::heat_flow);
}

TEST(Compare, OtherAirsAreSaid) {
  const SideBySide all =
      side_by_side({made_up("warm", 0.3, 0.001, 22.0), made_up("cool", 0.4, 0.001)}, UnitSystem::metric);
  EXPECT_FALSE(all.same_airs);
  const std::string text = side_by_side_text(all);
  EXPECT_NE(text.find("the airs differ"), std::string::npos) << text;
  EXPECT_NE(text.find("warm: room 22.0 °C, outside 0.0 °C"), std::string::npos) << text;
}

TEST(Compare, PlansAmongVerticalCutsAreSaid) {
  SideCase plan = made_up("plan", 0.3, 0.001), vertical = made_up("vertical", 0.4, 0.001);
  EXPECT_EQ(side_by_side_text(side_by_side({plan, vertical}, UnitSystem::metric)).find("beware"),
            std::string::npos);
  vertical.sections[0].cut = CutKind::vertical;
  EXPECT_NE(side_by_side_text(side_by_side({plan, vertical}, UnitSystem::metric))
                .find("beware: plans and vertical"),
            std::string::npos);
}

// The picture: what is written keeps apart and on the paper, and the strips are of one scale, so that faces
// of one temperature are of one colour.
TEST(Compare, OnePictureOnOneScale) {
  std::vector<SideCase> cases{made_up("one", 0.3, 0.001), made_up("two", 0.8, 0.001),
                              made_up(std::string(300, 'n'), 1.9, 0.001, 30.0)};
  cases[1].sections[0].width = 0.6;
  cases[1].sections[0].face.across = {0.15, 0.3, 0.45};
  const SideBySide all = side_by_side(cases, UnitSystem::metric);
  const WallDrawing sheet = side_by_side_picture(all, {});
  const Drawing& drawing = sheet.drawing;
  ASSERT_GE(drawing.texts.size(), 5U);
  for (std::size_t i = 0; i < drawing.texts.size(); ++i) {
    const Lettered& a = drawing.texts[i];
    EXPECT_GE(a.box.left, 0.0) << a.text;
    EXPECT_LE(a.box.right, drawing.picture.width) << a.text;
    EXPECT_LE(a.box.bottom, drawing.picture.height) << a.text;
    for (std::size_t j = 0; j < i; ++j) EXPECT_FALSE(overlap(a.box, drawing.texts[j].box)) << a.text;
  }
  ASSERT_EQ(sheet.plots.size(), 3U);
  EXPECT_NEAR(sheet.plots[1].width(), 0.5 * sheet.plots[0].width(), 1.0);  // whole pixels
  const auto colour_at_left = [&](const Box& strip) {
    const auto x = static_cast<std::size_t>(strip.left) + 10, y = static_cast<std::size_t>(strip.top) + 10;
    const auto at = 3 * (y * static_cast<std::size_t>(drawing.picture.width) + x);
    return std::vector<int>{drawing.picture.rgb[at], drawing.picture.rgb[at + 1],
                            drawing.picture.rgb[at + 2]};
  };
  EXPECT_EQ(colour_at_left(sheet.plots[0]), colour_at_left(sheet.plots[1]));  // both 19 °C there
  EXPECT_NE(colour_at_left(sheet.plots[0]), colour_at_left(sheet.plots[2]));  // 29 °C
}

struct Folder {
  fs::path path = fs::temp_directory_path() / fmt::format("coldbay-compare-{}", getpid());
  Folder() { fs::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path); }
};

nlohmann::json compared(const std::vector<SourceText>& sources, const fs::path& folder) {
  testing::internal::CaptureStdout();
  const bool reached = compare(sources, {built_in_library(), {}}, folder, Palette::hearth);
  testing::internal::GetCapturedStdout();
  EXPECT_TRUE(reached);
  std::ifstream in(folder / "compare.json");
  return nlohmann::json::parse(in);
}

TEST(Compare, SlabsAgainstTheSumOfResistances) {
  const Folder folder;
  const auto json = compared({slab("thin", 50), slab("thick", 100), slab("cold", 50, -10)}, folder.path);
  ASSERT_EQ(json["cases"].size(), 3U);
  EXPECT_EQ(json["cases"][0]["case"], "thick");
  EXPECT_FALSE(json["same_airs"].get<bool>());
  // One dimension is exact on any grid but for rounding and the residual of the solve, 1e-9 of U and less.
  const double thin = 1.0 / (0.13 + 0.05 / 0.04 + 0.04), thick = 1.0 / (0.13 + 0.1 / 0.04 + 0.04),
               allowed = 1e-8;
  EXPECT_NEAR(json["cases"][0]["sections"][0]["u_value_W_per_m2K"].get<double>(), thick, allowed);
  EXPECT_NEAR(json["cases"][1]["sections"][0]["u_value_W_per_m2K"].get<double>(), thin, allowed);
  EXPECT_EQ(json["cases"][1]["rank"], 2);
  EXPECT_NEAR(json["differences"][0]["difference"].get<double>(), thin - thick, 2.0 * allowed);
  EXPECT_FALSE(json["differences"][0]["equal"].get<bool>());
  EXPECT_TRUE(fs::exists(folder.path / "compare.png"));
}

TEST(Compare, ACaseIsEqualToItself) {
  const Folder folder;
  const auto json = compared({slab("a", 50), slab("a", 50)}, folder.path);
  EXPECT_EQ(json["cases"][0]["rank"], 1);
  EXPECT_EQ(json["cases"][1]["rank"], 1);
  EXPECT_TRUE(json["differences"][0]["equal"].get<bool>());
}

TEST(Compare, OneAloneIsRefused) {
  const MaterialsFile materials{built_in_library(), {}};
  EXPECT_THROW(compare({}, materials, {}, Palette::hearth), InputErrors);
  EXPECT_THROW(compare({slab("a", 50)}, materials, {}, Palette::hearth), InputErrors);
}

}  // namespace
}  // namespace coldbay::compare_test
