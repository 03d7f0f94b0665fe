#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <string>

#include "tests/support/sections.hpp"
#include "tools/input/case.hpp"
#include "tools/report/handout/as_drawn.hpp"
#include "tools/report/handout/borders.hpp"
#include "tools/report/handout/hatching.hpp"
#include "tools/report/handout/measures.hpp"

// What goes into the drawing of a section: its shapes, lines, hatches and measures.

namespace coldbay::section_drawing_test {
namespace {

Case wall_of(const std::string& bays, const std::string& cut = "plan at 24 in") {
  return read_case(
      {"case.yaml",
       "units: inch-pound\nair: {inside: {temperature: 70 °F}, outside: {temperature: 15 °F}}\n"
       "wall:\n  height: 48 in\n  layers: [gypsum board 1/2 in, frame, osb 7/16 in]\n"
       "  frame: {member: softwood 1-1/2 x 3-1/2 in, spacing: 16 in, plates: {bottom: 1, top: 2}}\n"
       "  bays:\n    - " +
           bays + "\n    - batt R-13\nsections: [" + cut + "]\n"});
}

/// Area by name [m2], counted on a fine raster.
std::map<std::string, double> areas(const Section& section, double cell) {
  std::map<std::string, double> all;
  for (double x = 0.5 * cell; x < section.width; x += cell)
    for (double y = 0.5 * cell; y < section.depth; y += cell)
      if (const auto m = material_at(section, {x, y})) all[section.materials[*m].name] += cell * cell;
  return all;
}

void expect_same_areas(const char* bay, double share_of_round) {
  const Section section = wall_of(bay).sections[0];
  constexpr double cell = 5e-4;
  const auto before = areas(section, cell), after = areas(as_drawn(section), cell);
  ASSERT_EQ(before.size(), after.size());
  for (const auto& [name, area] : before)
    // A border may be half a cell of the raster off, here 0.2 m of it at most runs where it is.
    EXPECT_NEAR(after.at(name), area, 0.5 * cell * 0.2 + share_of_round * before.at("air space"))
        << bay << " " << name;
}

TEST(AsDrawn, EveryMaterialKeepsItsArea) {
  expect_same_areas("{batt: R-13, staples: inset}", 0.0);
  expect_same_areas("{batt: R-13, cable: {across: 5 in, batt: over}}", 0.0);
  expect_same_areas("{batt: R-13, gap: {right: 3/4 in}}", 0.0);
  // The chords of a round shoulder lie outside of its hollow side: 8 % more than its four steps.
  expect_same_areas("{batt: R-13, width: 17 in}", 0.1);
}

TEST(AsDrawn, ATaperIsOneSlant) {
  const Section section = wall_of("{batt: R-13, staples: inset}").sections[0];
  // Inset staples leave air that narrows evenly away from the stud (geometry/wall draws it in steps): the
  // line between that air and the batt, two pockets of it, runs askew, and no step of it is left.
  std::vector<Border> askew;
  for (const Border& border : borders(as_drawn(section), {0.0, 0.4}))
    if (std::abs(border.from.depth - border.to.depth) > 1e-6 &&
        std::abs(border.from.across - border.to.across) > 1e-6)
      askew.push_back(border);
  ASSERT_GE(askew.size(), 2U);
  for (const Border& border : askew)
    EXPECT_NEAR(
        std::abs((border.to.depth - border.from.depth) / (border.to.across - border.from.across)),
        std::abs((askew[0].to.depth - askew[0].from.depth) / (askew[0].to.across - askew[0].from.across)),
        1e-3);
}

TEST(AsDrawn, AHollowPipeIsRound) {
  const Section section = wall_of("{batt: R-13, pipe: {across: 7-1/4 in, batt: over}}").sections[0];
  const Section drawn = as_drawn(section);
  std::vector<Circle> circles;
  for (std::size_t i = 0; i < drawn.shapes.size(); ++i)
    if (const auto* circle = std::get_if<Circle>(&drawn.shapes[i].outline)) {
      circles.push_back(*circle);
      const Rectangle box = bounding_box(section.shapes[i].outline);
      // The outer one has the area of its square.
      if (circles.size() == 1) {
        EXPECT_NEAR(area(*circle), area(box), 1e-12);
      }
    }
  ASSERT_EQ(circles.size(), 2U);
  EXPECT_NEAR(circles[0].radius - circles[1].radius, 0.9e-3, 0.1e-3);  // the wall of the starter's pipe
}

TEST(AsDrawn, CornersOfACircleHaveItsArea) {
  const std::vector<Point> corners = corners_of(Circle{{0.1, 0.2}, 0.05});
  EXPECT_NEAR(area(Polygon{corners}), std::numbers::pi * 0.05 * 0.05, 1e-12);
}

TEST(Borders, OneLineBetweenTwoNames) {
  Section s = test::layered(1.0, {{0.01, 0.2}, {0.1, 0.04}});
  s.materials[1].name = "fill";
  test::add(s, 0.3, {0.4, 0.5}, {0.01, 0.11});
  double face = 0.0, cut = 0.0;
  for (const Border& border : borders(s, {0.0, 1.0})) {
    const double length =
        std::hypot(border.to.across - border.from.across, border.to.depth - border.from.depth);
    (border.kind == BorderKind::face ? face : cut) += length;
  }
  EXPECT_NEAR(face, 2.0 * (1.0 + 0.11), 1e-9);
  EXPECT_NEAR(cut, 1.0 + 2.0 * 0.1, 1e-9);
}

TEST(Borders, RoundACircle) {
  Section s = test::layered(1.0, {{0.1, 0.04}});
  s.materials.push_back(test::material("cable", 0.2));
  s.shapes.push_back({Circle{{0.5, 0.05}, 0.005}, 1, ""});
  double cut = 0.0;
  for (const Border& b : borders(s, {0.0, 1.0}))
    if (b.kind == BorderKind::cut) cut += std::hypot(b.to.across - b.from.across, b.to.depth - b.from.depth);
  const double round = 2.0 * std::numbers::pi * 0.005;
  EXPECT_NEAR(cut, round, 0.002 * round);  // a polygon of 48 sides and the same area: 0.07 % longer
}

TEST(Borders, NoneBetweenPiecesOfOneNameButBetweenScraps) {
  Section s = test::layered(1.0, {{0.1, 0.04}, {0.1, 0.05}});
  EXPECT_EQ(borders(s, {0.0, 1.0}).size(), 4U) << "the four sides alone";
  for (Material& m : s.materials) m.name = "batt, scraps";
  const auto all = borders(s, {0.0, 1.0});
  EXPECT_EQ(
      std::count_if(all.begin(), all.end(), [](const Border& b) { return b.kind == BorderKind::joint; }), 1);
}

TEST(Borders, WhatIsPaintedOverDoesNotShow) {
  Section s = test::layered(1.0, {{0.1, 0.04}});
  test::add(s, 0.3, {0.4, 0.5}, {0.02, 0.08});
  const std::size_t with = borders(s, {0.0, 1.0}).size();
  test::add(s, 0.3, {0.3, 0.6}, {0.01, 0.09});
  s.materials.back().name = "cover";
  const auto all = borders(s, {0.0, 1.0});
  EXPECT_EQ(all.size(), with);
  for (const Border& b : all) EXPECT_NE(b.from.across, 0.4);
}

TEST(Hatching, KindsOfTheLibrary) {
  // Trade knowledge, common practice, no source.
  const std::map<std::string, HatchKind> wanted{{"gypsum board", HatchKind::plaster},
                                                {"softwood", HatchKind::wood},
                                                {"osb", HatchKind::board},
                                                {"plywood", HatchKind::board},
                                                {"fibreboard sheathing", HatchKind::board},
                                                {"fibre-cement", HatchKind::cladding},
                                                {"lap siding", HatchKind::cladding},
                                                {"brick", HatchKind::masonry},
                                                {"steel", HatchKind::metal},
                                                {"copper", HatchKind::metal},
                                                {"batt R-13", HatchKind::fibre},
                                                {"mineral fibre", HatchKind::fibre},
                                                {"cellulose", HatchKind::fibre},
                                                {"sheep wool", HatchKind::fibre},
                                                {"open-cell spray foam", HatchKind::foam},
                                                {"extruded polystyrene", HatchKind::foam},
                                                {"phenolic foam", HatchKind::foam},
                                                {"concrete", HatchKind::masonry},
                                                {"rigid plastic", HatchKind::plastic},
                                                {"cable", HatchKind::plastic},
                                                {"water", HatchKind::fluid}};
  for (const auto& [name, kind] : wanted) {
    Section s;
    Material m;
    m.name = name;
    if (name == "softwood") m.along_grain = 0.2;
    m.conductivity = name == "steel" || name == "copper" ? 50.0 : 0.1;
    EXPECT_EQ(hatch_kind(m), kind) << name;
  }
  Material own;
  own.name = "stuff of my own";
  own.conductivity = 0.035;
  EXPECT_EQ(hatch_kind(own), HatchKind::foam);
  own.airflow_resistivity = 5000.0;
  EXPECT_EQ(hatch_kind(own), HatchKind::fibre);
  own.is_air_space = true;
  EXPECT_EQ(hatch_kind(own), HatchKind::air);
}

TEST(Hatching, MaterialsOfOneKindDiffer) {
  Section s = test::layered(1.0, {{0.1, 0.04}, {0.1, 0.05}, {0.1, 0.03}, {0.1, 0.035}});
  for (std::size_t i = 0; i < s.materials.size(); ++i) s.materials[i].name = "batt " + std::to_string(i);
  const HatchTable table = hatch_table({&s});
  ASSERT_EQ(table.size(), 4U);
  std::set<std::string> lines;
  for (const HatchRow& row : table) lines.insert(hatch_lines(row.hatch, {0.0, 0.0, 10.0, 5.0}));
  EXPECT_EQ(lines.size(), 4U);
}

TEST(Measures, AsATapeShowsThem) {
  constexpr double inch = 0.0254;
  EXPECT_EQ(tape_text(0.75 * inch, UnitSystem::inch_pound), "3/4 in");
  EXPECT_EQ(tape_text(14.5 * inch, UnitSystem::inch_pound), "14-1/2 in");
  EXPECT_EQ(tape_text(7.0 / 16.0 * inch, UnitSystem::inch_pound), "7/16 in");
  EXPECT_EQ(tape_text(2.0 * inch, UnitSystem::inch_pound), "2 in");
  EXPECT_EQ(tape_text(1.2 * inch, UnitSystem::inch_pound), "1.20 in") << "0.3 mm off the nearest sixteenth";
  EXPECT_EQ(tape_text(0.01 * inch, UnitSystem::inch_pound), "0.01 in");
  EXPECT_EQ(tape_text(0.368, UnitSystem::metric), "368 mm");
  EXPECT_EQ(tape_text(0.0127, UnitSystem::metric), "12.7 mm");
  EXPECT_EQ(tape_text(0.019, UnitSystem::metric), "19 mm");
}

std::vector<std::string> measured(const Case& c, bool of_right = false) {
  const Section &wrong = c.sections[0], &right = *c.right[0];
  const Span bay = wrong.parts.empty() ? Span{} : wrong.parts[0].clear;
  std::vector<std::string> all;
  for (const Measure& m :
       measures_of(of_right ? right : wrong, right, window_for(wrong, right, bay), c.units))
    all.push_back((m.in_depth ? "deep " : "wide ") + m.text);
  std::sort(all.begin(), all.end());
  return all;
}

using Texts = std::vector<std::string>;

// The sizes are those that the walls are written with.
TEST(Measures, WhatIsWrongHasItsSize) {
  EXPECT_EQ(measured(wall_of("{batt: R-13, gap: {right: 3/4 in}}")),
            (Texts{"deep 3-1/2 in", "wide 14-1/2 in", "wide 3/4 in"}));
  EXPECT_EQ(measured(wall_of("{batt: R-13, gap: {right: 3/4 in}}"), true),
            (Texts{"deep 3-1/2 in", "wide 14-1/2 in"}));
  EXPECT_EQ(measured(wall_of("{batt: R-13, thickness: 2-1/2 in, against: sheathing}")),
            (Texts{"deep 1 in", "deep 3-1/2 in", "wide 14-1/2 in"}));
  // A box 2-3/4 in deep, its front flush with 1/2 in of board, leaves 1-1/4 in; the air in it is no fault.
  EXPECT_EQ(measured(wall_of("{batt: R-13, box: {at: 24 in, behind: open}}")),
            (Texts{"deep 1-1/4 in", "deep 3-1/2 in", "wide 14-1/2 in"}));
  EXPECT_EQ(measured(wall_of("nothing")), (Texts{"deep 3-1/2 in", "wide 14-1/2 in"}));
  EXPECT_EQ(measured(wall_of("{batt: R-13, short: 2 in, at: bottom}", "vertical through bay 1")),
            (Texts{"deep 3-1/2 in", "wide 2 in"}));
  EXPECT_EQ(measured(wall_of("{batt: R-13, clear width: 6 in, scraps: stuffed}")),
            (Texts{"deep 3-1/2 in", "wide 6 in"}))
      << "pockets lie by chance";
}

TEST(Measures, TheWindowHoldsTheBayOrWhatDiffers) {
  const Case plan = wall_of("{batt: R-13, gap: {right: 3/4 in}}");
  const Span bay = window_for(plan.sections[0], *plan.right[0], plan.sections[0].parts[0].clear);
  EXPECT_DOUBLE_EQ(bay.from, 0.0);  // half a stud is all there is
  EXPECT_GT(bay.to, plan.sections[0].parts[0].clear.to + 0.02);
  EXPECT_LT(bay.to, plan.sections[0].parts[1].clear.from) << "nothing of the next bay";
  const Case cut = wall_of("{batt: R-13, short: 2 in, at: bottom}", "vertical through bay 1");
  const Span differs = difference_of(cut.sections[0], *cut.right[0]);
  EXPECT_NEAR(differs.from, 0.0381, 1e-9);         // on the plate, 1-1/2 in
  EXPECT_NEAR(differs.to, 0.0381 + 0.0508, 1e-9);  // 2 in
  const Span shown = window_for(cut.sections[0], *cut.right[0], {});
  EXPECT_DOUBLE_EQ(shown.from, 0.0);
  EXPECT_NEAR(shown.to, differs.to + 0.25, 1e-9);
  const Span none = difference_of(cut.sections[0], cut.sections[0]);
  EXPECT_EQ(none.length(), 0.0);
  const Span still = window_for(cut.sections[0], cut.sections[0], {});
  EXPECT_GT(still.length(), 0.1);
}

}  // namespace
}  // namespace coldbay::section_drawing_test
