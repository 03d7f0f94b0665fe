#include <gtest/gtest.h>

#include <cmath>

#include "solver/refinement/thin_sheets.hpp"
#include "tests/support/solved.hpp"

// Sheets of metal that run askew and are thinner than the cells first drawn: cut in pieces by sampling, they
// do not conduct, and nested grids agree on that. Found by a reviewer: U 18 % too low "within 0.06 %".

namespace coldbay::thin_sheets_test {
namespace {

Section fibre(double width, double depth) { return test::layered(width, {{depth, 0.04}}); }

void add(Section& s, double k, const Outline& outline) {
  s.materials.push_back(test::material("piece", k));
  s.shapes.push_back({outline, s.materials.size() - 1, ""});
}

/// A sheet of 0.5 mm from (150, 10) to (180, 110) mm, as one shape or as what one shape leaves of another.
Section sheet(bool of_two_shapes) {
  Section s = fibre(0.4, 0.12);
  if (of_two_shapes) {
    add(s, 50.0, Polygon{{{0.150, 0.01}, {0.25, 0.01}, {0.28, 0.11}, {0.180, 0.11}}});
    add(s, 0.04, Polygon{{{0.1505, 0.01}, {0.25, 0.01}, {0.28, 0.11}, {0.1805, 0.11}}});
  } else {
    add(s, 50.0, Polygon{{{0.150, 0.01}, {0.1505, 0.01}, {0.1805, 0.11}, {0.180, 0.11}}});
  }
  return s;
}

SolverOptions few_cells() {
  SolverOptions options;
  options.max_cells = 2'000'000;
  return options;
}

TEST(ThinSheets, ConductHoweverTheyAreDrawn) {
  const Results one = forecast(sheet(false), test::winter(), {}, {}, few_cells()).results,
                two = forecast(sheet(true), test::winter(), {}, {}, few_cells()).results;
  EXPECT_NEAR(*one.u_value, *two.u_value, *one.u_value_uncertainty + *two.u_value_uncertainty);
  EXPECT_NEAR(*two.u_value / 0.376, 1.0, 0.01);  // 0.317 where the sheet is cut in pieces
}

// A ring of steel round a duct: the limits of Rayleigh's principle are far apart, but without the ring U is
// 0.19.
TEST(ThinSheets, ARingIsSeen) {
  Section s = fibre(0.4, 0.2);
  add(s, 50.0, Circle{{0.2, 0.1}, 0.05});
  add(s, 0.03, Circle{{0.2, 0.1}, 0.0495});
  const Forecast f = forecast(s, test::winter(), {}, {}, few_cells());
  EXPECT_NEAR(*f.results.u_value, 0.231, 0.231 * 0.01);
}

// Cells that run out before the sheet is resolved: no number is called reached, and the reader is told.
TEST(ThinSheets, UnresolvedAreNeverReached) {
  SolverOptions options;
  options.max_cells = 20'000;
  const Forecast f = forecast(sheet(true), test::winter(), {}, {0.01, 1.0}, options);
  EXPECT_FALSE(f.reached);
  ASSERT_FALSE(f.results.warnings.empty());
  EXPECT_NE(f.results.warnings[0].find("thinner than the cells"), std::string::npos);
}

TEST(ThinSheets, AreToldFromWedges) {
  const auto found = [](const Section& s, double factor) {
    return thin_sheets(test::grid_of(s, factor)).matter();
  };
  EXPECT_TRUE(found(sheet(true), 4.0));
  EXPECT_FALSE(found(sheet(true), 0.06));
  Section wedge = fibre(0.4, 0.12);
  add(wedge, 50.0, Polygon{{{0.1, 0.01}, {0.2, 0.01}, {0.18, 0.11}}});
  for (const double factor : {4.0, 1.0, 0.25}) EXPECT_FALSE(found(wedge, factor)) << factor;
  // A slit of fibre in steel is as easily lost as a sheet of steel in fibre.
  Section slit = sheet(true);
  for (Material& m : slit.materials) m.conductivity = m.conductivity > 1.0 ? 0.04 : 50.0;
  EXPECT_TRUE(found(slit, 4.0));
}

}  // namespace
}  // namespace coldbay::thin_sheets_test
