#include <fmt/core.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tools/input/case.hpp"

// What a wall cannot be, in the words of a case: one mistake, one error, at its place.

namespace coldbay::wall_errors_test {
namespace {

/// LINE:COLUMN TITLE of every error of a text, and its hint where asked.
std::string errors(const std::string& text, bool hints = false) {
  std::string out;
  try {
    read_case({"case.yaml", text});
  } catch (const InputErrors& e) {
    for (const InputError& x : e.errors()) {
      out += fmt::format("{}{}:{} {}", out.empty() ? "" : "\n", x.where.line, x.where.column, x.title);
      if (hints) out += " | " + x.hint;
    }
  }
  return out;
}

constexpr const char* wood = "member: softwood 38 x 89 mm, spacing: 406.4 mm";

/// A 2x4 wall; its bays begin at column 5 of line 7, one a line.
std::string wall(const std::vector<std::string>& bays, const std::string& section = "plan at 1.2 m",
                 const std::string& frame = wood) {
  std::string text =
      "air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}\nwall:\n  height: 2.4 m\n"
      "  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n  frame: {" +
      frame + "}\n  bays:\n";
  for (const std::string& bay : bays) text += fmt::format("  - {}\n", bay);
  return text + fmt::format("sections: [{}]\n", section);
}

std::string of(const std::string& words) { return errors(wall({fmt::format("{{batt: R-13, {}}}", words)})); }

TEST(WallErrors, APieceThatCannotFit) {
  EXPECT_EQ(errors(wall({"{batt: R-13}"})), "");
  EXPECT_EQ(of("width: 900 mm"), "7:25 a batt 900.0 mm wide does not go into 368.4 mm");
  EXPECT_EQ(of("width: 600 mm"), "7:25 a batt 600.0 mm wide does not go into 368.4 mm");
  EXPECT_EQ(of("short: 2.4 m"), "7:25 a batt 2400.0 mm too short for a bay 2324.0 mm high is none");
  EXPECT_EQ(of("folded: 1.2 m"), "7:26 an end of 1200.0 mm does not fold under in a bay 2324.0 mm high");
  EXPECT_EQ(of("folded: 100 mm, fallen: 10 mm"), "7:26 a batt is too long or too short, not both");
  EXPECT_EQ(of("fallen: 100 %"), "7:26 a batt 2324.0 mm high cannot slump by 2324.0 mm");
  EXPECT_EQ(of("thickness: 100 mm"), "7:29 a batt 100.0 mm thick has 89.0 mm here");
  EXPECT_EQ(of("thickness: 20 mm"),
            "7:29 batt R-13 is 88.9 mm thick: squeezed to 20.0 mm it cannot be reckoned");
  EXPECT_EQ(of("staples: {depth: 80 mm}"), "7:27 pockets 80.0 mm deep leave 9.0 mm of the batt");
  EXPECT_EQ(of("staples: {pocket: 200 mm}"),
            "7:27 pockets of 200.0 mm along both studs are wider than a bay of 368.4 mm");
  EXPECT_EQ(errors(wall({"{batt: R-38}"})),
            "7:5 batt R-38 is 304.8 mm thick and has 89.0 mm here: that is more than a batt can be squeezed");
  EXPECT_EQ(errors(wall({"{layers: [batt R-13, cellulose]}"})),
            "7:5 fills of 88.9 mm leave nothing of 89.0 mm for the one that is to take the rest");
  // By hand: 158.8 / 89, 2324 / (2324 - 600), 450 / 368.4, and 0.94 of the area within the shoulders.
  EXPECT_EQ(errors(wall({"{batt: R-19, width: 450 mm, shoulders: 60 mm, fallen: 600 mm}"})),
            "7:5 all this together squeezes batt R-19 to 3.1 times its density");
}

TEST(WallErrors, GapsAtTheEnds) {
  EXPECT_EQ(of("gap: {top: 10 mm, bottom: 1/2 in}"), "");
  EXPECT_EQ(of("gap: {top: 1 m, bottom: 1.4 m}"),
            "7:23 gaps of 2400.0 mm at the ends leave nothing of a bay 2324.0 mm high");
  EXPECT_EQ(of("gap: {top: 2.324 m}"),
            "7:23 gaps of 2324.0 mm at the ends leave nothing of a bay 2324.0 mm high");
  EXPECT_EQ(of("gap: {top: -3 mm}"), "7:29 '-3 mm' is out of range");
  EXPECT_EQ(of("gap: {end: 3 mm}"), "7:24 unknown key 'end'");
  // What another key gives, or fills, already.
  EXPECT_EQ(of("gap: {top: 3 mm}, short: 20 mm, at: bottom, end: filled"), "");
  EXPECT_EQ(of("gap: {top: 3 mm}, fallen: 20 mm"), "");
  EXPECT_EQ(
      errors(wall({"{batt: R-13, gap: {top: 3 mm}, short: 20 mm, at: top}"}), true),
      "7:29 this batt is short at the top already: which is it? | give what it lacks once: short: 20.0 mm, "
      "at: top, or gap: {top: 20.0 mm}");
  EXPECT_EQ(of("gap: {bottom: 3 mm}, short: 20 mm, at: bottom, end: filled"),
            "7:32 the bottom of this batt is filled: no gap is left there");
  EXPECT_EQ(of("gap: {bottom: 3 mm}, folded: 20 mm"),
            "7:32 the bottom of this batt is folded under: no gap is left there");
  EXPECT_EQ(of("gap: {bottom: 3 mm}, fallen: 20 mm"),
            "7:32 what has slumped or settled stands on the plate: no gap is left below it");
}

TEST(WallErrors, FacingsAreThereOrNot) {
  EXPECT_EQ(of("faced: true"), "");
  EXPECT_EQ(of("staples: none, faced: true"), "");
  EXPECT_EQ(errors(wall({"{fill: nothing, faced: true}"})),
            "7:28 there is nothing in this bay that has a facing");
  EXPECT_EQ(of("faced: maybe"), "7:25 'maybe' is not whether a batt is faced");
  EXPECT_EQ(of("staples: face, faced: false"), "7:40 a batt held by its flange has a facing");
}

TEST(WallErrors, VoidsOutOfTheirBay) {
  EXPECT_EQ(of("void: {across: [-10 mm, 20 mm], depth: [0 mm, 20 mm]}"),
            "7:24 this void reaches out of its bay");
  EXPECT_EQ(of("void: {across: [10 mm, 20 mm], depth: [0 mm, 120 mm]}"),
            "7:24 this void reaches out of its bay");
  EXPECT_EQ(of("void: {across: [10 mm, 20 mm], depth: [0 mm, 20 mm], up: [3 m, 4 m]}"),
            "7:75 this void lies outside its bay");
  EXPECT_EQ(of("void: {across: [10 mm, 20 mm], depth: [0 mm, 20 mm], up: [2 m, 1 m]}"),
            "7:75 this stretch runs backwards");
  EXPECT_EQ(of("void: {polygon: [[10, 10], [20, 20], [30, 30]]}"), "7:34 this polygon encloses no area");
  EXPECT_EQ(of("void: {polygon: [[10, 10], [30, 30], [30, 10], [10, 40]]}"),
            "7:34 two edges of this polygon cross");
}

TEST(WallErrors, ThingsThatCannotStandThere) {
  EXPECT_EQ(of("box: {at: 2.35 m, behind: open}"),
            "7:28 a box 95.0 mm high at 2350.0 mm reaches into a plate or past the wall");
  EXPECT_EQ(of("box: {at: 1.2 m, behind: open}, pipe: {across: 30 mm, batt: split}"),
            "7:56 this pipe goes through the box in the same bay");
  EXPECT_EQ(of("box: [{at: 1.2 m, behind: open}, {at: 1.25 m, behind: open}]"),
            "7:51 this box goes through the box in the same bay");
  EXPECT_EQ(of("box: {at: 1.2 m, behind: squeezed, depth: 90 mm}"),
            "7:43 behind this box are 11.5 mm: the batt cannot be squeezed into that");
  EXPECT_EQ(of("box: {at: 1.2 m, behind: piece, piece: 80 mm}"),
            "7:57 a piece 80.0 mm thick does not fit behind this box");
  EXPECT_EQ(of("cable: {at: 1.2 m, batt: over, depth: 10 mm}"),
            "7:43 the batt would have 5.0 mm of its 89.0 mm beside this cable");
  EXPECT_EQ(of("cable: {at: 2.38 m, batt: split}"), "7:30 a cable 10.0 mm thick at 2380.0 mm leaves its bay");
  EXPECT_EQ(of("cable: {at: 1.2 m, across: 30 mm, batt: split}"), "7:25 this runs across and up at once");
  EXPECT_EQ(errors(wall({"{batt: R-13, cable: {at: 1 m, batt: split, diameter: 200 mm}}"}), true),
            "7:25 a cable 200.0 mm thick at a depth of 44.5 mm leaves its bay | the frame is 89.0 mm deep");
  EXPECT_EQ(errors(wall({"{fill: nothing, box: {at: 1.2 m, behind: filled}}"})),
            "7:46 there is no fill in this bay to put behind it");
  const auto blocked = [](const std::string& bay) {
    return errors(wall({bay}, "plan at 1 m", std::string(wood) + ", blocking: [1.2 m]"));
  };
  EXPECT_EQ(blocked("{batt: R-13, box: {at: 1.2 m, behind: open}}"),
            "7:23 this box is where a row of blocking is");
  EXPECT_EQ(blocked("{batt: R-13, cable: {at: 1.21 m, batt: split}}"),
            "7:25 this cable is where a row of blocking is");
  EXPECT_EQ(blocked("{batt: R-13, cable: {across: 50 mm, batt: split}}"), "");  // drilled
  EXPECT_EQ(errors(wall({"{corner: open}", "{batt: R-13, box: {at: 1.2 m, behind: open}}"})),
            "8:23 this box is where the flat stud of the corner is");
}

TEST(WallErrors, SectionsThroughNothing) {
  const auto cut = [](const std::string& section) { return errors(wall({"{batt: R-13}"}, section), true); };
  EXPECT_EQ(
      cut("plan at 10 mm"),
      "8:12 a plan section at 10.0 mm does not cut the bays of this wall | the bays reach from 38.0 mm to "
      "2362.0 mm above the floor");
  EXPECT_EQ(cut("plan at 3 m").substr(0, 40), "8:12 a plan section at 3000.0 mm does no");
  EXPECT_EQ(cut("vertical at 3 m"),
            "8:12 a vertical section at 3000.0 mm across misses this wall | the wall is described from 0 to "
            "406.4 mm "
            "across");
  EXPECT_EQ(cut("vertical through bay 7"),
            "8:12 there is no bay 7 | the bays are counted from the left, 1 to 1");
  EXPECT_EQ(cut("vertical through bay 0").substr(0, 51),
            "8:12 a whole number from 1 to 100000 is wanted here");
  // Every cut that misses is told.
  EXPECT_EQ(errors(wall({"{batt: R-13}"}, "plan at 3 m, vertical at 3 m")),
            "8:12 a plan section at 3000.0 mm does not cut the bays of this wall\n"
            "8:25 a vertical section at 3000.0 mm across misses this wall");
}

TEST(WallErrors, Openings) {
  const auto window = [](const std::string& words) {
    return errors(wall({"{batt: R-13}", "{batt: R-13, opening: {width: 800 mm, " + words + "}}"}));
  };
  EXPECT_EQ(window("sill: 900 mm, head: 2 m, header: 140 mm, U: 1.4"), "");
  EXPECT_EQ(window("sill: 900 mm, head: 2 m, header: 140 mm"),
            "9:12 this cut goes through an opening, and nothing is known of what that holds");
  EXPECT_EQ(window("sill: 900 mm, head: 2.3 m, header: 140 mm, U: 1.4"),
            "8:63 head and header reach to 2440.0 mm");
  EXPECT_EQ(window("sill: 1900 mm, head: 1.5 m, header: 140 mm, U: 1.4"),
            "8:49 the sill is not below the head");
  EXPECT_EQ(window("sill: 50 mm, head: 2 m, header: 140 mm, U: 1.4"),
            "8:49 there is no room for a sill plate under 50.0 mm");
  EXPECT_EQ(window("head: 2 m, header: 140 mm, U: 9"),
            "8:73 an opening with such a U-value has no resistance but its films");
  EXPECT_EQ(
      errors(wall(
          {"{batt: R-13, fallen: 400 mm, opening: {width: 800 mm, head: 2 m, header: 140 mm, U: 1.4}}"})),
      "7:26 a batt 222.0 mm high cannot slump by 400.0 mm");
  EXPECT_EQ(errors(wall(
                {"{batt: R-13, opening: {width: 800 mm, head: 2 m, header: 140 mm, U: 1.4}}"}, "plan at 1 m",
                "member: steel 41 x 89 mm, sheet: 1.1 mm, spacing: 400 mm, plates: {bottom: 1, top: 1}")),
            "7:27 openings are known in wooden frames only");
}

TEST(WallErrors, PostsAndStuds) {
  EXPECT_EQ(errors(wall({"{batt: R-13}", "{corner: open}", "{batt: R-13}"})),
            "8:5 a corner stands at an end of the wall");
  EXPECT_EQ(errors(wall({"{studs: 2}", "{studs: 2}", "{batt: R-13}"})), "8:5 two posts follow each other");
  const auto placed = [](const std::vector<std::string>& bays) {
    return errors(wall(bays, "plan at 1.2 m", "member: softwood 38 x 89 mm, studs: [0 mm, 400 mm, 900 mm]"));
  };
  EXPECT_EQ(placed({"{batt: R-13}", "{batt: R-13}"}), "");
  EXPECT_EQ(placed({"{batt: R-13}"}), "7:3 3 studs make 2 bays, and 1 are described");
  EXPECT_EQ(placed({"{batt: R-13}", "{studs: 2}", "{batt: R-13}"}),
            "8:5 studs placed one by one are single ones");
  EXPECT_EQ(placed({"{batt: R-13}", "{batt: R-13, clear width: 400 mm}"}),
            "8:5 this bay is 400.0 mm wide, and its studs leave 462.0 mm");
}

// A number or a name that cannot be read is told of, and nothing that would follow from it.
TEST(WallErrors, WhatCannotBeReadIsToldOnce) {
  constexpr const char* no_length = "is not a length such as 89 mm or 3-1/2 in";
  for (const char* words : {"short: x",
                            "folded: x",
                            "fallen: x",
                            "settled: x",
                            "width: x",
                            "thickness: x",
                            "shoulders: x",
                            "gap: {left: x}",
                            "staples: {depth: x}",
                            "staples: {pocket: x}",
                            "clear width: x",
                            "cable: {at: x, batt: over}",
                            "cable: {at: 1 m, batt: over, depth: x}",
                            "cable: {at: 1 m, batt: over, diameter: x}",
                            "cable: {at: 1 m, batt: over, pocket: x}",
                            "pipe: {across: x, batt: behind}",
                            "pipe: {at: 1 m, batt: behind, wall: x}",
                            "box: {at: x, behind: squeezed}",
                            "box: {at: 1 m, behind: squeezed, depth: x}",
                            "box: {at: 1 m, behind: piece, piece: x}",
                            "box: {at: 1 m, behind: open, margin: x}",
                            "duct: {width: x, depth: 60 mm}",
                            "cabinet: {at: 1 m, height: x}",
                            "void: {circle: {centre: [100 mm, 40 mm], radius: x}}",
                            "opening: {width: x, head: 2 m, header: 140 mm, U: 1.4}",
                            "opening: {width: 800 mm, head: x, header: 140 mm, U: 1.4}",
                            "scraps: {lump: x}"}) {
    const std::string said = of(words);
    EXPECT_EQ(std::count(said.begin(), said.end(), '\n'), 0) << words << "\n" << said;
    EXPECT_NE(said.find(no_length), std::string::npos) << words << "\n" << said;
  }
  for (const char* words :
       {"fill fraction: 60 %", "fallen: 20 mm", "width: 300 mm, strip: left", "staples: inset",
        "shoulders: 20 mm", "scraps: stuffed", "box: {at: 1.2 m, behind: filled}",
        "void: {across: [10 mm, 20 mm], depth: [0 mm, 20 mm]}", "cable: {at: 1 m, batt: over}"})
    EXPECT_EQ(errors(wall({fmt::format("{{batt: R-14, {}}}", words)})),
              "7:12 no material is called 'batt R-14'")
        << words;
  EXPECT_EQ(errors(wall({"{layers: [batt R-13, fo 20 mm], fallen: 20 mm}"})),
            "7:26 no material is called 'fo'\n7:45 this can be said of a bay with one batt only");
}

TEST(WallErrors, NumbersOutOfAllReason) {
  for (const char* words :
       {"short: -20 mm", "gap: {left: -5 mm}", "width: -300 mm", "fallen: -5 %", "settled: 200 %",
        "fill fraction: -5 %", "scraps: {pockets: -10 %}", "box: {at: -1 m, behind: open}",
        "cable: {at: 1 m, batt: over, pocket: -1 m}",
        "opening: {width: 800 mm, sill: -900 mm, head: 2 m, header: 140 mm}", "short: 1e300 m"}) {
    const std::string said = of(words);
    EXPECT_EQ(std::count(said.begin(), said.end(), '\n'), 0) << words << "\n" << said;
    EXPECT_NE(said.find("is out of range"), std::string::npos) << words << "\n" << said;
  }
  EXPECT_EQ(of("opening: {width: 800 mm, head: 2 m, header: 140 mm, jacks: 99999999999}"),
            "7:77 a whole number from 0 to 6 is wanted here");
  EXPECT_EQ(of("scraps: {seed: 99999999999999999999}"),
            "7:33 a whole number from 0 to 1000000 is wanted here");
  EXPECT_EQ(of("scraps: {seeds: 101}"), "7:34 a whole number from 1 to 100 is wanted here");
  EXPECT_EQ(errors(wall({"{batt: R-13}", "{studs: 1000000}", "{batt: R-13}"})),
            "8:13 a whole number from 1 to 6 is wanted here");
  EXPECT_EQ(errors(wall({"{batt: R-13}"}, "vertical through bay 99999999999999")),
            "8:12 a whole number from 1 to 100000 is wanted here");
  EXPECT_EQ(
      errors(wall({"{batt: R-13}"}, "plan at 1 m",
                  "member: softwood 38 x 89 mm, spacing: 400 mm, plates: {bottom: 1000000000, top: 1}")),
      "5:74 a whole number from 0 to 10 is wanted here");
  EXPECT_EQ(of("scraps: {lump: 10 mm}"), "7:26 scraps of 10.0 mm are 38099 in this bay");
}

// As many scraps as are allowed, in as many ways, and hundreds of bays: it hung for minutes once.
TEST(WallErrors, LargeWallsAreRead) {
  EXPECT_EQ(of("scraps: {lump: 13 mm, seeds: 100}"), "");
  std::vector<std::string> bays(300, "{batt: R-13, gap: {left: 5 mm}, staples: inset}");
  EXPECT_EQ(errors(wall(bays, "plan at 1 m, vertical at 1 m")), "");
}

}  // namespace
}  // namespace coldbay::wall_errors_test
