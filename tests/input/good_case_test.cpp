#include <gtest/gtest.h>

#include <string>
#include <variant>

#include "tools/input/case.hpp"

namespace coldbay::good_case_test {
namespace {

/// Metres added up a few times: far below anything that matters, far above rounding.
constexpr double rounding = 1e-12;

Case read(const std::string& text) { return read_case({"case.yaml", text}); }

const std::string plate =
    "section: {width: 100 mm, depth: 50 mm, shapes: [{material: softwood, across: [0, 100], depth: [0, "
    "50]}]}\n"
    "air: {inside: {temperature: 20}, outside: {temperature: 0}}\n";

void expect_rectangle(const Shape& shape, double from, double to, double near, double far) {
  const auto* r = std::get_if<Rectangle>(&shape.outline);
  ASSERT_TRUE(r) << shape.path;
  EXPECT_NEAR(r->across.from, from, rounding) << shape.path;
  EXPECT_NEAR(r->across.to, to, rounding) << shape.path;
  EXPECT_NEAR(r->depth.from, near, rounding) << shape.path;
  EXPECT_NEAR(r->depth.to, far, rounding) << shape.path;
}

TEST(GoodCase, AWallInInchesIsCutAsByHand) {
  const Case c = read(R"(title: By hand
units: inch-pound
air:
  inside:  {temperature: 70 °F, humidity: 35 %}
  outside: {temperature: 14, film: 0.17}
wall:
  height: 97-1/8
  layers: [gypsum board 1/2 in, frame, osb 7/16]
  frame: {member: softwood 1½ x 3½ in, spacing: 16 in, plates: {bottom: 1, top: 2}}
  bays:
    - {batt: R-13, gap: {left: 3/4 in}}
    - {fill: nothing, clear width: 8 in}
sections: [plan at 48 in]
)");
  EXPECT_EQ(c.title, "By hand");
  EXPECT_EQ(c.units, UnitSystem::inch_pound);
  EXPECT_FALSE(c.direct_form);
  EXPECT_NEAR(c.air.inside.temperature, 38.0 / 1.8, rounding * 100);
  EXPECT_NEAR(c.air.outside.temperature, -10.0, rounding * 100);
  EXPECT_EQ(c.air.inside.film, 0.13);                               // [ISO6946], heat flowing level
  EXPECT_NEAR(c.air.outside.film, 0.17 * 0.176110, 0.17 * 0.5e-6);  // bare: h·ft2·°F/Btu
  EXPECT_NEAR(c.humidity.value_or(0.0), 0.35, rounding);
  ASSERT_EQ(c.sections.size(), 1u);
  const Section& s = c.sections[0];
  EXPECT_EQ(s.name, "plan at 48 in");

  // Across, middle of stud to middle of stud: 1.5 + 14.5 and 1.5 + 8 in. Depth: 0.5 + 3.5 + 0.4375 in.
  constexpr double in = 0.0254;
  EXPECT_NEAR(s.width, 25.5 * in, rounding);
  EXPECT_NEAR(s.depth, 4.4375 * in, rounding);
  ASSERT_EQ(s.shapes.size(), 6u);
  expect_rectangle(s.shapes[0], 0, 25.5 * in, 0, 0.5 * in);
  expect_rectangle(s.shapes[1], 0, 25.5 * in, 0.5 * in, 4.0 * in);
  expect_rectangle(s.shapes[2], 0, 25.5 * in, 4.0 * in, 4.4375 * in);
  expect_rectangle(s.shapes[3], 0.75 * in, 15.25 * in, 0.5 * in, 4.0 * in);   // air in all of the bay,
  expect_rectangle(s.shapes[4], 1.5 * in, 15.25 * in, 0.5 * in, 4.0 * in);    // the batt beside its gap,
  expect_rectangle(s.shapes[5], 16.75 * in, 24.75 * in, 0.5 * in, 4.0 * in);  // the empty bay
  EXPECT_EQ(s.materials[s.shapes[1].material].name, "softwood");
  EXPECT_TRUE(s.materials[s.shapes[3].material].is_air_space);
  EXPECT_EQ(s.materials[s.shapes[4].material].name, "batt R-13");
  EXPECT_TRUE(s.materials[s.shapes[5].material].is_air_space);
  ASSERT_EQ(s.parts.size(), 2u);
  EXPECT_NEAR(s.parts[1].across.from, 16.0 * in, rounding);
  EXPECT_NEAR(s.parts[1].across.to, 25.5 * in, rounding);
  // R-13 at 3-1/2 in: the conductivity is the thickness over the resistance, at the temperature of the label.
  EXPECT_NEAR(conductivity_at(s.materials[s.shapes[4].material], 24.0), 3.5 * in / (13 * 0.176110), 1e-6);
}

TEST(GoodCase, AMemberSharesItsLastUnit) {
  const auto width_of = [](const std::string& member) {
    const Case c = read(
        "air: {inside: {temperature: 20}, outside: {temperature: 0}}\nwall:\n  height: 2.4 m\n"
        "  layers: [frame]\n  frame: {member: " +
        member +
        ", spacing: 600 mm}\n  bays: [{fill: cellulose, clear width: 500 mm}]\n"
        "sections: [plan at 1 m]\n");
    return c.sections[0].width - 0.5;
  };
  EXPECT_NEAR(width_of("softwood 45 x 140 mm"), 0.045, rounding);
  EXPECT_NEAR(width_of("softwood 45 x 140"), 0.045, rounding);
  EXPECT_NEAR(width_of("softwood 4.5 cm x 140 mm"), 0.045, rounding);
  EXPECT_NEAR(width_of("softwood 1-1/2 x 5-1/2 in"), 0.0381, rounding);
  EXPECT_NEAR(width_of("softwood 1½ × 5½ in"), 0.0381, rounding);  // was 1.5 mm
}

TEST(GoodCase, AGapOfNothingIsNoGap) {
  const Case c = read(
      "air: {inside: {temperature: 20}, outside: {temperature: 0}}\nwall:\n  height: 2.4 m\n"
      "  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n"
      "  frame: {member: softwood 45 x 140, spacing: 600}\n"
      "  bays: [{fill: cellulose, gap: {left: 0 mm, right: 5 mm}}]\nsections: [plan at 1 m]\n");
  ASSERT_EQ(c.sections[0].shapes.size(), 5u);  // three layers, the fill, the gap on the right
  EXPECT_EQ(c.sections[0].parts[0].label, "cellulose, gap 5 mm right");
}

TEST(GoodCase, ABattIsFacedWhereItSaysSoOrIsHeldByItsFlange) {
  const auto faced = [](const std::string& words) {
    const Case c = read(
        "air: {inside: {temperature: 20}, outside: {temperature: 0}}\nwall:\n  height: 2.4 m\n"
        "  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n"
        "  frame: {member: softwood 38 x 89, spacing: 406.4}\n"
        "  bays: [{batt: R-13" +
        words + "}]\nsections: [plan at 1 m]\n");
    return c.wall->bays[0].faced;
  };
  EXPECT_FALSE(faced(""));
  EXPECT_FALSE(faced(", faced: false"));
  EXPECT_FALSE(faced(", staples: none"));
  EXPECT_FALSE(faced(", width: 300, flange: trimmed"));
  EXPECT_TRUE(faced(", faced: true"));
  EXPECT_TRUE(faced(", staples: face"));
  EXPECT_TRUE(faced(", staples: inset"));
  EXPECT_TRUE(faced(", staples: {depth: 10 mm}"));
  EXPECT_TRUE(faced(", width: 300, flange: stretched"));
  EXPECT_TRUE(faced(", width: 300, flange: stretched, staples: none"));
}

TEST(GoodCase, AirGoesRoundInGapsUnlessToldNotTo) {
  const auto with = [](const std::string& words) {
    return read(plate.substr(0, plate.size() - 2) + words + "}\n");
  };
  EXPECT_EQ(with("").air.gaps, AirInGaps::loops);
  EXPECT_EQ(with(", gaps: loops").air.gaps, AirInGaps::loops);
  EXPECT_EQ(with(", gaps: still").air.gaps, AirInGaps::still);
  EXPECT_EQ(with("").gap_tolerance, 0.001);
  EXPECT_NEAR(with(", gap tolerance: 1/16 in").gap_tolerance, 0.0015875, rounding);
  EXPECT_EQ(with(", gap tolerance: 0 mm").gap_tolerance, 0.0);
}

// A section drawn standing has heights: its room may be warmer above than below.
TEST(GoodCase, ADrawnSectionMayStand) {
  const auto cut = [](const std::string& words) {
    return read("section: {" + words +
                "width: 2.4 m, depth: 50 mm, shapes: [{material: softwood, across: [0, 2400], depth: [0, "
                "50]}]}\nair: {inside: {temperature: 20, by height: [[0, 18], [2400, 22]]}, outside: "
                "{temperature: 0}}\n")
        .sections[0]
        .cut;
  };
  EXPECT_EQ(cut("cut: vertical, "), CutKind::vertical);
  EXPECT_THROW(cut("cut: plan, "), InputErrors);
  EXPECT_THROW(cut(""), InputErrors);
  EXPECT_EQ(read(plate).sections[0].cut, CutKind::drawn);
}

TEST(GoodCase, ADirectFormIsReadAsWritten) {
  const Case c = read(R"(title: Two materials
accuracy: {U: 0.05 %, surface: 0.02 K}
section:
  width: 500 mm
  depth: 47.5 mm
  shapes:
    - {material: {conductivity: 0.029 W/mK, name: board}, across: [0 mm, 500 mm], depth: [0 mm, 47.5 mm]}
    - {material: {conductivity: 230 W/mK}, polygon: [[10 mm, 0 mm], [20 mm, 0 mm], [20 mm, 9 mm]]}
    - {material: softwood, circle: {centre: [40 mm, 20 mm], radius: 5 mm}}
air:
  inside:  {temperature: 20 °C, film: 0.11}
  outside: {temperature: 0 °C, film: 0}
sides: {left: adiabatic, right: {temperature: 5 °C, film: 0.2}}
probes: {C: [0 mm, 41.5 mm], "corner, \"1\"": [500 mm, 47.5 mm]}
published:
  - {what: probe C, value: 16.8 °C, within: 18 °F, because: reason one, source: book one}
  - {what: u_value, value: 0.5, within: 5 %, because: reason two, source: book two}
)");
  EXPECT_TRUE(c.direct_form);
  EXPECT_NEAR(c.accuracy.heat, 5e-4, rounding);
  EXPECT_NEAR(c.accuracy.surface, 0.02, rounding);
  const Section& s = c.sections.at(0);
  EXPECT_NEAR(s.width, 0.5, rounding);
  EXPECT_NEAR(s.depth, 0.0475, rounding);
  ASSERT_EQ(s.shapes.size(), 3u);
  expect_rectangle(s.shapes[0], 0, 0.5, 0, 0.0475);
  const auto& triangle = std::get<Polygon>(s.shapes[1].outline);
  ASSERT_EQ(triangle.corners.size(), 3u);
  EXPECT_NEAR(triangle.corners[2].across, 0.020, rounding);
  EXPECT_NEAR(triangle.corners[2].depth, 0.009, rounding);
  const auto& circle = std::get<Circle>(s.shapes[2].outline);
  EXPECT_NEAR(circle.centre.across, 0.040, rounding);
  EXPECT_NEAR(circle.centre.depth, 0.020, rounding);
  EXPECT_NEAR(circle.radius, 0.005, rounding);
  EXPECT_EQ(s.materials[s.shapes[0].material].name, "board");
  EXPECT_EQ(s.materials[s.shapes[0].material].conductivity, 0.029);
  EXPECT_EQ(s.materials[s.shapes[1].material].conductivity, 230.0);

  EXPECT_EQ(c.air.inside.film, 0.11);
  EXPECT_EQ(c.air.outside.film, 0.0);
  EXPECT_FALSE(c.air.left);
  ASSERT_TRUE(c.air.right);
  EXPECT_EQ(c.air.right->temperature, 5.0);
  EXPECT_EQ(c.air.right->film, 0.2);

  ASSERT_EQ(s.probes.size(), 2u);
  EXPECT_EQ(s.probes[0].name, "C");
  EXPECT_NEAR(s.probes[0].at.depth, 0.0415, rounding);
  EXPECT_EQ(s.probes[1].name, "corner, \"1\"");

  ASSERT_EQ(c.published.size(), 2u);
  EXPECT_EQ(c.published[0].probe, "C");
  EXPECT_EQ(c.published[0].key, "probes_C");
  EXPECT_EQ(c.published[0].value, 16.8);
  EXPECT_NEAR(c.published[0].within, 10.0, rounding * 10);  // a difference, not a temperature
  EXPECT_EQ(c.published[1].key, "u_value_W_per_m2K");
  EXPECT_NEAR(c.published[1].within, 0.025, rounding);  // of the value
  EXPECT_EQ(c.published[1].because, "reason two");
  EXPECT_EQ(c.published[1].source, "book two");
}

TEST(GoodCase, PublishedNumbersNameAResult) {
  const auto title_of = [](const std::string& what) -> std::string {
    try {
      read(plate + "probes: {A: [5, 5]}\npublished:\n- {what: " + what +
           ", value: 5, within: 0.1, because: x, source: y}\n");
    } catch (const InputErrors& e) {
      return e.errors().front().title;
    }
    return "read";
  };
  EXPECT_EQ(title_of("probe A"), "read");
  EXPECT_EQ(title_of("heat_flow"), "read");
  EXPECT_EQ(title_of("air_flow"), "read");
  EXPECT_EQ(title_of("probe B"), "'probe B' is not a result");
  EXPECT_EQ(title_of("probe"), "'probe' is not a result");
  EXPECT_EQ(title_of("speed"), "'speed' is not a result");
}

TEST(GoodCase, NumbersAreDecimalHoweverTheyBegin) {
  EXPECT_NEAR(read("section: {width: 010, depth: 0050 mm, shapes: [{material: steel, across: [0, 10], depth: "
                   "[0, 50]}]}\n"
                   "air: {inside: {temperature: 020}, outside: {temperature: 0}}\n")
                  .sections[0]
                  .width,
              0.010, rounding);
}

TEST(GoodCase, ATitleIsTextWhateverItHolds) {
  const auto title_of = [](const std::string& yaml) { return read("title: " + yaml + "\n" + plate).title; };
  EXPECT_EQ(title_of("\"</title><script>alert(1)</script>\""), "</title><script>alert(1)</script>");
  EXPECT_EQ(title_of("'it''s \"here\" & <there>'"), "it's \"here\" & <there>");
  // Control characters would give orders to the terminal that the summary is printed on.
  EXPECT_EQ(title_of("\"a\\e[31mb\\u0007\\tc\\nd\""), "a [31mb  c d");
  EXPECT_EQ(title_of("=1+1"), "=1+1");
  EXPECT_EQ(title_of(std::string(500, 'x')), std::string(500, 'x'));
  EXPECT_EQ(title_of("Büro ½ 🚪"), "Büro ½ 🚪");
  EXPECT_EQ(title_of("010"), "010");  // text stays as written
  EXPECT_EQ(title_of(""), "");
}

}  // namespace
}  // namespace coldbay::good_case_test
