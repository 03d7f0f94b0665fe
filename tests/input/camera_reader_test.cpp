#include <fmt/core.h>
#include <gtest/gtest.h>

#include <numbers>
#include <string>

#include "tools/input/case.hpp"

namespace coldbay::camera_reader_test {
namespace {

/// A wall of two bays, 1200 mm wide and 2.4 m high; more keys from line 8 on.
std::string wall_with(const std::string& more, const std::string& units = "metric") {
  return "units: " + units +
         "\nair: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}\n"
         "wall:\n  height: 2.4 m\n  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n"
         "  frame: {member: softwood 45 mm x 140 mm, spacing: 600 mm}\n  bays: [batt 140 mm, batt 140 mm]\n" +
         more + "sections: [plan at 1.2 m]\n";
}

Case read(const std::string& text) { return read_case({"case.yaml", text}); }

std::string errors_of(const std::string& text) {
  const SourceText source{"case.yaml", text};
  std::string out;
  try {
    read_case(source);
  } catch (const InputErrors& e) {
    for (const InputError& x : e.errors()) out += render(x, source);
  }
  return out;
}

TEST(CameraReader, ReadsACameraWithItsUnits) {
  const Case c = read(wall_with(
      "camera: {emissivity: 0.92, reflected: 21 °C, distance: 2 m, field of view: 30°, pixels: [640, 480],\n"
      "         noise: 0.1 °F, blur: 1.2, band: all, seed: 7}\n"));
  ASSERT_TRUE(c.camera);
  EXPECT_EQ(c.camera->emissivity, 0.92);
  EXPECT_EQ(c.camera->reflected, 21.0);
  EXPECT_EQ(c.camera->distance, 2.0);
  EXPECT_NEAR(c.camera->field_of_view, std::numbers::pi / 6.0, 1e-15);
  EXPECT_EQ(c.camera->columns, 640);
  EXPECT_EQ(c.camera->rows, 480);
  EXPECT_NEAR(c.camera->noise, 0.1 / 1.8, 1e-15);  // a difference of temperature
  EXPECT_EQ(c.camera->blur, 1.2);
  EXPECT_EQ(c.camera->band, Band::all);
  EXPECT_EQ(c.camera->seed, 7u);
  EXPECT_EQ(read(wall_with("camera: {distance: 120}\n", "inch-pound")).camera->distance, 120 * 0.0254);
  for (const char* angle :
       {"0.6 rad", "34.3774677078494 deg", "34.3774677078494", "34.3774677078494 degrees"})
    EXPECT_NEAR(read(wall_with(fmt::format("camera: {{field of view: {}}}\n", angle))).camera->field_of_view,
                0.6, 1e-14)
        << angle;
}

TEST(CameraReader, WhatIsNotSaidIsUsual) {
  EXPECT_FALSE(read(wall_with("")).camera);
  const Camera usual, read_so = *read(wall_with("camera: {band: long wave}\n")).camera;
  EXPECT_EQ(read_so.columns, usual.columns);
  EXPECT_EQ(read_so.field_of_view, usual.field_of_view);
  EXPECT_EQ(read_so.distance, usual.distance);
  EXPECT_EQ(read_so.emissivity, usual.emissivity);
  EXPECT_FALSE(read_so.reflected);
  EXPECT_EQ(read_so.band, Band::long_wave);
  EXPECT_NO_THROW(require_camera(usual));
}

TEST(CameraReader, TellsAllThatIsWrongAtOnce) {
  EXPECT_EQ(errors_of(wall_with("camera:\n"
                                "  emisivity: 0.9\n"
                                "  emissivity: 0\n"
                                "  reflected: -300 °C\n"
                                "  distance: 0 m\n"
                                "  field of view: 120°\n"
                                "  pixels: [0, -4]\n"
                                "  noise: -0.1 K\n"
                                "  blur: -1\n"
                                "  band: longwave\n"
                                "  seed: 1.5\n"
                                "picture:\n"
                                "  span: 0 K\n"
                                "  spots: {plate: [1300 mm, 1 m]}\n")),
            R"(case.yaml:9:3: error: unknown key 'emisivity'
    9 |   emisivity: 0.9
      |   ^^^^^^^^^ not a key of a camera
 hint: did you mean 'emissivity'? a camera takes: emissivity, reflected, distance, field of view, pixels, noise, blur, band, seed
case.yaml:10:15: error: '0' is out of range
   10 |   emissivity: 0
      |               ^
 hint: an emissivity lies above 0 (from 0.001) and is 1 at most; 0.9 is usual
case.yaml:11:14: error: '-300 °C' is out of range
   11 |   reflected: -300 °C
      |              ^^^^^^^
 hint: a temperature lies between absolute zero, -273.15 °C, and 1500 °C
case.yaml:12:13: error: '0 m' is out of range
   12 |   distance: 0 m
      |             ^^^
 hint: a size lies between 0.01 mm and 100 m
case.yaml:13:18: error: '120°' is out of range
   13 |   field of view: 120°
      |                  ^^^^
 hint: a field of view lies above 0° (from 0.1°) and below 120°
case.yaml:14:12: error: a whole number from 1 to 10000000 is wanted here
   14 |   pixels: [0, -4]
      |            ^
case.yaml:14:15: error: a whole number from 1 to 10000000 is wanted here
   14 |   pixels: [0, -4]
      |               ^^
case.yaml:15:10: error: '-0.1 K' is out of range
   15 |   noise: -0.1 K
      |          ^^^^^^
 hint: noise lies between 0 K and 10 K; 0.05 K is usual
case.yaml:16:9: error: '-1' is out of range
   16 |   blur: -1
      |         ^^
 hint: blur lies between 0 and 50 pixels; 0.7 is usual
case.yaml:17:9: error: 'longwave' is not a band
   17 |   band: longwave
      |         ^^^^^^^^
 hint: did you mean 'long wave'? a band is one of: long wave, all
case.yaml:18:9: error: a whole number from 0 to 1000000000 is wanted here
   18 |   seed: 1.5
      |         ^^^
case.yaml:20:9: error: '0 K' is out of range
   20 |   span: 0 K
      |         ^^^
 hint: a span is the width of the scale, above 0 K (from 0.001 to 1000 K)
case.yaml:21:18: error: a spot is off the wall
   21 |   spots: {plate: [1300 mm, 1 m]}
      |                  ^
 hint: [across, up]: this wall is 1200 mm wide and 2400 mm high
)");
}

TEST(CameraReader, TellsOfOtherThingsThatCannotBe) {
  EXPECT_EQ(errors_of(wall_with("camera: {emissivity: 1.2, pixels: [4000, 3000], field of view: 20 mm}\n")),
            R"(case.yaml:8:22: error: '1.2' is out of range
    8 | camera: {emissivity: 1.2, pixels: [4000, 3000], field of view: 20 mm}
      |                      ^^^
 hint: an emissivity lies above 0 (from 0.001) and is 1 at most; 0.9 is usual
case.yaml:8:35: error: 4000 by 3000 pixels are more than ten million
    8 | camera: {emissivity: 1.2, pixels: [4000, 3000], field of view: 20 mm}
      |                                   ^
 hint: a usual camera for buildings has [320, 240], a large one [1024, 768]
case.yaml:8:64: error: '20 mm' is not an angle such as 45° or 0.8 rad
    8 | camera: {emissivity: 1.2, pixels: [4000, 3000], field of view: 20 mm}
      |                                                                ^^^^^
)");
  EXPECT_EQ(errors_of(wall_with("camera: good\n")),
            R"(case.yaml:8:9: error: a word stands where a camera is wanted
    8 | camera: good
      |         ^^^^
 hint: a camera takes: emissivity, reflected, distance, field of view, pixels, noise, blur, band, seed
)");
  EXPECT_EQ(errors_of(wall_with("camera: {pixels: 320, noise: 11 K, field of view: 0}\n")),
            R"(case.yaml:8:18: error: pixels are two whole numbers, across and up, such as [320, 240]
    8 | camera: {pixels: 320, noise: 11 K, field of view: 0}
      |                  ^^^
case.yaml:8:30: error: '11 K' is out of range
    8 | camera: {pixels: 320, noise: 11 K, field of view: 0}
      |                              ^^^^
 hint: noise lies between 0 K and 10 K; 0.05 K is usual
case.yaml:8:51: error: '0' is out of range
    8 | camera: {pixels: 320, noise: 11 K, field of view: 0}
      |                                                   ^
 hint: a field of view lies above 0° (from 0.1°) and below 120°
)");
}

TEST(PictureReader, ReadsWhatIsWanted) {
  const Case c =
      read(wall_with("picture:\n  level: 18 °C\n  span: 6 K\n"
                     "  spots: {plate: [200 mm, 48 in], corner: [0, 0]}\n"
                     "  lines: {across the box: [[0 mm, 1 m], [1.2 m, 1 m]]}\n"
                     "  thresholds: {frost: 32 °F}\n"));
  EXPECT_EQ(c.picture.level, 18.0);
  EXPECT_EQ(c.picture.span, 6.0);
  ASSERT_EQ(c.picture.spots.size(), 2u);
  EXPECT_EQ(c.picture.spots[0].name, "plate");
  EXPECT_EQ(c.picture.spots[0].at.across, 0.2);
  EXPECT_NEAR(c.picture.spots[0].at.up, 1.2192, 1e-12);
  EXPECT_EQ(c.picture.spots[1].at.up, 0.0);
  ASSERT_EQ(c.picture.lines.size(), 1u);
  EXPECT_EQ(c.picture.lines[0].name, "across the box");
  EXPECT_EQ(c.picture.lines[0].to.across, 1.2);
  EXPECT_EQ(c.picture.lines[0].from.up, 1.0);
  ASSERT_EQ(c.picture.thresholds.size(), 1u);
  EXPECT_NEAR(c.picture.thresholds[0].celsius, 0.0, 1e-12);
  EXPECT_FALSE(read(wall_with("")).picture.level);
}

TEST(PictureReader, TellsAllThatIsWrongAtOnce) {
  EXPECT_EQ(errors_of(wall_with("picture:\n"
                                "  levl: 18 °C\n"
                                "  span: -6 K\n"
                                "  spots: {plate: [200 mm, 2500 mm], beside: [-1 mm, 0 mm], half: 3}\n"
                                "  lines:\n"
                                "    one point: [[0 mm, 1 m], [0 mm, 1 m]]\n"
                                "    too far: [[0 mm, 1 m], [9 m, 1 m]]\n"
                                "    short: [[0 mm, 1 m]]\n"
                                "  thresholds: [0 °C]\n")),
            R"(case.yaml:9:3: error: unknown key 'levl'
    9 |   levl: 18 °C
      |   ^^^^ not a key of a picture
 hint: did you mean 'level'? a picture takes: level, span, spots, lines, thresholds
case.yaml:10:9: error: '-6 K' is out of range
   10 |   span: -6 K
      |         ^^^^
 hint: a span is the width of the scale, above 0 K (from 0.001 to 1000 K)
case.yaml:11:18: error: a spot is off the wall
   11 |   spots: {plate: [200 mm, 2500 mm], beside: [-1 mm, 0 mm], half: 3}
      |                  ^
 hint: [across, up]: this wall is 1200 mm wide and 2400 mm high
case.yaml:11:45: error: a spot is off the wall
   11 |   spots: {plate: [200 mm, 2500 mm], beside: [-1 mm, 0 mm], half: 3}
      |                                             ^
 hint: [across, up]: this wall is 1200 mm wide and 2400 mm high
case.yaml:11:66: error: a spot is two lengths, such as [0 mm, 12.5 mm]
   11 |   spots: {plate: [200 mm, 2500 mm], beside: [-1 mm, 0 mm], half: 3}
      |                                                                  ^
case.yaml:13:16: error: both ends of this line are one point
   13 |     one point: [[0 mm, 1 m], [0 mm, 1 m]]
      |                ^
 hint: a spot reads a point
case.yaml:14:28: error: an end of a line is off the wall
   14 |     too far: [[0 mm, 1 m], [9 m, 1 m]]
      |                            ^
 hint: [across, up]: this wall is 1200 mm wide and 2400 mm high
case.yaml:15:12: error: a line has two ends, such as [[0 mm, 1.2 m], [2 m, 1.2 m]]
   15 |     short: [[0 mm, 1 m]]
      |            ^
case.yaml:16:15: error: thresholds have names
   16 |   thresholds: [0 °C]
      |               ^
 hint: write thresholds: {frost: 0 °C}
)");
}

TEST(PictureReader, ASectionHasNoFaceForSpots) {
  const std::string section =
      "air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}\n"
      "section:\n  width: 100 mm\n  depth: 50 mm\n  shapes:\n"
      "  - {material: softwood, across: [0 mm, 100 mm], depth: [0 mm, 50 mm]}\n"
      "picture: {level: 18 °C, span: 6 K, spots: {a: [0, 0]}}\n";
  EXPECT_EQ(errors_of(section),
            R"(case.yaml:7:43: error: spots lie on the face of a wall, and this case draws a section
    7 | picture: {level: 18 °C, span: 6 K, spots: {a: [0, 0]}}
      |                                           ^
 hint: leave them out; probes read a section
)");
}

}  // namespace
}  // namespace coldbay::camera_reader_test
