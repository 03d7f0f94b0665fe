#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

#include "tools/input/case.hpp"

namespace coldbay::case_reader_test {
namespace {

const std::string air = "air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}\n";

Case read(const std::string& text) { return read_case({"case.yaml", text}); }

std::vector<InputError> errors_of(const std::string& text) {
  try {
    read(text);
  } catch (const InputErrors& e) {
    return e.errors();
  }
  ADD_FAILURE() << "read without an error:\n" << text.substr(0, 500);
  return {};
}

/// `LINE:COLUMN TITLE` of the only error of a text; all of them where there are more.
std::string only_error(const std::string& text) {
  std::string out;
  for (const InputError& e : errors_of(text))
    out += fmt::format("{}{}:{} {}", out.empty() ? "" : "\n", e.where.line, e.where.column, e.title);
  return out;
}

/// A softwood plate of 100 x 50 mm with more shapes painted over it, from column 5 of line 6 on.
std::string plate(const std::string& shapes = "", const std::string& width = "100 mm") {
  return air + "section:\n  width: " + width +
         "\n  depth: 50 mm\n  shapes:\n"
         "  - {material: softwood, across: [0 mm, 100 mm], depth: [0 mm, 50 mm]}\n" +
         shapes;
}

std::string wall(const std::string& bay, const std::string& spacing = "600 mm") {
  return air +
         "wall:\n  height: 2.4 m\n  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n"
         "  frame: {member: softwood 45 x 140 mm, spacing: " +
         spacing + "}\n  bays:\n  - " + bay + "\nsections: [plan at 1.2 m]\n";
}

TEST(CaseErrors, AreToldAllAtOnceInOrderWithTheirPlaces) {
  // The air comes last here and is read first: the order is that of the file.
  const SourceText source{"walls/bad.yaml",
                          "title: Büro½\n"
                          "units: Metrc\n"
                          "section:\n"
                          "  widht: 100 mm\n"
                          "  depth: .nan\n"
                          "  shapes:\n"
                          "    - {material: gypsum bord, across: [0 mm, 100 mm], depth: [0 mm, 50 mm]}\n"
                          "    - {material: steel, across: [90 mm, 80 mm], depth: [0 mm, 50 mm]}\n"
                          "air:\n"
                          "  inside:  {temperature: 20 mm}\n"
                          "  outside: {temperature: 0 °C, film: -0.04}\n"};
  std::string text;
  try {
    read_case(source);
  } catch (const InputErrors& e) {
    for (const InputError& x : e.errors()) text += render(x, source);
  }
  EXPECT_EQ(text,
            R"(walls/bad.yaml:2:8: error: 'Metrc' is not a system of units
    2 | units: Metrc
      |        ^^^^^
 hint: did you mean 'metric'? a system of units is one of: metric, inch-pound
walls/bad.yaml:4:3: error: unknown key 'widht'
    4 |   widht: 100 mm
      |   ^^^^^ not a key of a section
 hint: did you mean 'width'? a section takes: width, depth, shapes, cut
walls/bad.yaml:4:3: error: a section needs 'width'
    4 |   widht: 100 mm
      |   ^
walls/bad.yaml:5:10: error: '.nan' is not a length such as 89 mm or 3-1/2 in
    5 |   depth: .nan
      |          ^^^^
walls/bad.yaml:7:18: error: no material is called 'gypsum bord'
    7 |     - {material: gypsum bord, across: [0 mm, 100 mm], depth: [0 mm, 50 mm]}
      |                  ^^^^^^^^^^^
 hint: did you mean 'gypsum board'? 'coldbay materials' lists all; or give {conductivity: 0.04 W/mK}
walls/bad.yaml:8:33: error: this stretch runs backwards
    8 |     - {material: steel, across: [90 mm, 80 mm], depth: [0 mm, 50 mm]}
      |                                 ^
 hint: write the smaller number first
walls/bad.yaml:10:26: error: '20 mm' is not a temperature such as 20 °C or 70 °F
   10 |   inside:  {temperature: 20 mm}
      |                          ^^^^^
walls/bad.yaml:11:38: error: '-0.04' is out of range
   11 |   outside: {temperature: 0 °C, film: -0.04}
      |                                      ^^^^^
 hint: a resistance is 0 or more (and below 1e4 m2K/W)
)");
}

TEST(CaseErrors, CutLongLinesAndCannotMoveTheCursor) {
  const std::string text = "x: " + std::string(300, '.') + "\n\"\\e[2J\": 1 # \x1b[31m\n";
  const SourceText source{"a\nb.yaml", text};
  const std::string first = render({{1, 250, 3}, "bad\x1b[31m", "here\x07", "so\nthen\xC2\x9B"}, source);
  EXPECT_EQ(first.find('\x1b'), std::string::npos);
  EXPECT_EQ(first.find('\x07'), std::string::npos);
  EXPECT_EQ(first.find("\xC2\x9B"), std::string::npos);
  EXPECT_EQ(std::count(first.begin(), first.end(), '\n'), 4);  // message, line, caret, hint
  EXPECT_NE(first.find("\n      |                     ^^^ here"), std::string::npos) << first;
  EXPECT_EQ(render({{2, 1, 1}, "t", "", ""}, source).find('\x1b'), std::string::npos);
  EXPECT_EQ(render({{1, 4, 1}, "t", "", ""}, {"f", "é: \x9B[31m\xE2"}),
            "f:1:4: error: t\n    1 | é: ?[31m?\n      |    ^\n");
}

TEST(CaseErrors, QuoteWholeCharactersOfALongText) {
  EXPECT_EQ(shortened("short"), "short");
  EXPECT_EQ(shortened(std::string(79, 'a') + "éb"), std::string(79, 'a') + "...");
  EXPECT_EQ(shortened(std::string(78, 'a') + "éb"), std::string(78, 'a') + "é...");
}

TEST(CaseErrors, StopAtAHundred) {
  std::string text = air + "section:\n  width: 1 m\n  depth: 1 m\n  shapes:\n";
  for (int i = 0; i < 50'000; ++i) text += "  - {material: gypsum bord}\n";  // a minute, were each looked up
  EXPECT_EQ(errors_of(text).size(), most_errors);
}

TEST(CaseErrors, NameTheNearestWord) {
  const auto expect_hint = [](const std::string& text, const std::string& hint) {
    bool found = false;
    for (const InputError& e : errors_of(text)) found = found || e.hint.find(hint) != std::string::npos;
    EXPECT_TRUE(found) << hint << "\n" << text;
  };
  expect_hint(plate("  - {materal: steel, across: [0, 1], depth: [0, 1]}\n"), "did you mean 'material'?");
  expect_hint(plate("  - {material: STEAL, across: [0, 1], depth: [0, 1]}\n"), "did you mean 'steel'?");
  expect_hint("units: Metrc\n" + plate(), "did you mean 'metric'?");
  expect_hint("units: imperial\n" + plate(), "metric, inch-pound");  // near neither, so both
  expect_hint(wall("R-13"), "did you mean 'batt R-13'?");
  expect_hint(wall("{fill: cellulose, gap: {lefft: 1 mm}}"), "did you mean 'left'?");
}

TEST(CaseErrors, ACommaInANumberIsExplained) {
  const auto errors = errors_of("section: {width: 12,5 mm, depth: 1 mm, shapes: []}\n" + air);
  const auto key = std::find_if(errors.begin(), errors.end(),
                                [](const InputError& e) { return e.title == "unknown key '5 mm'"; });
  ASSERT_NE(key, errors.end());
  EXPECT_NE(key->hint.find("decimals after a point"), std::string::npos);
  EXPECT_EQ(only_error(plate("", "'12,5 mm'")), "3:10 '12,5 mm': write the decimals after a point");
}

TEST(CaseErrors, ACaseIsAWallOrASection) {
  EXPECT_EQ(only_error(air), "1:1 this case has neither a section nor a wall");
  EXPECT_EQ(only_error(plate() + wall("nothing").substr(air.size())),
            "1:1 this case has both a section and a wall");
  EXPECT_EQ(only_error(plate() + "sections: [plan at 1 m]\n"),
            "7:11 'sections' are cuts through a wall, and this case has none");
  EXPECT_EQ(only_error(wall("nothing") + "probes: {A: [0, 0]}\n"),
            "9:9 probes go with a section drawn by shapes");
  EXPECT_EQ(only_error("[a]\n"), "1:1 a list stands where a case is wanted");
  EXPECT_EQ(only_error(plate().substr(air.size())), "1:1 a case needs 'air'");
}

TEST(CaseErrors, SizesAreThoseOfWalls) {
  for (const char* width : {"1e9 m", "1e-9 mm", "0", "-5 mm", "-0", "101 m"})
    EXPECT_EQ(only_error(plate("", width)), fmt::format("3:10 '{}' is out of range", width));
  for (const char* width : {".nan", "NaN", ".inf", "-.inf", "1e999 mm"})
    EXPECT_EQ(only_error(plate("", width)),
              fmt::format("3:10 '{}' is not a length such as 89 mm or 3-1/2 in", width));
  EXPECT_EQ(only_error(plate("", "0x10 mm")).find("3:10 "), 0u);
}

TEST(CaseErrors, AirsAreWarmerThanOneAnother) {
  const std::string section = plate().substr(air.size());
  const std::string equal = "air: {inside: {temperature: 20 °C}, outside: {temperature: 68 °F}}\n";
  EXPECT_EQ(only_error(equal + section),
            "1:6 inside and outside are equally warm: no face of this section is heated");
  EXPECT_NO_THROW(read(equal + "sides: {left: {temperature: 5 °C, film: 0}}\n" + section));
  for (const char* bad : {"-274 °C", "2000 °C", "-1 K", ".nan"})
    EXPECT_EQ(errors_of("air: {inside: {temperature: " + std::string(bad) +
                        "}, outside: {temperature: 0}}\n" + section)
                  .front()
                  .where.column,
              29)
        << bad;
  EXPECT_EQ(
      only_error("air: {inside: {temperature: 20, humidity: 35}, outside: {temperature: 0}}\n" + section),
      "1:43 '35' is more than 1: is '35 %' meant?");
}

TEST(CaseErrors, TheAirInGaps) {
  const std::string section = plate().substr(air.size());
  const auto gaps = [&](const std::string& words) {
    return only_error("air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}, " + words + "}\n" +
                      section);
  };
  EXPECT_EQ(gaps("gaps: loop"), "1:73 'loop' is not what the air in gaps does");
  EXPECT_EQ(gaps("gap tolerance: -1 mm"), "1:82 gaps can be off by 0 mm to 5 mm either way");
  EXPECT_EQ(gaps("gap tolerance: 6 mm"), "1:82 gaps can be off by 0 mm to 5 mm either way");
  EXPECT_EQ(gaps("gap tolerance: 10 %"), "1:82 '10 %' is not a length such as 89 mm or 3-1/2 in");
}

TEST(CaseErrors, ShapesAndProbesLieInTheSection) {
  EXPECT_EQ(
      only_error(plate("", "120 mm")).find("6:3 part of the section has no material, first at across 100"),
      0u);
  EXPECT_EQ(only_error(plate("  - {material: steel, across: [200 mm, 300 mm], depth: [0, 50]}\n")),
            "7:5 this shape lies outside the section");
  EXPECT_EQ(only_error(plate() + "probes: {A.1: [200 mm, 0 mm]}\n"),
            "7:15 probe A.1 lies outside the section");
  EXPECT_EQ(only_error(plate() + "probes: {A: [0 mm]}\n"),
            "7:13 a probe is two lengths, such as [0 mm, 12.5 mm]");
}

TEST(CaseErrors, ShapesHaveAnOutline) {
  EXPECT_EQ(only_error(plate("  - {material: steel, polygon: [[0,0],[10,10],[10,0],[0,10]]}\n")),
            "7:32 two edges of this polygon cross");
  EXPECT_EQ(only_error(plate("  - {material: steel, polygon: [[0,0],[10,10],[20,20]]}\n")),
            "7:32 this polygon encloses no area");
  EXPECT_EQ(only_error(plate("  - {material: steel, polygon: [[0,0],[10,10]]}\n")),
            "7:32 a polygon needs at least three corners");
  EXPECT_EQ(only_error(plate("  - {material: steel, across: [30, 20], depth: [5, 5]}\n")),
            "7:31 this stretch runs backwards\n7:48 this stretch has no length");
  EXPECT_EQ(only_error(plate("  - {material: steel}\n")), "7:5 this shape has no outline");
  EXPECT_EQ(only_error(plate("  - {material: steel, across: [1, 2], polygon: []}\n")),
            "7:5 this shape has more than one outline");
  EXPECT_EQ(only_error(plate("  - {material: steel, circle: {centre: [5, 5], radius: 0}}\n")),
            "7:56 '0' is out of range");
}

TEST(CaseErrors, TooManyCornersOrCellsAreRefusedAtOnce) {
  const auto begin = std::chrono::steady_clock::now();
  std::string corners;
  for (int i = 0; i < 30'000; ++i) corners += fmt::format("[{}, {}],", i % 100, (i * 7) % 50);
  EXPECT_EQ(only_error(plate("  - {material: steel, polygon: [" + corners + "]}\n")),
            "7:32 this polygon has 30000 corners");
  // 20 nm at its thick end: drawn as finely as it asks, this would be 179 million cells and 10 GB.
  const auto sliver = errors_of(plate("  - {material: steel, polygon: [[0,0],[100,50],[100,50.00002]]}\n"));
  EXPECT_NE(sliver.front().title.find("cells, more than the 1e+07 that are allowed"), std::string::npos);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
  EXPECT_LT(took.count(), 3.0);  // [s]; a tenth of one as it is, many if anything large is tried first
}

TEST(CaseErrors, BaysHoldWhatIsPutInThem) {
  EXPECT_EQ(only_error(wall("{fill: cellulose, gap: {left: 300 mm, right: 300 mm}}")),
            "7:28 gaps of 600.0 mm leave nothing of a bay 555.0 mm wide");
  EXPECT_EQ(only_error(wall("{fill: cellulose, gap: {room: 70 mm, sheathing: 70 mm}}")),
            "7:28 gaps of 140.0 mm leave nothing of a bay 140.0 mm deep");
  EXPECT_EQ(only_error(wall("{fill: cellulose, box: {at: 1.2 m, behind: open, width: 700 mm}}")),
            "7:61 a box 700.0 mm wide does not fit a bay 555.0 mm wide");
  EXPECT_EQ(only_error(wall("{fill: cellulose, box: {at: 1.2 m, behind: open, depth: 200 mm}}")),
            "7:61 a box 200.0 mm deep reaches through the frame");
  EXPECT_EQ(only_error(wall("cellulose", "40 mm")), "7:5 this bay is -5.0 mm wide");
  EXPECT_EQ(only_error(wall("{fill: cellulose, clear width: -5 mm}")), "7:36 '-5 mm' is out of range");
  EXPECT_EQ(only_error(wall("{fill: cellulose, batt: R-13}")), "7:5 this bay has a batt and another fill");
  EXPECT_EQ(only_error(wall("{batt: R-14}")), "7:12 no material is called 'batt R-14'");
}

TEST(CaseErrors, AnAccuracyMustBeOneThatCanBeHad) {
  const auto with = [](const std::string& accuracy) { return "accuracy: " + accuracy + "\n" + plate(""); };
  EXPECT_EQ(only_error(with("{U: 5 %}")), "1:15 U can be had within 0.001 % to 1 %");
  EXPECT_EQ(only_error(with("0.0001 %")), "1:11 U can be had within 0.001 % to 1 %");
  EXPECT_EQ(only_error(with("{surface: 20 K}")), "1:21 the room face can be had within 0.0001 K to 1 K");
  EXPECT_EQ(only_error(with("{u: 1 %}")), "1:12 unknown key 'u'");
  EXPECT_EQ(only_error(with("high")), "1:11 'high' is not a share such as 35 % or 0.35");
}

TEST(CaseErrors, OnlyScrapsOfABattHaveAFillFraction) {
  EXPECT_EQ(only_error(wall("{fill: cellulose, fill fraction: 60 %}")),
            "7:38 only scraps of a batt have a fill fraction");
  EXPECT_EQ(only_error(wall("{batt: R-13, fill fraction: 10 %}")),
            "7:33 a fill fraction can be reckoned from 30 % up");
  EXPECT_EQ(only_error(wall("{batt: R-13, fill fraction: 120 %}")), "7:33 '120 %' is out of range");
}

TEST(CaseErrors, EachMistakeInAWallIsToldOnce) {
  std::string text = wall("cellulose");
  const auto with = [&](const std::string& from, const std::string& to) {
    std::string out = text;
    return out.replace(out.find(from), from.size(), to);
  };
  EXPECT_EQ(only_error(with("  bays:\n  - cellulose\n", "")), "3:3 a wall needs 'bays'");
  EXPECT_EQ(only_error(with("  frame: {member: softwood 45 x 140 mm, spacing: 600 mm}\n", "")),
            "3:3 a wall needs 'frame'");
  EXPECT_EQ(only_error(with("member: softwood 45 x 140 mm, ", "")), "5:10 a frame needs 'member'");
  EXPECT_EQ(only_error(with("140 mm", "140 kg")),
            "5:19 the unit 'kg' is not known: write a length such as 89 mm or 3-1/2 in");
  EXPECT_EQ(only_error(with("osb 11 mm", "osb 11 kg")),
            "4:41 the unit 'kg' is not known: write a length such as 89 mm or 3-1/2 in");
  EXPECT_EQ(only_error(with("osb 11 mm", "steel")), "4:41 how thick is the layer of steel?");
  EXPECT_EQ(only_error(with("osb 11 mm", "frame")), "4:11 the wall has 2 frame layers");
  EXPECT_EQ(only_error(with("[plan at 1.2 m]", "[plan at 9 m]")),
            "8:12 a plan section at 9000.0 mm does not cut the bays of this wall");
  EXPECT_EQ(only_error(with("[plan at 1.2 m]", "[elevation]")), "8:12 a section is a cut through the wall");
  EXPECT_EQ(only_error(with("sections: [plan at 1.2 m]\n", "")),
            "3:3 the wall is not cut: 'sections' is missing");
  // Both would be written to plan-at-8-face.png.
  EXPECT_EQ(only_error(with("[plan at 1.2 m]", "[plan at 8\", plan at 8']")),
            "8:24 the section 'plan at 8\"' is already there");
}

TEST(CaseWarnings, AShapeThatIsNeverSeenIsNamed) {
  const Case c = read(
      "section:\n  width: 100 mm\n  depth: 50 mm\n  shapes:\n"
      "  - {material: steel, across: [10 mm, 20 mm], depth: [0 mm, 50 mm]}\n"
      "  - {material: softwood, across: [0 mm, 100 mm], depth: [0 mm, 50 mm]}\n" +
      air);
  ASSERT_EQ(c.warnings.size(), 1u);
  EXPECT_EQ(c.warnings[0].where.line, 5);
  EXPECT_EQ(c.warnings[0].title, "this shape is never seen: later shapes cover it");
  EXPECT_TRUE(read(plate()).warnings.empty());
}

TEST(CaseReader, RoomAirByHeight) {
  const std::string wall =
      "wall: {height: 2400 mm, layers: [gypsum board 12.7 mm, frame, osb 11 mm], frame: {member: softwood 38 "
      "x 89 mm, "
      "spacing: 400 mm}, bays: [{batt: R-13}]}\nsections: [vertical through bay 1]\n";
  const auto room = [&](const std::string& levels) {
    return "air:\n  inside: {temperature: 20 °C, by height: " + levels +
           "}\n  outside: {temperature: 0 °C}\n" + wall;
  };
  const Case c = read(room("[[0.1 m, 18.5 °C], [2300 mm, 21.5 °C]]"));
  ASSERT_EQ(c.air.by_height.size(), 2U);
  EXPECT_DOUBLE_EQ(c.air.by_height[1].up, 2.3);
  EXPECT_DOUBLE_EQ(c.air.by_height[1].celsius, 21.5);
  EXPECT_EQ(only_error(room("[[2.3 m, 21 °C], [0.1 m, 19 °C]]")),
            "2:60 this height does not lie above the one before it");
  EXPECT_EQ(only_error(room("[[0.1 m, 21 °C], [2.3 m, 24 °C]]")),
            "2:43 the room's temperature is none of those it has by height");
  EXPECT_EQ(
      only_error(room("[18 °C, 21 °C]")),
      "2:44 a height and a temperature are wanted here\n2:51 a height and a temperature are wanted here");
}

}  // namespace
}  // namespace coldbay::case_reader_test
