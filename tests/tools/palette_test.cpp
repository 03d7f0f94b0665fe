#include "tools/report/palette.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>

#include "tools/report/material_colours.hpp"

namespace coldbay::palette_test {
namespace {

constexpr int n_steps = 100;

double step(int i) { return static_cast<double>(i) / n_steps; }

using Matrix = std::array<std::array<double, 3>, 3>;

struct Deficiency {
  const char* name;
  Matrix matrix;
};

// Full loss of one kind of cone, acting on linear sRGB: [Machado2009], severity 1.0; the numbers are
// from memory. Each row adds up to 1, so that greys stay grey, which a test below holds them to.
constexpr std::array<Deficiency, 3> deficiencies{
    {{"protan",
      {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}}},
     {"deutan",
      {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}}},
     {"tritan",
      {{{1.255528, -0.076749, -0.178779},
        {-0.078411, 0.930809, 0.147602},
        {0.004733, 0.691367, 0.303900}}}}}};

OkLab as_seen(const Matrix& matrix, Rgb colour) {
  const LinearRgb light = linear_from(colour);
  LinearRgb seen{};
  for (std::size_t row = 0; row < 3; ++row) {
    double sum = 0.0;
    for (std::size_t c = 0; c < 3; ++c) sum += matrix[row][c] * light[c];
    seen[row] = std::clamp(sum, 0.0, 1.0);
  }
  return oklab_from(seen);
}

TEST(OkLab, KnowsWhiteBlackAndItsOwnInverse) {
  // The published coefficients have ten digits: white is met to about 1e-8, and hardly better.
  constexpr double coefficients = 1e-6;
  const OkLab white = oklab_from(Rgb{255, 255, 255});
  EXPECT_NEAR(white.L, 1.0, coefficients);
  EXPECT_NEAR(white.a, 0.0, coefficients);
  EXPECT_NEAR(white.b, 0.0, coefficients);
  EXPECT_NEAR(oklab_from(Rgb{0, 0, 0}).L, 0.0, coefficients);
  for (int r = 0; r < 256; r += 15)
    for (int g = 0; g < 256; g += 15)
      for (int b = 0; b < 256; b += 15) {
        const Rgb colour{static_cast<std::uint8_t>(r), static_cast<std::uint8_t>(g),
                         static_cast<std::uint8_t>(b)};
        ASSERT_EQ(rgb_from(oklab_from(colour)), colour);
      }
}

TEST(Palette, NamesGoBothWays) {
  for (const Palette palette : all_palettes) EXPECT_EQ(palette_named(name_of(palette)), palette);
  EXPECT_EQ(palette_named("Hearth"), std::nullopt);
  EXPECT_EQ(palette_named(""), std::nullopt);
}

TEST(Palette, NoColourIsClipped) {
  for (const Palette palette : all_palettes)
    for (int i = 0; i <= 10 * n_steps; ++i)
      ASSERT_TRUE(in_gamut(palette_lab(palette, step(i) / 10.0)))
          << name_of(palette) << " at " << step(i) / 10.0;
}

TEST(Palette, LightnessGrowsEvenly) {
  // Rounding a channel moves it by at most half of 1/255, which is at most 0.004 in L where colours
  // are dark and less elsewhere.
  constexpr double rounding = 0.004;
  for (const Palette palette : all_palettes) {
    const double dark = oklab_from(colour(palette, 0.0)).L;
    const double light = oklab_from(colour(palette, 1.0)).L;
    EXPECT_NEAR(dark, 0.24, rounding);
    EXPECT_NEAR(light, 0.95, rounding);
    double before = -1.0;
    for (int i = 0; i <= n_steps; ++i) {
      const double L = oklab_from(colour(palette, step(i))).L;
      ASSERT_GT(L, before) << name_of(palette) << " at " << step(i);
      ASSERT_NEAR(L, dark + (light - dark) * step(i), 2.0 * rounding)
          << name_of(palette) << " at " << step(i);
      before = L;
    }
  }
}

TEST(Palette, SlateIsGrey) {
  for (int i = 0; i <= n_steps; ++i) {
    const Rgb grey = colour(Palette::slate, step(i));
    EXPECT_EQ(grey[0], grey[1]);
    EXPECT_EQ(grey[1], grey[2]);
  }
}

TEST(Palette, StaysOnItsEnds) {
  for (const Palette palette : all_palettes) {
    EXPECT_EQ(colour(palette, -3.0), colour(palette, 0.0));
    EXPECT_EQ(colour(palette, 7.0), colour(palette, 1.0));
    EXPECT_EQ(colour(palette, std::numeric_limits<double>::quiet_NaN()), colour(palette, 0.0));
    const std::vector<Rgb> ramp = colour_ramp(palette, 11);
    EXPECT_EQ(ramp.front(), colour(palette, 0.0));
    EXPECT_EQ(ramp[5], colour(palette, 0.5));
    EXPECT_EQ(ramp.back(), colour(palette, 1.0));
  }
}

TEST(Palette, MatricesForDeficienciesKeepGreysGrey) {
  for (const Deficiency& deficiency : deficiencies)
    for (const auto& row : deficiency.matrix)
      EXPECT_NEAR(row[0] + row[1] + row[2], 1.0, 2e-6) << deficiency.name;  // six digits are printed
}

TEST(Palette, ReadsWithoutAnyOneKindOfCone) {
  // 0.02 in OKLab is about the least difference people see between patches side by side (common
  // practice, no source). A tenth of the scale should be well beyond that: 2.5 times.
  constexpr double plain_to_see = 0.05;
  for (const Deficiency& deficiency : deficiencies)
    for (const Palette palette : all_palettes) {
      OkLab before = as_seen(deficiency.matrix, colour(palette, 0.0));
      for (int i = 1; i <= 10; ++i) {
        const OkLab now = as_seen(deficiency.matrix, colour(palette, i / 10.0));
        EXPECT_GT(now.L, before.L) << deficiency.name << ", " << name_of(palette) << " at " << i / 10.0;
        EXPECT_GT(distance(now, before), plain_to_see)
            << deficiency.name << ", " << name_of(palette) << " at " << i / 10.0;
        before = now;
      }
      double lightness = -1.0;
      for (int i = 0; i <= n_steps; i += 2) {
        const double L = as_seen(deficiency.matrix, colour(palette, step(i))).L;
        EXPECT_GT(L, lightness) << deficiency.name << ", " << name_of(palette) << " at " << step(i);
        lightness = L;
      }
    }
}

TEST(Palette, GreyPrintKeepsTheOrderOfTemperatures) {
  // A printer or a copier without colour keeps luminance (Y of sRGB, IEC 61966-2-1; the weights from memory).
  // A hundredth of the scale must come out in its order, and a twentieth as another of the 256 greys by far:
  // 5 of them, since copies are coarse (no source).
  const auto grey = [](Rgb c) {
    const LinearRgb light = linear_from(c);
    const double Y = 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2];
    return 255.0 * (Y <= 0.0031308 ? 12.92 * Y : 1.055 * std::pow(Y, 1.0 / 2.4) - 0.055);
  };
  for (const Palette palette : all_palettes) {
    for (int i = 1; i <= n_steps; ++i)
      EXPECT_GT(grey(colour(palette, step(i))), grey(colour(palette, step(i - 1)))) << name_of(palette);
    for (int i = 5; i <= n_steps; i += 5)
      EXPECT_GT(grey(colour(palette, step(i))), grey(colour(palette, step(i - 5))) + 5.0) << name_of(palette);
  }
  for (const double sign : {-1.0, 1.0})
    for (int i = 1; i <= n_steps; ++i)
      EXPECT_LT(grey(plumb_colour(sign * step(i))), grey(plumb_colour(sign * step(i - 1)))) << sign * step(i);
}

TEST(Plumb, IsNeverClippedAndGreyInTheMiddle) {
  for (int i = -10 * n_steps; i <= 10 * n_steps; ++i)
    ASSERT_TRUE(in_gamut(plumb_lab(step(i) / 10.0))) << step(i) / 10.0;
  const Rgb middle = plumb_colour(0.0);
  EXPECT_EQ(middle[0], middle[1]);
  EXPECT_EQ(middle[1], middle[2]);
  EXPECT_EQ(plumb_colour(std::numeric_limits<double>::quiet_NaN()), middle);
  EXPECT_EQ(plumb_colour(-7.0), plumb_colour(-1.0));
  EXPECT_EQ(plumb_ramp(11)[5], middle);
  EXPECT_EQ(plumb_ramp(11).front(), plumb_colour(-1.0));
}

TEST(Plumb, LightnessFallsEvenlyAndAlikeBothWays) {
  constexpr double rounding = 0.004;  // of 8-bit channels, as above
  for (int i = 0; i <= n_steps; ++i)
    for (const double sign : {-1.0, 1.0})
      ASSERT_NEAR(oklab_from(plumb_colour(sign * step(i))).L, 0.94 - 0.54 * step(i), rounding)
          << sign * step(i);
}

TEST(Plumb, ReadsWithoutAnyOneKindOfCone) {
  // A tenth of either side is plain to see from the next one: twice the least visible difference (see above),
  // since each side has but half of the range of lightness. Either side is told from the other by colour from
  // a fifth on, by 1.5 times that difference: signs on the picture tell it, too.
  constexpr double plain_to_see = 0.04, told_apart = 0.03;
  for (const Deficiency& deficiency : deficiencies)
    for (int i = 1; i <= 10; ++i) {
      for (const double sign : {-1.0, 1.0}) {
        const OkLab before = as_seen(deficiency.matrix, plumb_colour(sign * (i - 1) / 10.0));
        const OkLab now = as_seen(deficiency.matrix, plumb_colour(sign * i / 10.0));
        EXPECT_LT(now.L, before.L) << deficiency.name << " at " << sign * i / 10.0;
        EXPECT_GT(distance(now, before), plain_to_see) << deficiency.name << " at " << sign * i / 10.0;
      }
      if (i >= 2) {
        EXPECT_GT(distance(as_seen(deficiency.matrix, plumb_colour(-i / 10.0)),
                           as_seen(deficiency.matrix, plumb_colour(i / 10.0))),
                  told_apart)
            << deficiency.name << " at " << i / 10.0;
      }
    }
}

TEST(MaterialColours, TwentyEightOfOneConductivityAreAllDifferent) {
  // Twice the least visible difference, since the patches lie apart: in the legend and in the wall.
  constexpr double told_apart = 0.04;
  for (const double conductivity : {0.03, 0.15, 1.0, 50.0})
    for (std::size_t i = 0; i < 28; ++i)
      for (std::size_t j = 0; j < i; ++j)
        EXPECT_GT(distance(oklab_from(material_colour(i, conductivity)),
                           oklab_from(material_colour(j, conductivity))),
                  told_apart)
            << i << " and " << j << " at " << conductivity;
}

TEST(MaterialColours, GoodConductorsAreDarker) {
  for (std::size_t n = 0; n < 14; ++n)
    EXPECT_LT(oklab_from(material_colour(n, 230.0)).L + 0.2, oklab_from(material_colour(n, 0.04)).L);
}

TEST(MaterialColours, MaterialsOfOneNameAreOne) {
  Section section;
  section.materials = {{"softwood", 0.12, 0.9, false, ""},
                       {"air space", 0.0, 0.9, true, ""},
                       {"softwood", 0.12, 0.9, false, "another source"},
                       {"softwood", 0.13, 0.9, false, ""}};
  const MaterialGroups groups = material_groups(section);
  EXPECT_EQ(groups.group_of, (std::vector<int>{0, 1, 0, 0}));
  EXPECT_EQ(groups.group[0].lowest, 0.12);
  EXPECT_EQ(groups.group[0].highest, 0.13);
  EXPECT_TRUE(groups.group[1].is_air_space);
  EXPECT_GT(oklab_from(groups.group[1].colour).L, 0.96);
}

}  // namespace
}  // namespace coldbay::palette_test
