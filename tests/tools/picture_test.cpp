#include "tools/report/section_picture.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "tools/report/canvas.hpp"
#include "tools/report/colour_scale.hpp"
#include "tools/report/labels.hpp"
#include "tools/report/material_map.hpp"
#include "tools/report/section_sheet.hpp"
#include "tools/report/temperature_map.hpp"
#include "tools/report/text.hpp"

namespace coldbay::picture_test {
namespace {

constexpr LengthUnit mm = LengthUnit::millimetre;
constexpr LengthUnit inch = LengthUnit::inch;

// ---- a wall small enough to know by heart

std::vector<double> even(double length, int n) {
  std::vector<double> edges;
  for (int i = 0; i <= n; ++i) edges.push_back(length * i / n);
  return edges;
}

/// One material, surfaces held at the temperatures of the air: T falls evenly from room to outside.
struct Slab {
  Section section;
  ConductivityGrid grid;
  Surroundings air;
  TemperatureField field;
  SurfaceProfile profile;
};

Slab slab(double width, double depth, double inside, double outside) {
  const int na = 8, nd = 10;
  Slab s{{}, {{Axis(even(width, na)), Axis({0.0, 1.0}), Axis(even(depth, nd))}, {}, {}, {}}, {}, {}, {}};
  s.section.width = width;
  s.section.depth = depth;
  s.section.materials = {{"softwood", 0.12, 0.9, false, ""}};
  s.section.shapes = {{Rectangle{{0.0, width}, {0.0, depth}}, 0, ""}};
  for (auto& k : s.grid.conductivity) k.assign(na * nd, 0.12);
  s.air = {{inside, 0.0}, {outside, 0.0}, {}, {}};
  for (int k = 0; k < nd; ++k)
    for (int i = 0; i < na; ++i) s.field.celsius.push_back(inside + (outside - inside) * (k + 0.5) / nd);
  s.profile = room_face(s.grid, s.air, s.field);
  return s;
}

bool same(const Picture& a, const Picture& b) {
  return a.width == b.width && a.height == b.height && a.rgb == b.rgb;
}

Rgb pixel(const Picture& picture, int x, int y) {
  const auto at = 3 * (static_cast<std::size_t>(x) +
                       static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(y));
  return {picture.rgb[at], picture.rgb[at + 1], picture.rgb[at + 2]};
}

/// Nothing was cut off at the edge of the picture: a margin of 12 pixels is bare paper.
void expect_clear_margin(const Picture& picture, const std::string& what) {
  constexpr int margin = 12;
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < picture.width; ++x) {
      const bool inside =
          x >= margin && y >= margin && x < picture.width - margin && y < picture.height - margin;
      if (!inside) {
        ASSERT_EQ(pixel(picture, x, y), ink::paper) << what << " at " << x << ", " << y;
      }
    }
}

// ---- numbers and words

TEST(Labels, NumbersHaveATrueMinusAndNoNegativeZero) {
  EXPECT_EQ(fixed_number(-9.44, 1), "−9.4");
  EXPECT_EQ(fixed_number(-0.04, 1), "0.0");
  EXPECT_EQ(short_number(21.0, 1), "21");
  EXPECT_EQ(short_number(-0.001, 2), "0");
  EXPECT_EQ(short_number(0.130, 3), "0.13");
  EXPECT_EQ(short_number(100.0, 0), "100");
  EXPECT_EQ(temperature_text(-7.8, TemperatureUnit::fahrenheit, 0), "18 °F");
}

TEST(Labels, ConductivitiesReadAsInLibraries) {
  EXPECT_EQ(conductivity_text(0.16, mm), "0.160 W/mK");
  EXPECT_EQ(conductivity_text(0.035, mm), "0.035 W/mK");
  EXPECT_EQ(conductivity_text(0.0325, mm), "0.0325 W/mK");
  EXPECT_EQ(conductivity_text(230.0, mm), "230 W/mK");
  EXPECT_EQ(conductivity_text(0.16, inch), "1.11 Btu·in/h·ft²·°F");
  EXPECT_EQ(conductivity_text(0.034, 0.038, mm), "0.034 to 0.038 W/mK");
  EXPECT_EQ(conductivity_text(0.03400001, 0.034, mm), "0.034 W/mK");
  EXPECT_EQ(air_conductivities_text({0.31, 0.0712, 0.0709}, mm), "0.071 and 0.31 W/mK");
  EXPECT_EQ(air_conductivities_text({0.3, 0.2, 0.1}, mm), "0.10, 0.20 and 0.30 W/mK");
  EXPECT_EQ(air_conductivities_text({0.4, 0.3, 0.2, 0.1}, mm), "0.10 to 0.40 W/mK");
}

TEST(Labels, SurroundingsSayWhenASurfaceIsHeld) {
  EXPECT_EQ(exchange_text("room", {21.0, 0.13}, {}), "room 21 °C, film 0.13 m²K/W");
  EXPECT_EQ(exchange_text("outside", {-9.0, 0.0}, {}), "outside: surface held at −9 °C");
}

TEST(Ticks, AreRoundAndOfAHandyNumber) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> uniform(-3.0, 3.0);
  for (int trial = 0; trial < 500; ++trial) {
    const double from = 20.0 * uniform(random);
    const double to = from + std::pow(10.0, uniform(random));
    const Ticks ticks = round_ticks(from, to, 5, 8);
    // Steps of 1, 2 and 5 cannot always give 5 to 8: from 2 to 5 the number changes by 2.5.
    EXPECT_GE(ticks.values.size(), 4U) << from << " to " << to;
    EXPECT_LE(ticks.values.size(), 10U) << from << " to " << to;
    for (const double value : ticks.values) {
      EXPECT_GE(value, from - 1e-9 * (to - from) - 1e-12);
      EXPECT_LE(value, to + 1e-9 * (to - from) + 1e-12);
      const double n = value / ticks.step;
      EXPECT_NEAR(n, std::round(n), 1e-6);
      // The label says the whole value: no digit is lost to rounding.
      EXPECT_NEAR(std::stod(fmt::format("{:.{}f}", value, ticks.decimals)), value, 1e-6 * ticks.step);
    }
  }
}

TEST(Ticks, LengthsKeepToTheTape) {
  EXPECT_EQ(length_ticks(1.2, mm, 12).step, 200.0);
  EXPECT_EQ(length_ticks(96 * 0.0254, inch, 12).step, 16.0);
  EXPECT_NEAR(round_length(0.21, mm), 0.2, 1e-12);
  EXPECT_NEAR(round_length(0.2, mm), 0.2, 1e-12);
  EXPECT_NEAR(round_length(0.21, inch), 8 * 0.0254, 1e-12);
  EXPECT_NEAR(round_length(2.0, inch), 48 * 0.0254, 1e-12);
}

// ---- text

TEST(Text, ShortenedTextFits) {
  const std::string title(200, 'W');
  for (const double width : {3.0, 20.0, 100.0, 700.0}) {
    const std::string text = shortened(title, 24.0, width);
    EXPECT_LE(text_width(text, 24.0), width);
    EXPECT_TRUE(text.empty() || text.ends_with("…"));
  }
  EXPECT_EQ(shortened("short", 24.0, 700.0), "short");
}

TEST(Text, WrappedLinesFitAndLoseNothingButTheEnd) {
  const std::string words = "batt R-13, short 50 mm at the bottom; box at 400 mm, behind it open";
  const auto lines = wrapped(words, 15.0, 140.0, 10);
  std::string joined;
  for (const std::string& line : lines) {
    EXPECT_LE(text_width(line, 15.0), 140.0);
    joined += (joined.empty() ? "" : " ") + line;
  }
  EXPECT_EQ(joined, words);
  const auto two = wrapped(words, 15.0, 140.0, 2);
  ASSERT_EQ(two.size(), 2U);
  EXPECT_TRUE(two.back().ends_with("…"));
  EXPECT_TRUE(wrapped("unbreakable", 15.0, 2.0, 3).empty());
}

TEST(Text, BytesThatAreNoUtf8BecomeReplacements) {
  constexpr char32_t bad = 0xFFFD;
  EXPECT_EQ(characters("°²·−"), U"°²·−");
  EXPECT_EQ(characters("\xC0\xAF"), (std::u32string{bad, bad}));           // "/" spelt too long
  EXPECT_EQ(characters("\xED\xA0\x80"), (std::u32string{bad, bad, bad}));  // half of a surrogate pair
  EXPECT_EQ(characters("\xF4\x90\x80\x80").size(), 4U);                    // beyond the last character
  EXPECT_EQ(characters("a\xE2\x88"), (std::u32string{U'a', bad, bad}));    // cut off
  EXPECT_EQ(characters("a\tb\x1B"), U"a b ");
  std::mt19937 random(3);
  Picture picture = blank_picture(200, 40);
  for (int trial = 0; trial < 200; ++trial) {
    std::string bytes(random() % 30, ' ');
    for (char& c : bytes) c = static_cast<char>(random() & 0xFFU);
    draw_text(picture, {-20.0 + trial, 30.0}, Align::centre, shortened(bytes, 20.0, 150.0), 20.0);
  }
}

TEST(Text, StaysWithinItsMeasuredWidth) {
  Picture picture = blank_picture(400, 40);
  const std::string text = "room 21 °C, film 0.13 m²K/W";
  draw_text(picture, {20.0, 28.0}, Align::left, text, 17.0);
  const int end = 20 + static_cast<int>(std::ceil(text_width(text, 17.0)));
  int last = 0;
  for (int y = 0; y < 40; ++y)
    for (int x = 0; x < 400; ++x)
      if (pixel(picture, x, y) != ink::paper) last = std::max(last, x);
  EXPECT_LE(last, end);
  EXPECT_GE(last, end - 4);
}

// ---- the data part

TEST(MaterialMap, AgreesWithMaterialAtAndKeepsThinSheets) {
  Section section;
  section.width = 0.4;
  section.depth = 0.1;
  section.materials.resize(5);
  section.shapes = {{Rectangle{{0.0, 0.4}, {0.0, 0.1}}, 0, ""},
                    {Circle{{0.1, 0.05}, 0.03}, 1, ""},
                    {Polygon{{{0.2, 0.0}, {0.3, 0.02}, {0.25, 0.09}}}, 2, ""},
                    {Rectangle{{0.12, 0.22}, {0.04, 0.06}}, 3, ""}};
  const int width = 160, height = 40;
  const MaterialMap map = material_map(section, width, height);
  for (int j = 0; j < map.n_depth; ++j)
    for (int i = 0; i < map.n_across; ++i) {
      const Point at{(i + 0.5) / map.n_across * 0.4, (map.n_depth - 1 - j + 0.5) / map.n_depth * 0.1};
      ASSERT_EQ(map.at(i, j), static_cast<int>(material_at(section, at).value())) << i << ", " << j;
    }
  section.shapes.push_back({Rectangle{{0.0, 0.4}, {0.0500001, 0.0500002}}, 4, ""});
  const MaterialMap with_foil = material_map(section, width, height);
  EXPECT_EQ(std::count(with_foil.material.begin(), with_foil.material.end(), 4), map.n_across);
}

TEST(TemperatureMap, IsExactWhereTheFieldIsLinear) {
  const Slab s = slab(0.8, 0.2, 20.0, -5.0);
  const TemperatureMap map = temperature_map(s.grid, s.air, s.field, 200, 50);
  constexpr double rounding = 1e-10;  // of interpolating in a field of some tens of kelvin
  for (int y = 0; y < map.height; ++y)
    for (int x = 0; x < map.width; ++x)
      ASSERT_NEAR(map.at(x, y), -5.0 + 25.0 * (y + 0.5) / map.height, rounding);
}

TEST(TemperatureMap, IsothermsAreThinLinesAndNeverAreas) {
  const Slab s = slab(0.8, 0.2, 20.0, -5.0);
  const TemperatureMap map = temperature_map(s.grid, s.air, s.field, 200, 50);
  const auto lines = isotherm_coverage(map, {0.0, 10.0}, 25.0, 1.2);
  for (int x = 0; x < map.width; ++x) {
    double crossed = 0.0;
    for (int y = 0; y < map.height; ++y)
      crossed += static_cast<double>(lines[static_cast<std::size_t>(x + map.width * y)]);
    EXPECT_NEAR(crossed, 2 * 1.2, 0.5);  // two lines, 1.2 pixels each; pixels sample them coarsely
  }
  const Slab level = slab(0.8, 0.2, 20.0, 20.0);
  const auto none =
      isotherm_coverage(temperature_map(level.grid, level.air, level.field, 200, 50), {20.0}, 1.0, 1.2);
  EXPECT_EQ(*std::max_element(none.begin(), none.end()), 0.0F);
}

TEST(ColourScale, ColoursItsEndsAndKnowsWhatIsBeyond) {
  const ColourScale scale({-9.0, 21.0, "scale shared by 3 sections"}, {});
  EXPECT_EQ(scale.colour(-9.0), colour(Palette::hearth, 0.0));
  EXPECT_EQ(scale.colour(21.0), colour(Palette::hearth, 1.0));
  EXPECT_EQ(scale.beyond(-9.5), -1);
  EXPECT_EQ(scale.beyond(21.0), 0);
  EXPECT_EQ(scale.beyond(21.5), 1);
  EXPECT_EQ(scale.words(), "−9.0 to 21.0 °C, scale shared by 3 sections");
  EXPECT_EQ(scale.ticks().values.front(), -5.0);
  const ColourScale level({20.0, 20.0, ""}, {});
  EXPECT_NEAR(level.place(20.0), 0.5, 1e-12);
}

// ---- whole pictures

TEST(SectionPicture, IsTrueToScaleAndFits) {
  for (const auto& [width, depth] :
       {std::pair{1.2, 0.13}, {0.5, 0.0475}, {0.4, 0.8}, {6.0, 0.15}, {0.02, 0.6}, {1.0, 1.0}}) {
    Section section;
    section.width = width;
    section.depth = depth;
    const SheetPlan plan = plan_sheet(section);
    EXPECT_LE(plan.plot_width, 1900);
    EXPECT_LE(plan.plot_height, 800);
    EXPECT_TRUE(plan.plot_width >= 1500 || plan.plot_height == 800) << width << " x " << depth;
    // Both sizes are whole pixels of one scale.
    EXPECT_NEAR(plan.plot_width / plan.pixels_per_metre, width, 0.51 / plan.pixels_per_metre);
    EXPECT_NEAR(plan.plot_height / plan.pixels_per_metre, depth, 0.51 / plan.pixels_per_metre);
  }
}

TEST(SectionPicture, TheRoomIsAtTheBottom) {
  const Slab s = slab(1.2, 0.14, 20.0, 0.0);
  const Picture picture =
      temperature_picture(s.section, s.grid, s.air, s.field, {0.0, 20.0, "own scale"}, {});
  const int x = picture.width / 2;
  int cold = -1, warm = -1;
  for (int y = 0; y < picture.height; ++y) {
    if (cold < 0 && distance(oklab_from(pixel(picture, x, y)), palette_lab(Palette::hearth, 0.0)) < 0.02)
      cold = y;
    if (distance(oklab_from(pixel(picture, x, y)), palette_lab(Palette::hearth, 1.0)) < 0.01) warm = y;
  }
  ASSERT_GE(cold, 0);
  EXPECT_GT(warm, cold + 150);
}

TEST(SectionPicture, NothingIsCutOff) {
  std::string long_title;
  for (int i = 0; i < 20; ++i) long_title += "long title";
  for (const auto& [width, depth] : {std::pair{1.2, 0.14}, {0.4, 0.8}, {0.02, 0.6}, {6.0, 0.15}})
    for (const bool inch_pound : {false, true}) {
      Slab s = slab(width, depth, 41.0, -9.0);
      for (int i = 0; i < 40; ++i) {
        s.section.materials.push_back(
            {fmt::format("material {} {}", i, std::string(60, 'm')), 0.02 * i + 0.03, 0.9, i % 7 == 3, ""});
        s.section.shapes.push_back({Rectangle{{width * i / 40, width * (i + 1) / 40}, {0.0, depth / 2}},
                                    s.section.materials.size() - 1, ""});
        s.section.parts.push_back({fmt::format("bay {}", i + 1),
                                   "batt R-13, short at the bottom",
                                   {width * i / 40, width * (i + 1) / 40},
                                   {width * i / 40, width * (i + 1) / 40},
                                   false});
        s.section.probes.push_back({fmt::format("probe {}", i), {width * i / 39, depth * i / 39}, ""});
      }
      if (inch_pound) {  // a vertical cut has words of its own
        s.section.cut = CutKind::vertical;
        s.section.stands_for.assign(40, {0.1, 0.2});
      }
      s.grid.cavities.resize(1);
      s.grid.cavities[0].conductivity = 0.3;
      const PictureStyle style{Palette::hearth,
                               inch_pound ? TemperatureUnit::fahrenheit : TemperatureUnit::celsius,
                               inch_pound ? inch : mm, long_title, long_title};
      const TemperatureScale scale{0.0, 20.0, long_title};
      const std::string what = fmt::format("{} x {}", width, depth);
      expect_clear_margin(materials_picture(s.section, s.grid, style), "materials " + what);
      expect_clear_margin(temperature_picture(s.section, s.grid, s.air, s.field, scale, style),
                          "temperature " + what);
      expect_clear_margin(face_picture(s.section, {&s.profile, 40.0}, scale, style), "face " + what);
    }
}

TEST(SectionPicture, SameInputSamePicture) {
  const Slab s = slab(1.2, 0.14, 20.0, 0.0);
  const TemperatureScale scale{0.0, 20.0, "own scale"};
  EXPECT_TRUE(same(materials_picture(s.section, s.grid, {}), materials_picture(s.section, s.grid, {})));
  EXPECT_TRUE(same(temperature_picture(s.section, s.grid, s.air, s.field, scale, {}),
                   temperature_picture(s.section, s.grid, s.air, s.field, scale, {})));
  EXPECT_TRUE(same(face_picture(s.section, {&s.profile, 9.3}, scale, {}),
                   face_picture(s.section, {&s.profile, 9.3}, scale, {})));
}

TEST(FacePicture, DrawsTheDewPointOnlyNearTheCurve) {
  const Slab s = slab(1.2, 0.14, 20.0, 0.0);
  const TemperatureScale scale{19.0, 21.0, ""};
  const Picture without = face_picture(s.section, {&s.profile, std::nullopt}, scale, {});
  EXPECT_TRUE(same(face_picture(s.section, {&s.profile, 9.3}, scale, {}), without));
  EXPECT_FALSE(same(face_picture(s.section, {&s.profile, 18.0}, scale, {}), without));
}

}  // namespace
}  // namespace coldbay::picture_test
