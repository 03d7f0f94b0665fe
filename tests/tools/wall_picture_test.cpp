#include "tools/report/wall_picture.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "tests/support/faces.hpp"
#include "tools/report/labels.hpp"
#include "tools/report/wall_panel.hpp"

namespace coldbay::wall_picture_test {
namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

/// A wall of bays of one width, the second empty (where there is one): numbers made up.
ThermalMap bays_map(int bays, double width, double height, bool faulty) {
  const double bay = width / bays;
  return sampled(test::face(width, height, [&](double across, double) {
    const bool empty = faulty && across > bay && across < 2.0 * bay;
    return 18.5 - (empty ? 4.5 : 0.0) - std::abs(std::cos(across / bay * 3.14159));
  }));
}

WallSheet sheet_of(int bays) {
  const double width = 0.4 * bays, height = 2.4;
  const ThermalMap built = bays_map(bays, width, height, true), right = bays_map(bays, width, height, false);
  WallSheet sheet;
  sheet.panels = {{"as built", "", built, false},
                  {"built right", "the same wall without its faults", right, false},
                  {"difference: as built minus built right", "", difference(built, right), true}};
  sheet.scale = TemperatureScale{13.0, 19.0, "shared by the 3 pictures of this case"};
  sheet.difference_scale = DifferenceScale{5.0, "shared by the 3 pictures of this case"};
  for (int i = 0; i < bays; ++i)
    sheet.bays.push_back({fmt::format("bay {}", i + 1), {0.4 * i, 0.4 * (i + 1)}});
  return sheet;
}

Rgb pixel(const Picture& picture, Spot at) {
  const std::size_t first = 3 * (static_cast<std::size_t>(at.x) +
                                 static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(at.y));
  return {picture.rgb[first], picture.rgb[first + 1], picture.rgb[first + 2]};
}

Spot place(const WallDrawing& all, std::size_t panel, const ThermalMap& map, double across, double up) {
  const Box& plot = all.plots[panel];
  return {plot.left + (across - map.across.from) / map.across.length() * plot.width(),
          plot.bottom - (up - map.up.from) / map.up.length() * plot.height()};
}

bool says(const WallDrawing& all, const std::string& text) {
  return std::any_of(all.drawing.texts.begin(), all.drawing.texts.end(),
                     [&](const Lettered& one) { return one.text.find(text) != std::string::npos; });
}

/// No text leaves the picture, lies on another, or runs over the edge of a map; and a margin is bare paper.
void expect_in_order(const WallDrawing& all, const std::string& what) {
  constexpr double margin = 12.0;
  const Picture& picture = all.drawing.picture;
  const std::vector<Lettered>& texts = all.drawing.texts;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const Box& box = texts[i].box;
    EXPECT_TRUE(box.left >= margin && box.top >= margin && box.right <= picture.width - margin &&
                box.bottom <= picture.height - margin)
        << what << ": '" << texts[i].text << "' is cut off";
    for (std::size_t j = 0; j < i; ++j)
      EXPECT_FALSE(overlap(box, texts[j].box))
          << what << ": '" << texts[i].text << "' lies on '" << texts[j].text << "'";
    for (const Box& plot : all.plots)
      EXPECT_TRUE(!overlap(box, plot) || (box.left >= plot.left && box.right <= plot.right &&
                                          box.top >= plot.top && box.bottom <= plot.bottom))
          << what << ": '" << texts[i].text << "' crosses the edge of a map";
  }
  for (std::size_t i = 0; i < all.plots.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) EXPECT_FALSE(overlap(all.plots[i], all.plots[j])) << what;
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < picture.width; ++x) {
      const bool inside = x >= 12 && y >= 12 && x < picture.width - 12 && y < picture.height - 12;
      if (!inside) {
        ASSERT_EQ(pixel(picture, {x + 0.5, y + 0.5}), ink::paper) << what << " at " << x << ", " << y;
      }
    }
}

// ---- layout

TEST(WallPicture, NoWordIsCutOffOrOnAnother) {
  const std::string long_title(500, 'W');
  std::string words;
  for (int i = 0; i < 100; ++i) words += "title ";
  // A house and a snowflake beyond the basic plane, and Hebrew, which runs right to left.
  const std::vector<std::string> titles{"", "a wall", long_title, words, "🏠❄ wall 🏠", "קיר של שמונה תאים"};
  for (const int bays : {1, 3, 8, 16, 40})
    for (std::size_t t = 0; t < titles.size(); ++t) {
      if (bays > 3 && t != 3) continue;  // every title where it is tightest, one elsewhere
      WallSheet sheet = sheet_of(bays);
      const double width = 0.4 * bays;
      sheet.framing = {{{0.0, width}, {0.0, 0.038}}, {{0.0, 0.038}, {0.0, 2.4}}};
      sheet.thresholds = {{"dew point", 14.5}, {titles[t], 16.0}};
      sheet.spots = {
          {"in the middle", {0.5 * width, 1.2}}, {titles[t], {0.0, 0.0}}, {"corner", {width, 2.4}}};
      sheet.lines = {{titles[t], {0.0, 0.6}, {width, 0.6}}, {"up", {0.3 * width, 0.0}, {0.3 * width, 2.4}}};
      PictureStyle style;
      style.title = titles[t];
      style.cut = titles[t];
      if (t % 2 == 1) {
        style.temperature = TemperatureUnit::fahrenheit;
        style.length = LengthUnit::inch;
      }
      const std::string what = fmt::format("{} bays, title {}", bays, t);
      expect_in_order(wall_drawing(sheet, style), what);
      sheet.scale.reset();
      sheet.difference_scale.reset();
      sheet.panels.resize(1);
      sheet.panels[0].words = titles[t];
      sheet.scale = TemperatureScale{16.0, 17.0, titles[t]};
      expect_in_order(wall_drawing(sheet, style), what + ", one picture");
    }
}

TEST(WallPicture, IsTrueToScale) {
  for (const int bays : {1, 3, 8, 16, 40}) {
    const WallDrawing all = wall_drawing(sheet_of(bays), {});
    for (const Box& plot : all.plots) {
      const double scale = plot.width() / (0.4 * bays);
      // 5 mm take one to two pixels; the sides are whole pixels of one scale.
      EXPECT_GE(scale, 199.0) << bays;
      EXPECT_LE(scale, 401.0) << bays;
      EXPECT_NEAR(plot.height(), 2.4 * scale, 0.5 + 2.4 * 0.5 / (0.4 * bays)) << bays;
    }
    EXPECT_LE(all.drawing.picture.width, 4000);
  }
}

TEST(WallPicture, PixelsOfACameraAreWholeAndAllAlike) {
  std::mt19937 random(4);
  std::uniform_real_distribution<double> uniform(14.0, 18.0);
  ThermalMap map{{0.3, 1.9}, {0.2, 1.4}, 16, 12, {}, false};
  for (int i = 0; i < 16 * 12; ++i) map.celsius.push_back(uniform(random));
  WallSheet sheet;
  sheet.panels = {{"as the camera records it", "", map, false}};
  sheet.scale = TemperatureScale{14.0, 18.0, ""};
  const WallDrawing all = wall_drawing(sheet, {});
  const Box& plot = all.plots.front();
  const double size = plot.width() / 16;
  EXPECT_EQ(size, std::floor(size));
  EXPECT_EQ(plot.height(), 12 * size);
  const ColourScale scale(*sheet.scale, {});
  for (int row = 0; row < 12; ++row)
    for (int column = 0; column < 16; ++column)
      for (const double share : {0.01, 0.5, 0.99})  // first, middle and last of the pixels it takes
        EXPECT_EQ(pixel(all.drawing.picture,
                        {plot.left + (column + share) * size, plot.top + (row + share) * size}),
                  scale.colour(map.at(column, row)));
  const Picture both = camera_picture(map, map, *sheet.scale, {});
  EXPECT_GT(both.width, 2 * 16 * 20);  // side by side
  EXPECT_GT(both.width, both.height);
}

// ---- honesty

/// The temperature of a colour: the nearest of the palette, which runs evenly from one end of the scale to
/// the other.
double decoded(const Rgb& shown, const TemperatureScale& scale, Palette palette) {
  double best = 0.0, nearest = 1e9;
  constexpr int n = 4000;
  for (int i = 0; i <= n; ++i) {
    const double t = static_cast<double>(i) / n;
    const double off = distance(oklab_from(shown), oklab_from(colour(palette, t)));
    if (off < nearest) {
      nearest = off;
      best = scale.coldest + t * (scale.warmest - scale.coldest);
    }
  }
  return best;
}

TEST(WallPicture, ColoursSayTheTemperatures) {
  // An empty bay beside sound ones, level over most of a bay: 4.5 K apart by construction.
  const double bay = 0.6;
  const auto formula = [&](bool faulty) {
    return [&, faulty](double across, double) {
      return 18.0 - (faulty && across > bay && across < 2.0 * bay ? 4.5 : 0.0);
    };
  };
  for (const Palette palette : all_palettes) {
    PictureStyle style;
    style.palette = palette;
    WallSheet sheet;
    sheet.panels = {{"as built", "", sampled(test::face(3 * bay, 2.4, formula(true))), false},
                    {"built right", "", sampled(test::face(3 * bay, 2.4, formula(false))), false}};
    sheet.scale = TemperatureScale{12.0, 20.0, "shared"};
    const WallDrawing all = wall_drawing(sheet, style);
    // Lightness takes some 180 of 256 levels: a step of 8-bit colour is 1/180 of the span, and half of it the
    // most that rounding moves a colour.
    const double resolution = 8.0 / 180.0;
    const auto at = [&](std::size_t panel, double across, double up) {
      return decoded(pixel(all.drawing.picture, place(all, panel, sheet.panels[panel].map, across, up)),
                     *sheet.scale, palette);
    };
    for (const double up : {0.1, 1.2, 2.3}) {
      EXPECT_NEAR(at(0, 0.5 * bay, up), 18.0, resolution);
      EXPECT_NEAR(at(0, 1.5 * bay, up), 13.5, resolution);
      EXPECT_NEAR(at(0, 0.5 * bay, up) - at(0, 1.5 * bay, up), 4.5, 2.0 * resolution);
      EXPECT_NEAR(at(1, 1.5 * bay, up), 18.0, resolution);  // one scale for both
    }
    // The edge of the bay is where it is: 30 mm either side of it, one temperature and the other.
    EXPECT_NEAR(at(0, bay - 0.03, 1.2), 18.0, resolution);
    EXPECT_NEAR(at(0, bay + 0.03, 1.2), 13.5, resolution);
  }
}

TEST(WallPicture, SaysWhereAScaleMustNotBeCompared) {
  WallSheet sheet = sheet_of(3);
  EXPECT_FALSE(says(wall_drawing(sheet, {}), "do not compare"));
  EXPECT_TRUE(says(wall_drawing(sheet, {}), "level 16.0 °C, span 6.0 K"));
  PictureStyle fahrenheit;
  fahrenheit.temperature = TemperatureUnit::fahrenheit;
  EXPECT_TRUE(says(wall_drawing(sheet, fahrenheit), "level 60.8 °F, span 10.8 °F"));
  sheet.scale.reset();
  const WallDrawing all = wall_drawing(sheet, {});
  const auto stamps =
      std::count_if(all.drawing.texts.begin(), all.drawing.texts.end(), [&](const Lettered& one) {
        return one.text.find("scaled to itself") != std::string::npos &&
               std::any_of(all.plots.begin(), all.plots.end(),
                           [&](const Box& plot) { return overlap(plot, one.box); });
      });
  EXPECT_EQ(stamps, 2);  // on both pictures of temperatures, not on the difference
}

TEST(WallPicture, CountsWhatIsBeyondTheScaleAndShowsIt) {
  // 10 x 10 pixels: 7 colder, 2 warmer, 1 not seen.
  ThermalMap map{{0.0, 1.0}, {0.0, 1.0}, 10, 10, std::vector<double>(100, 15.0), false};
  for (std::size_t i = 0; i < 7; ++i) map.celsius[i] = 9.0;
  map.celsius[50] = map.celsius[51] = 21.0;
  map.celsius[99] = nothing;
  WallSheet sheet;
  sheet.panels = {{"as built", "", map, false}};
  sheet.scale = TemperatureScale{10.0, 20.0, ""};
  for (const Palette palette : all_palettes) {
    PictureStyle style;
    style.palette = palette;
    const WallDrawing all = wall_drawing(sheet, style);
    EXPECT_TRUE(says(all, "of 99 pixels beyond the scale: 7 colder (7.1 %), 2 warmer (2 %)"));
    EXPECT_TRUE(says(all, "beyond the scale: colder, warmer"));
    EXPECT_TRUE(says(all, "no wall is seen here"));
    // Somewhere in a hatched pixel is ink that stands out by more than 0.1 in OKLab, five times the least
    // visible.
    const auto contrast = [&](int column, int row) {
      const Box& plot = all.plots.front();
      const double size = plot.width() / 10.0;
      double most = 0.0;
      const OkLab first =
          oklab_from(pixel(all.drawing.picture, {plot.left + column * size, plot.top + row * size}));
      for (int y = 0; y < 16; ++y)
        for (int x = 0; x < 16; ++x)
          most = std::max(
              most, distance(first, oklab_from(pixel(all.drawing.picture, {plot.left + column * size + x,
                                                                           plot.top + row * size + y}))));
      return most;
    };
    EXPECT_GT(contrast(0, 0), 0.1) << name_of(palette);
    EXPECT_GT(contrast(0, 5), 0.1) << name_of(palette);
    EXPECT_GT(contrast(9, 9), 0.1) << name_of(palette);
    EXPECT_EQ(contrast(5, 5), 0.0) << name_of(palette);
  }
}

// ---- readings

TEST(WallPicture, ThresholdsAreOutlinedWhereTheTemperaturesAre) {
  // Falling evenly from 20 to 10 across 2 m: below 13 over 0.3 of it, but for half a cell at the end.
  WallSheet sheet;
  sheet.panels = {{"as built", "",
                   sampled(test::face(2.0, 1.0, [](double a, double) { return 20.0 - 5.0 * a; })), false}};
  sheet.scale = TemperatureScale{8.0, 22.0, ""};
  const WallDrawing without = wall_drawing(sheet, {});
  sheet.thresholds = {{"dew point", 13.0}};
  const WallDrawing all = wall_drawing(sheet, {});
  EXPECT_TRUE(says(all, "dew point, 13.0 °C: below it 30 % as built"));
  const Box& plot = all.plots.front();
  const Box& before = without.plots.front();
  int inked_above = 0, inked_below = 0, on_line = 0;
  for (int y = 0; y < static_cast<int>(plot.height()); ++y)
    for (int x = 0; x < static_cast<int>(plot.width()); ++x) {
      const bool inked = pixel(all.drawing.picture, {plot.left + x, plot.top + y}) !=
                         pixel(without.drawing.picture, {before.left + x, before.top + y});
      const double across = (x + 0.5) / plot.width() * 2.0;
      constexpr double line = 0.005;  // 2 pixels of 2.5 mm
      if (std::abs(across - 1.4) < 0.0025)
        on_line += inked;
      else if (across > 1.4 + line)
        inked_below += inked;
      else if (across < 1.4 - line)
        inked_above += inked;
    }
  EXPECT_EQ(inked_above, 0);
  EXPECT_GE(on_line, static_cast<int>(plot.height()));
  const double hatched = inked_below / (0.3 * plot.width() * plot.height());
  EXPECT_GT(hatched, 0.04);  // light hatching: the map is seen between its lines
  EXPECT_LT(hatched, 0.35);
}

TEST(WallPicture, SpotsAreReadInTheUnitOfThePicture) {
  WallSheet sheet = sheet_of(3);
  sheet.panels[0].map = sampled(test::face(1.2, 2.4, [](double, double) { return 14.0; }));
  sheet.panels[2].map = sampled(test::face(1.2, 2.4, [](double, double) { return -2.5; }));
  sheet.spots = {{"here", {0.6, 1.2}}, {"beyond the wall", {5.0, 1.2}}};
  EXPECT_TRUE(says(wall_drawing(sheet, {}), "14.0 °C"));
  EXPECT_TRUE(says(wall_drawing(sheet, {}), "−2.5 K"));
  EXPECT_TRUE(says(wall_drawing(sheet, {}), "not seen"));
  PictureStyle style;
  style.temperature = TemperatureUnit::fahrenheit;
  EXPECT_TRUE(says(wall_drawing(sheet, style), "57.2 °F"));  // 14 * 1.8 + 32
  EXPECT_TRUE(says(wall_drawing(sheet, style), "−4.5 °F"));  // a difference has no 32
}

TEST(WallPicture, GreyPrintOfADifferenceTellsItsSign) {
  // Colder and warmer by the same have the same lightness; the signs on them differ.
  const auto drawn = [](double kelvin) {
    WallSheet sheet;
    sheet.panels = {
        {"difference", "", sampled(test::face(1.0, 1.0, [&](double, double) { return kelvin; })), true}};
    sheet.difference_scale = DifferenceScale{4.0, ""};
    return wall_drawing(sheet, {});
  };
  const WallDrawing colder = drawn(-2.0), warmer = drawn(2.0), same = drawn(0.0);
  const Box& plot = colder.plots.front();
  // Lightness is even to 0.004, by rounding of 8-bit channels on both sides.
  constexpr double told_apart = 0.05, rounding = 0.008;
  int signs = 0, alike = 0, inked_where_same = 0;
  for (int y = 0; y < static_cast<int>(plot.height()); ++y)
    for (int x = 0; x < static_cast<int>(plot.width()); ++x) {
      const Spot at{plot.left + x, plot.top + y};
      const double off = std::abs(oklab_from(pixel(colder.drawing.picture, at)).L -
                                  oklab_from(pixel(warmer.drawing.picture, at)).L);
      if (off > told_apart) ++signs;
      if (off <= rounding) ++alike;
      if (pixel(same.drawing.picture, at) != plumb_colour(0.0)) ++inked_where_same;
    }
  const double area = plot.width() * plot.height();
  // The upright stroke of a plus, 6 pixels, for every 28 x 28.
  EXPECT_NEAR(signs, area * 6.0 / (28.0 * 28.0),
              0.15 * area * 6.0 / (28.0 * 28.0));  // whole signs at the edges
  EXPECT_GT(alike, 0.95 * area);
  EXPECT_EQ(inked_where_same, 0);
}

TEST(WallPicture, SameInputSamePicture) {
  const WallSheet sheet = sheet_of(3);
  EXPECT_EQ(wall_picture(sheet, {}).rgb, wall_picture(sheet, {}).rgb);
}

TEST(WallPicture, AllNothingIsStillAPicture) {
  WallSheet sheet;
  sheet.panels = {{"as the camera records it",
                   "",
                   {{0.0, 1.0}, {0.0, 1.0}, 4, 3, std::vector<double>(12, nothing), false},
                   false}};
  sheet.thresholds = {{"dew point", 12.0}};
  const WallDrawing all = wall_drawing(sheet, {});
  EXPECT_TRUE(says(all, "no wall is seen"));
  EXPECT_TRUE(says(all, "below it 0 %"));
}

}  // namespace
}  // namespace coldbay::wall_picture_test
