#include "materials/batt.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr double inch = 0.0254, ip = 0.176110;  // [m2 K/W] per h ft2 F/Btu

Batt batt(double R, double inches) { return {inches * inch / (R * ip), inches * inch}; }

// [WSEC101]: R-value of glass-fibre batts compressed within cavities, in h ft2 F/Btu; values from memory, two
// of the R-19 entries seen in trade texts. One model, one set of constants. 4 %: the entries are rounded to a
// whole R (2 % of R-20) and a spring-loaded product varies by as much.
TEST(Batt, GivesTheCodeTableOfSqueezedBatts) {
  const struct {
    double R, label, depth, squeezed;
  } rows[] = {{38, 12, 11.25, 37}, {38, 12, 9.25, 32},  {38, 12, 7.25, 27},  {30, 9.5, 9.25, 30},
              {30, 9.5, 7.25, 26}, {30, 9.5, 5.5, 21},  {22, 6.75, 5.5, 20}, {22, 6.75, 3.5, 14},
              {19, 6.25, 5.5, 18}, {19, 6.25, 3.5, 13}, {13, 3.5, 2.5, 9.8}, {13, 3.5, 1.5, 6.3},
              {11, 3.5, 1.5, 6.0}};
  for (const auto& row : rows) {
    const double k = squeezed_conductivity(batt(row.R, row.label), row.depth * inch);
    const double R = row.depth * inch / k / ip;
    EXPECT_NEAR(R / row.squeezed, 1.0, 0.04) << "R-" << row.R << " in " << row.depth << " in";
  }
}

// Label densities in the range that is sold (7 to 25 kg/m3), as the fit found them.
TEST(Batt, HasACommonDensity) {
  EXPECT_NEAR(label_density(batt(11, 3.5)), 7.0, 0.2);
  EXPECT_NEAR(label_density(batt(13, 3.5)), 11.1, 0.3);
  EXPECT_NEAR(label_density(batt(19, 6.25)), 6.5, 0.2);
  EXPECT_NEAR(label_density(batt(21, 5.5)), 12.3, 0.4);
  EXPECT_NEAR(label_density(batt(15, 3.5)), 25.2, 0.1);  // better than the model's best: its best
  for (const double R : {11.0, 13.0}) {
    const Batt x = batt(R, 3.5);
    EXPECT_NEAR(fibre_conductivity(label_density(x)), x.conductivity, 1e-12);
  }
}

TEST(Batt, AtItsLabelThicknessIsItsLabel) {
  for (const double R : {11.0, 13.0, 15.0})
    EXPECT_DOUBLE_EQ(squeezed_conductivity(batt(R, 3.5), 3.5 * inch), batt(R, 3.5).conductivity);
}

// Squeezing always costs resistance, though it lowers the conductivity of a light batt.
TEST(Batt, SqueezingCostsResistance) {
  for (const auto& x : {batt(11, 3.5), batt(13, 3.5), batt(15, 3.5), batt(19, 6.25), batt(38, 12)}) {
    double before = INFINITY;
    for (double share = 1.0; share >= 0.4; share -= 0.05) {
      const double R = share * x.thickness / squeezed_conductivity(x, share * x.thickness);
      EXPECT_LT(R, before);
      before = R;
    }
  }
  EXPECT_LT(squeezed_conductivity(batt(19, 6.25), 5.5 * inch), batt(19, 6.25).conductivity);
}

TEST(Batt, RefusesWhatItCannotReckon) {
  EXPECT_THROW(squeezed_conductivity(batt(13, 3.5), 4.0 * inch), ModelError);
  EXPECT_THROW(squeezed_conductivity(batt(13, 3.5), 1.0 * inch), ModelError);
  EXPECT_THROW(squeezed_conductivity(batt(13, 3.5), NAN), ModelError);
}

}  // namespace
}  // namespace coldbay
