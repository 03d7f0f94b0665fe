#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cmath>

#include "materials/batt.hpp"
#include "solver/forecast.hpp"
#include "tools/input/case.hpp"
#include "tools/input/library_reader.hpp"

namespace coldbay::library_test {
namespace {

Case read(const std::string& text) { return read_case({"case.yaml", text}); }

std::vector<InputError> errors_of(const std::string& text) {
  try {
    (void)read(text);
  } catch (const InputErrors& e) {
    return e.errors();
  }
  return {};
}

const std::string air = "air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}\n";

/// A block of one material, 1 m wide and 0.1 m deep.
std::string block(const std::string& material, const std::string& more = "") {
  return air + "section: {width: 1 m, depth: 0.1 m, shapes: [{material: " + material +
         ", across: [0 m, 1 m], depth: [0 m, 0.1 m]" + more + "}]}\n";
}

double u_value(const Case& c) { return *forecast(c.sections[0], c.air, c.humidity).results.u_value; }

TEST(Library, EveryEntryIsComplete) {
  const Library& library = built_in_library();
  EXPECT_GE(library.size(), 60u);
  for (const LibraryEntry& e : library) {
    EXPECT_FALSE(e.material.source.empty()) << e.material.name;
    EXPECT_TRUE(e.material.density && e.material.specific_heat) << e.material.name;
    EXPECT_NE(e.material.is_air_space, e.material.conductivity > 0.0) << e.material.name;
    if (e.batt) {
      EXPECT_GT(e.material.conductivity, 0.030) << e.material.name;  // light fibre: 0.03 to 0.05 W/mK
      EXPECT_LT(e.material.conductivity, 0.050) << e.material.name;
    }
  }
}

// Every batt of mineral fibre by its own density: glass fibre of 5 µm lying at random [CoxDAntonio2009], 3.2
// eta (1 - porosity)^1.42 / radius^2, glass of 2500 kg/m3. Two digits stand in the library: 2.3 % at most.
TEST(Library, BattsResistAirByTheirDensity) {
  int batts = 0;
  for (const LibraryEntry& e : built_in_library()) {
    if (!e.batt) continue;
    ASSERT_TRUE(e.material.airflow_resistivity) << e.material.name;
    const double r = 3.2 * 1.84e-5 * std::pow(*e.material.density / 2500.0, 1.42) / (2.5e-6 * 2.5e-6);
    EXPECT_NEAR(*e.material.airflow_resistivity / r, 1.0, 0.023) << e.material.name;
    ++batts;
  }
  EXPECT_GE(batts, 13);
}

// What is soft or loose lets air through; linings, sheathings, boards, foams and frames stand as airtight.
// Light fills lie between 1 and 50 kPa s/m2 (from memory).
TEST(Library, SoftFillsLetAirThrough) {
  for (const char* soft :
       {"mineral fibre", "cellulose", "blown glass fibre", "blown stone wool", "blown wood fibre",
        "vermiculite", "wood-fibre batt", "sheep wool", "cotton batt", "hemp"}) {
    const auto r = find(built_in_library(), soft)->material.airflow_resistivity;
    ASSERT_TRUE(r) << soft;
    EXPECT_GT(*r, 1e3) << soft;
    EXPECT_LT(*r, 5e4) << soft;
  }
  for (const char* tight : {"gypsum board", "osb", "plywood", "softwood", "closed-cell spray foam",
                            "expanded polystyrene", "polyethylene sheet", "kraft facing", "air space"})
    EXPECT_FALSE(find(built_in_library(), tight)->material.airflow_resistivity) << tight;
}

TEST(Library, IsSearchedByOtherWordsAndAnyCase) {
  const Library& library = built_in_library();
  ASSERT_NE(find(library, "Drywall"), nullptr);
  EXPECT_EQ(find(library, "Drywall")->material.name, "gypsum board");
  EXPECT_EQ(find(library, "dry"), nullptr);
}

// IRMM-440, resin-bonded glass-fibre board: the certificate's polynomial (European Commission, Joint Research
// Centre, revision of 2015), worked out to six decimals; its own uncertainty is 0.00028 W/mK.
TEST(Library, HoldsTheReferenceBoardsLaw) {
  const LibraryEntry* board = find(built_in_library(), "glass-fibre board reference");
  ASSERT_NE(board, nullptr);
  const struct {
    double T, k;
  } rows[] = {{-10, 0.028355}, {0, 0.029395}, {10, 0.030475}, {24, 0.032057}, {50, 0.035207}};
  for (const auto& row : rows) EXPECT_NEAR(conductivity_at(board->material, row.T), row.k, 5e-7) << row.T;
  EXPECT_TRUE(beyond_source(board->material, 60.0));
  EXPECT_DOUBLE_EQ(conductivity_at(board->material, 60.0), conductivity_at(board->material, 50.0));
}

// With k = k0 + k1 T between held faces the heat is the integral of k over T: that of the mean temperature,
// exactly for a linear law.
TEST(Library, ALawIsFollowedByTheField) {
  const std::string law =
      "{conductivity: {at 0 °C: 0.03 W/mK, per K: 0.0005, from: -50 °C, to: 50 °C}, name: board}";
  std::string text = block(law);
  text.replace(text.find("20 °C"), 6, "20 °C, film: 0");
  text.replace(text.find("0 °C}}"), 7, "0 °C, film: 0}}");
  const Case c = read(text);
  // 5e-4: cells take the conductivity of their middle; the coarse grid has 32 cells of up to 6 mm.
  EXPECT_NEAR(u_value(c) / ((0.03 + 0.0005 * 10.0) / 0.1), 1.0, 5e-4);
}

TEST(Library, HeatRunsBetterAlongTheGrain) {
  const double across = u_value(read(block("softwood"))),
               along = u_value(read(block("softwood", ", grain: depth")));
  const Material& m = find(built_in_library(), "softwood")->material;
  EXPECT_NEAR(1.0 / across - 1.0 / along, 0.1 / m.conductivity - 0.1 / *m.along_grain, 1e-9);
  EXPECT_NEAR(u_value(read(block("softwood", ", grain: across"))), across, 1e-9);  // what the residual leaves
}

// Alike in name and conductivity but not in grain: two materials, in whichever order they come.
TEST(Library, MaterialsThatDifferStayApart) {
  const auto two = [](const std::string& first, const std::string& second) {
    const std::string over = ", across: [0 m, 1 m], depth: [0 m, 0.1 m], grain: depth}";
    return u_value(read(air + "section: {width: 1 m, depth: 0.1 m, shapes: [{material: " + first + over +
                        ", {material: " + second + over + "]}\n"));
  };
  const std::string plain = "{conductivity: 0.12 W/mK}",
                    grained = "{conductivity: 0.12 W/mK, along grain: 0.6 W/mK}";
  EXPECT_NEAR(1.0 / two(plain, grained), 0.17 + 0.1 / 0.6, 1e-9);
  EXPECT_NEAR(1.0 / two(grained, plain), 0.17 + 0.1 / 0.12, 1e-9);
}

TEST(Library, ACaseAddsAndReplaces) {
  const std::string own =
      "materials:\n  - {name: house wool, conductivity: 0.05 W/mK}\n  - {name: gypsum board, conductivity: 1 "
      "W/mK}\n";
  EXPECT_NEAR(1.0 / u_value(read(own + block("house wool"))), 0.17 + 0.1 / 0.05, 1e-9);
  EXPECT_NEAR(1.0 / u_value(read(own + block("gypsum board"))), 0.17 + 0.1, 1e-9);
  EXPECT_EQ(read(own + block("gypsum board")).sections[0].materials[0].source, "given in the case");
}

TEST(Library, AMaterialOfTheCaseMayResistAir) {
  const auto of = [](const std::string& words) {
    return read(block("{conductivity: 0.04 W/mK" + words + "}")).sections[0].materials[0].airflow_resistivity;
  };
  EXPECT_FALSE(of(""));
  EXPECT_EQ(of(", airflow resistivity: 5 kPa s/m2"), 5000.0);
  EXPECT_EQ(of(", airflow resistivity: 5000"), 5000.0);
  const std::string own = "materials: [{name: wool, conductivity: 0.04, airflow resistivity: 7 kPa·s/m²}]\n";
  EXPECT_EQ(read(own + block("wool")).sections[0].materials[0].airflow_resistivity, 7000.0);
}

TEST(Library, BadMaterialsAreSaidAtTheirLine) {
  const auto line_and_title = [](const std::string& entry) {
    const auto errors = errors_of("materials:\n  - " + entry + "\n" + block("softwood"));
    return errors.empty() ? std::string("none")
                          : std::to_string(errors[0].where.line) + ": " + errors[0].title;
  };
  EXPECT_EQ(line_and_title("{name: x}"),
            "2: a material needs a conductivity, or a resistance and its thickness");
  EXPECT_EQ(line_and_title("{name: x, conductivity: 0.1, emissivity: 1.2}"),
            "2: '1.2' is more than 1: is '1.2 %' meant?");
  EXPECT_EQ(line_and_title("{name: x, conductivity: 0.1, emissivity: 0}"),
            "2: an emissivity lies above 0 and at most at 1");
  EXPECT_EQ(line_and_title("{name: x, resistance: R-13, batt: 24 °C}"),
            "2: a batt needs the thickness of its label");
  EXPECT_EQ(line_and_title("{name: x, conductivity: {at 0 °C: 0.03, per K: -0.01, from: 0 °C, to: 20 °C}}"),
            "2: this law gives a conductivity that is not above 0 within its own range");
  const std::string tight =
      "an airflow resistivity lies above 0 (from 1 to 1e9 Pa s/m2); leave it out where no air gets through";
  for (const char* value : {"-5 kPa s/m2", "0 kPa s/m2", "0", "1e10"})
    for (const bool listed : {false, true}) {
      const std::string wool = fmt::format("{{name: x, conductivity: 0.04, airflow resistivity: {}}}", value);
      const auto errors =
          listed ? errors_of("materials:\n  - " + wool + "\n" + block("softwood")) : errors_of(block(wool));
      ASSERT_EQ(errors.size(), 1u) << value;
      EXPECT_EQ(errors[0].where.line, 2) << value;
      EXPECT_EQ(errors[0].title, fmt::format("'{}' is out of range", value));
      EXPECT_EQ(errors[0].hint, tight);
    }
  EXPECT_EQ(line_and_title("{name: x, air space: true, airflow resistivity: 5000}"),
            "2: in an air space nothing resists the air");
  EXPECT_EQ(line_and_title("{name: x, conductivity: 0.04, airflow resistivity: 5 W/mK}"),
            "2: '5 W/mK' is not an airflow resistivity such as 5000 Pa s/m2 or 5 kPa s/m2");
  const auto twice =
      errors_of("materials: [{name: x, conductivity: 1}, {name: X, conductivity: 2}]\n" + block("softwood"));
  ASSERT_EQ(twice.size(), 1u);
  EXPECT_EQ(twice[0].title, "'X' is the name of two materials");
}

const std::string layered_air =
    "section:\n  width: 0.4 m\n  depth: 0.1 m\n  shapes:\n"
    "    - {material: {conductivity: 0.2 W/mK}, across: [0 m, 0.4 m], depth: [0 m, 0.1 m]}\n"
    "    - {material: air space, across: [0 m, 0.4 m], depth: [0.03 m, 0.05 m]VENTILATED}\n";

std::string with_ventilation(const std::string& how) {
  std::string text = air + layered_air;
  return text.replace(text.find("VENTILATED"), 10, how);
}

TEST(Ventilated, ASlightlyVentilatedSpaceHasHalfTheResistance) {
  const double still = 1.0 / u_value(read(with_ventilation(""))),
               slight = 1.0 / u_value(read(with_ventilation(", ventilated: slightly")));
  const double solid = 0.17 + 0.08 / 0.2;
  // Not exactly half: a little more heat makes a little more difference elsewhere, and the rule follows.
  EXPECT_NEAR((slight - solid) / (still - solid), 0.5, 0.02);
}

// The section ends at the inner face of a well-ventilated space: 30 mm of the material, and the film of still
// air on both sides.
TEST(Ventilated, AWellVentilatedSpaceIsOutside) {
  EXPECT_NEAR(1.0 / u_value(read(with_ventilation(", ventilated: well"))), 0.13 + 0.03 / 0.2 + 0.13, 1e-9);
}

TEST(Ventilated, OnlyAirIsVentilated) {
  EXPECT_EQ(errors_of(block("softwood", ", ventilated: slightly")).at(0).title,
            "only an air space is ventilated");
}

TEST(Ventilated, AnOpenSpaceIsRefused) {
  EXPECT_EQ(errors_of(block("air space")).at(0).title, "this air space is open to the room");
  // Cut by a side it goes on as its mirror image; where that side exchanges heat it does not.
  const std::string cut =
      "air: {inside: {temperature: 20}, outside: {temperature: 0}}\n"
      "section: {width: 1 m, depth: 50 mm, shapes: [{material: softwood, across: [0, 1 m], depth: [0, 50 "
      "mm]}, "
      "{material: air space, across: [900 mm, 1 m], depth: [10 mm, 40 mm]}]}\n";
  EXPECT_TRUE(errors_of(cut).empty());
  EXPECT_TRUE(errors_of(cut + "sides: {left: {temperature: 5, film: 0.1}, right: adiabatic}\n").empty());
  const auto open = errors_of(cut + "sides: {left: adiabatic, right: {temperature: 5, film: 0.1}}\n");
  ASSERT_EQ(open.size(), 1u);
  EXPECT_EQ(open[0].title, "this air space is open to the right side");
  EXPECT_EQ(open[0].where.line, 2);
}

TEST(Warnings, SayWhereTheModelEnds) {
  const auto warnings = [](const std::string& text) {
    const Case c = read(text);
    return forecast(c.sections[0], c.air, c.humidity).results.warnings;
  };
  const std::string wall =
      air +
      "wall:\n  height: 2.4 m\n  layers: [gypsum board 12.5 mm, frame, osb 11 mm]\n"
      "  frame: {member: softwood 38 x 89 mm, spacing: 400 mm}\n  bays: [BAY]\nsections: [plan at 1 m]\n";
  const auto bay = [&](const std::string& b) {
    std::string text = wall;
    return warnings(text.replace(text.find("BAY"), 3, b));
  };
  EXPECT_TRUE(bay("mineral fibre").empty());
  EXPECT_TRUE(bay("{fill: mineral fibre, gap: {room: 10 mm}}").empty());
  EXPECT_NE(warnings(block("steel")).at(0).find("metal bridges"), std::string::npos);
  EXPECT_NE(
      warnings(block("{conductivity: {at 0 °C: 0.03, per K: 0.0001, from: 5 °C, to: 10 °C}, name: board}"))
          .at(0)
          .find("source measured"),
      std::string::npos);
}

// A file of the reader's own goes over the built-in library, with the same checks and its own lines.
TEST(Library, AFileOfTheReadersOwnGoesOverIt) {
  const Library mine =
      library_with({"mine.yaml",
                    "- {name: lime render, conductivity: 0.8 W/mK, thickness: 20 mm}\n"
                    "- {name: batt R-13, resistance: R-12, thickness: 3-1/2 in, batt: 24 °C}\n"});
  EXPECT_EQ(mine.size(), built_in_library().size() + 1);
  EXPECT_EQ(find(mine, "lime render")->material.source, "given in mine.yaml");
  const Material& batt = find(mine, "batt R-13")->material;
  EXPECT_NEAR(conductivity_at(batt, 24.0), 0.0889 / (12 * 0.176110), 1e-5);
  const Case c =
      read_case({"case.yaml",
                 "air: {inside: {temperature: 20}, outside: {temperature: 0}}\n"
                 "section: {width: 1 m, depth: 20 mm, shapes: [{material: lime render, across: [0, 1 m], "
                 "depth: [0, 20 mm]}]}\n"},
                mine);
  EXPECT_EQ(c.sections[0].materials[0].conductivity, 0.8);
  try {
    (void)library_with(
        {"mine.yaml", "- {name: x, conductivity: 1}\n- {name: y}\n- {name: x, conductivity: 2}\n"});
    ADD_FAILURE() << "two mistakes were not seen";
  } catch (const InputErrors& e) {
    ASSERT_EQ(e.errors().size(), 2u);
    EXPECT_EQ(e.errors()[0].where.line, 2);
    EXPECT_EQ(e.errors()[1].where.line, 3);
  }
}

TEST(Library, LabelsHoldWhereTheyWereMeasured) {
  for (const LibraryEntry& e : built_in_library())
    if (e.batt) {
      EXPECT_NEAR(conductivity_at(e.material, e.batt->label_temperature), e.batt->conductivity, 1e-12)
          << e.material.name;
    }
}

}  // namespace
}  // namespace coldbay::library_test
