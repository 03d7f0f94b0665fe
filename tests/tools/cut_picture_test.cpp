#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "tests/support/cuts.hpp"
#include "tests/support/solved.hpp"
#include "tools/report/canvas.hpp"
#include "tools/report/cut_words.hpp"
#include "tools/report/material_colours.hpp"
#include "tools/report/material_map.hpp"
#include "tools/report/result_json.hpp"
#include "tools/report/section_picture.hpp"
#include "tools/report/section_sheet.hpp"
#include "tools/report/summary.hpp"
#include "tools/report/text.hpp"

// How a section lies in its wall, as pictures, the summary and result.json tell it.

namespace coldbay::cut_picture_test {
namespace {

constexpr LengthUnit mm = LengthUnit::millimetre;
constexpr LengthUnit inch = LengthUnit::inch;
const TemperatureScale scale{0.0, 20.0, "own scale"};

Rgb pixel(const Picture& p, int x, int y) {
  const auto at =
      3 * (static_cast<std::size_t>(x) + static_cast<std::size_t>(p.width) * static_cast<std::size_t>(y));
  return {p.rgb[at], p.rgb[at + 1], p.rgb[at + 2]};
}

/// True where a text stands somewhere on bare paper, all of it, with its left end in [from, to) of the width.
bool shows(const Picture& picture, const std::string& text, double size, Rgb colour = ink::text,
           double from = 0.0, double to = 1.0) {
  const int width = static_cast<int>(std::ceil(text_width(text, size)));
  const int above = static_cast<int>(size) - 3, height = above + 4;  // of letters, not of the line
  Picture drawn = blank_picture(width, height);
  draw_text(drawn, {0.0, static_cast<double>(above)}, Align::left, text, size, colour);
  const auto equal_at = [&](int left, int top) {
    for (int y = 0; y < height; ++y)
      for (int x = 0; x < width; ++x)
        if (pixel(picture, left + x, top + y) != pixel(drawn, x, y)) return false;
    return true;
  };
  const int last = std::min(static_cast<int>(to * picture.width), picture.width - width);
  for (int top = 0; top + height <= picture.height; ++top)
    for (int left = static_cast<int>(from * picture.width); left < last; ++left)
      if (equal_at(left, top)) return true;
  return false;
}

struct Told {
  Case c;
  Outcomes all;
  const Forecast& f() const { return all.sections[0].built; }
};

Told told(const Section& section) {
  Case c;
  c.title = "Practice wall";
  c.air = {{20.0, 0.13}, {-8.0, 0.04}, {}, {}};
  c.sections = {section};
  c.accuracy = {0.01, 0.1};
  return {c, solve_case(c, [](const std::string&) {})};
}

// ---- words

TEST(CutWords, PlacesInAVerticalCutAreHeights) {
  Section s;
  EXPECT_EQ(place_text(s, "38 mm"), "38 mm across");
  s.cut = CutKind::plan;
  EXPECT_EQ(place_text(s, "38 mm"), "38 mm across");
  s.cut = CutKind::vertical;
  EXPECT_EQ(place_text(s, "38 mm"), "38 mm above the floor");
}

TEST(CutWords, SayWhatACutStandsFor) {
  Section s;
  EXPECT_EQ(stands_for_text(s, mm), "");  // unknown
  s.cut = CutKind::plan;
  s.stands_for = {{0.3556, 0.4572}};
  s.stands_of = 2.47;
  EXPECT_EQ(stands_for_text(s, inch),
            "this cut stands for 14 to 18 in above the floor: 4.1 % of the wall's height; what it shows is "
            "drawn from floor to ceiling");
  s.stands_for = {{0.1, 0.2}, {0.3, 0.4}};
  EXPECT_EQ(stretches_text(s, mm), "100 to 200 mm and 300 to 400 mm above the floor");
  s.stands_for.push_back({0.5, 0.6});
  EXPECT_EQ(stretches_text(s, mm), "100 to 200 mm, 300 to 400 mm and 500 to 600 mm above the floor");
  s.stands_for.push_back({0.7, 0.8});
  EXPECT_EQ(stretches_text(s, mm),
            "100 to 200 mm, 300 to 400 mm, 500 to 600 mm and 1 more stretch above the floor");
  s.stands_for.push_back({0.9, 1.0});
  EXPECT_EQ(stretches_text(s, mm),
            "100 to 200 mm, 300 to 400 mm, 500 to 600 mm and 2 more stretches above the floor");
  s.cut = CutKind::vertical;
  s.stands_for = {{0.02, 0.38}};
  s.stands_of = 1.2;
  EXPECT_EQ(
      stands_for_text(s, mm),
      "this cut stands for 20 to 380 mm across: 30.0 % of the wall's width; the studs beside it are not "
      "in its U");
}

TEST(CutWords, SummaryAndResultTellThem) {
  const Told vertical = told(test::vertical_cut());
  const std::string words = summary(vertical.c, 0, vertical.all.sections[0]);
  EXPECT_NE(words.find(" mm above the floor, on the plate above bay 2"), std::string::npos) << words;
  EXPECT_NE(words.find("per metre of wall width"), std::string::npos) << words;
  EXPECT_NE(words.find("14.8 % of the wall's width"), std::string::npos) << words;
  EXPECT_EQ(words.find("bottom plate"), std::string::npos) << words;  // it is in this U
  const auto j = nlohmann::json::parse(result_json(vertical.c, vertical.all, {"case.yaml", ""}));
  EXPECT_EQ(j["cut"], "vertical");
  EXPECT_EQ(j["stands_for_m"], nlohmann::json::parse("[[0.4, 0.756]]"));
  EXPECT_EQ(j["stands_of_m"], 2.4);

  Told plan = told(test::many_materials());
  EXPECT_NE(summary(plan.c, 0, plan.all.sections[0]).find("bottom plate"), std::string::npos);
  EXPECT_EQ(nlohmann::json::parse(result_json(plan.c, plan.all, {"", ""}))["cut"], "plan");
  plan.c.sections[0].cut = CutKind::drawn;
  EXPECT_FALSE(nlohmann::json::parse(result_json(plan.c, plan.all, {"", ""})).contains("cut"));
}

// ---- pictures

TEST(VerticalPicture, LiesDownWithTheFloorAtTheLeft) {
  const Section section = test::vertical_cut();
  const Told t = told(section);
  const SheetPlan plan = plan_sheet(section);
  EXPECT_GT(plan.plot_width, 15 * plan.plot_height);
  const Picture materials = materials_picture(section, t.f().grid, {});
  const Picture temperature = temperature_picture(section, t.f().grid, t.c.air, t.f().field, scale, {});
  const Picture face = face_picture(section, {&t.f().results.profile}, scale, {});
  for (const auto& [picture, size] :
       {std::pair(&materials, text_size::body), {&temperature, text_size::body}, {&face, text_size::small}}) {
    EXPECT_TRUE(shows(*picture, "floor", size, ink::text, 0.0, 0.1));
    EXPECT_TRUE(shows(*picture, "top of the wall", size, ink::text, 0.7, 1.0));
    EXPECT_TRUE(shows(*picture, "up from the floor →", size, ink::quiet_text, 0.3, 0.7));
  }
  EXPECT_TRUE(shows(face,
                    "the room face from floor to top, drawn lying down and out sideways; the cut stands for "
                    "400 to 756 mm across",
                    text_size::small, ink::quiet_text));
  Section across = section;
  across.cut = CutKind::plan;
  EXPECT_FALSE(shows(materials_picture(across, t.f().grid, {}), "floor", text_size::body));
}

TEST(VerticalPicture, HeldEndsAreNamedForWhereTheyAre) {
  Told t = told(test::vertical_cut());
  t.c.air.left = Exchange{10.0, 0.1};
  const Picture picture = temperature_picture(t.c.sections[0], t.f().grid, t.c.air, t.f().field, scale, {});
  EXPECT_TRUE(shows(picture, "below the floor 10 °C, film 0.1 m²K/W", text_size::body));
}

TEST(MaterialsPicture, StepsOfOneNameAreOneEntryWithoutLinesBetween) {
  const Section section = test::vertical_cut();
  const Told t = told(section);
  const MaterialGroups groups = material_groups(section);
  EXPECT_EQ(groups.group.size(), 7U);
  EXPECT_TRUE(shows(materials_picture(section, t.f().grid, {}), "0.034 to 0.038 W/mK", text_size::small,
                    ink::quiet_text));
  // Between the steps of the pocket and of the squeezed batt no line is drawn.
  const SheetPlan plan = plan_sheet(section);
  const MaterialMap map = material_map(section, plan.plot_width, plan.plot_height);
  const auto lines = outline_coverage(map, groups.group_of);
  const auto line_at = [&](double across, double depth) {
    const auto x = static_cast<std::size_t>(across * plan.pixels_per_metre);
    const auto y = static_cast<std::size_t>((section.depth - depth) * plan.pixels_per_metre);
    return lines[x + static_cast<std::size_t>(plan.plot_width) * y];
  };
  for (int i = 15; i < 29; ++i) EXPECT_EQ(line_at(1.7 + 0.0208 * (i + 1), 0.019), 0.0F) << i;
  for (int i = 1; i < 5; ++i) EXPECT_EQ(line_at(0.5 + 0.02 * i, 0.03), 0.0F) << i;
  EXPECT_GT(line_at(0.5, 0.03), 0.0F);  // but one round all of it
}

TEST(MaterialsPicture, SixteenNamesAreAllReadInFull) {
  const Section section = test::many_materials();
  const Told t = told(section);
  const MaterialGroups groups = material_groups(section);
  EXPECT_GE(groups.group.size(), 16U);
  const Picture picture = materials_picture(section, t.f().grid, {});
  for (const MaterialGroup& group : groups.group)
    EXPECT_TRUE(shows(picture, group.name, text_size::body)) << group.name;
  EXPECT_LT(picture.height, 800);
}

}  // namespace
}  // namespace coldbay::cut_picture_test
