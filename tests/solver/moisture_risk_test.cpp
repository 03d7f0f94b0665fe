#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/solved.hpp"

namespace coldbay::moisture_risk_test {
namespace {

/// Lining, batt and sheathing, and where the frame ends.
Section wall_of_layers(double batt) {
  Section s = test::layered(0.4, {{0.0127, 0.16}, {0.089, batt}, {0.0111, 0.1}});
  s.sheathing = 0.0127 + 0.089;
  return s;
}

// Resistances in series say how warm each plane is; 20 degC at 50 % and -5 degC as [ISO13788] has it.
TEST(MoistureRisk, PlanesOfAWallOfLayers) {
  const Surroundings air{{20.0, 0.13}, {-5.0, 0.04}, {}, {}};
  const Forecast f = forecast(wall_of_layers(0.039), air, 0.5);
  const double outer = 0.04 + 0.0111 / 0.1, R = 0.13 + 0.0127 / 0.16 + 0.089 / 0.039 + outer;
  ASSERT_TRUE(f.results.moisture && f.results.moisture->sheathing);
  const MoistureRisk& m = *f.results.moisture;
  EXPECT_NEAR(m.sheathing->coldest, -5.0 + 25.0 * outer / R,
              1e-6);  // linear between planes: exact but for the solver
  EXPECT_EQ(m.sheathing->below_dew_point, 1.0);
  EXPECT_NEAR(m.mould_point, 12.62, 0.005);  // half of the last printed digit
  EXPECT_EQ(m.face_below_mould_point, 0.0);
  const double face = 20.0 - 25.0 * 0.13 / R;
  EXPECT_NEAR(m.humidity_at_coldest, 0.5 * 2337.0 / (610.5 * std::exp(17.269 * face / (237.3 + face))), 1e-4);
}

// No insulation to speak of, a corner's film and a frost: the room face is wet.
TEST(MoistureRisk, AWetRoomFace) {
  const Forecast f = forecast(wall_of_layers(5.0), {{20.0, 0.25}, {-15.0, 0.04}, {}, {}}, 0.6);
  const MoistureRisk& m = *f.results.moisture;
  EXPECT_EQ(m.face_below_dew_point, 1.0);
  EXPECT_GT(m.humidity_at_coldest, 1.0);
}

TEST(MoistureRisk, NothingIsSaidWithoutHumidityOrFrame) {
  const Surroundings air{{20.0, 0.13}, {-5.0, 0.04}, {}, {}};
  EXPECT_FALSE(forecast(wall_of_layers(0.039), air, {}).results.moisture);
  EXPECT_FALSE(forecast(test::layered(0.4, {{0.1, 0.04}}), air, 0.5).results.moisture->sheathing);
}

TEST(MoistureRisk, SharesCountWidths) {
  const SurfaceProfile p{{0.05, 0.2, 0.35}, {0.1, 0.2, 0.1}, {10.0, 12.0, 9.0}, {}};
  EXPECT_DOUBLE_EQ(share_below(p, 11.0), 0.5);
  EXPECT_DOUBLE_EQ(share_below(p, 9.0), 0.0);
  EXPECT_DOUBLE_EQ(share_below(p, 20.0), 1.0);
}

}  // namespace
}  // namespace coldbay::moisture_risk_test
