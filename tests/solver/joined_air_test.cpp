#include <gtest/gtest.h>

#include "tests/support/solved.hpp"

// Air spaces that meet: a gap beside the fill and a layer behind it, an empty bay and the layer next door.

namespace coldbay::joined_air_test {
namespace {

/// Half a bay: lining, fibre 89 mm deep with air at its left and behind it, sheathing; 300 mm wide.
double U_with_gaps(double left, double behind) {
  Section s = test::layered(0.3, {{0.0125, 0.16}, {0.089, 0.039}, {0.011, 0.13}});
  s.materials.push_back(test::still_air());
  const std::size_t air = s.materials.size() - 1;
  if (left > 0.0) s.shapes.push_back({Rectangle{{0.0225, 0.0225 + left}, {0.0125, 0.1015}}, air, ""});
  if (behind > 0.0) s.shapes.push_back({Rectangle{{0.0225, 0.3}, {0.1015 - behind, 0.1015}}, air, ""});
  test::add(s, 0.12, {0.0, 0.0225}, {0.0125, 0.1015});
  return *forecast(s, test::winter(), {}).results.u_value;
}

// A wider gap never costs less. A solve promises U within 0.1 %, and keeps within half of that here.
TEST(JoinedAir, AWiderGapNeverCostsLess) {
  for (const double behind : {0.0, 0.005, 0.010, 0.020, 0.040}) {
    double before = 0.0;
    for (const double left : {0.0, 0.003, 0.005, 0.010, 0.020, 0.040}) {
      const double U = U_with_gaps(left, behind);
      EXPECT_GT(U, before * 0.9995) << left << " beside, " << behind << " behind";
      before = U;
    }
  }
  for (const double left : {0.0, 0.005, 0.020}) {
    double before = 0.0;
    for (const double behind : {0.0, 0.005, 0.010, 0.020, 0.040}) {
      const double U = U_with_gaps(left, behind);
      EXPECT_GT(U, before * 0.9995) << left << " beside, " << behind << " behind";
      before = U;
    }
  }
}

// A sound bay whose air layer opens into an empty bay keeps its own: still air does not know what is next
// door.
TEST(JoinedAir, ASoundBayDoesNotConductAsTheEmptyOneBesideIt) {
  const auto U_of_right_part = [](bool empty_left) {
    Section s = test::layered(1.2, {{0.0125, 0.16}, {0.140, 0.039}, {0.011, 0.13}});
    s.materials.push_back(test::still_air());
    const std::size_t air = s.materials.size() - 1;
    s.shapes.push_back({Rectangle{{0.0, 1.2}, {0.1325, 0.1525}}, air, ""});  // behind both
    if (empty_left) s.shapes.push_back({Rectangle{{0.0, 0.58}, {0.0125, 0.1525}}, air, ""});
    test::add(s, 0.12, {0.58, 0.62}, {0.0125, 0.1325});
    s.parts = {{"bay 1", "", {0.0, 0.9}, {0.0, 0.58}, false}, {"bay 2", "", {0.9, 1.2}, {0.62, 1.2}, true}};
    return forecast(s, test::winter(), {}).results.parts[1].u_value;
  };
  EXPECT_NEAR(U_of_right_part(true) / U_of_right_part(false), 1.0, 0.005);
}

}  // namespace
}  // namespace coldbay::joined_air_test
