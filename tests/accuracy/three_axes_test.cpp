#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/conjugate_gradients.hpp"
#include "solver/discretisation.hpp"
#include "tests/support/grids.hpp"
#include "tests/support/solved.hpp"

// The same equations with the third axis: order of accuracy, a block of layers, and a rod through a block.

namespace coldbay::three_axes_test {
namespace {

constexpr double pi = std::numbers::pi, film = 0.1;

// Manufactured, [Roache1998]: T = cos(pi x) cos(pi y) cos(pi z) on the unit cube with k = 1 + x/2 + y/4 +
// z/8, a film of 0.1 on both faces in depth, adiabatic elsewhere. Source and air temperatures follow.
double conductivity(double x, double y, double z) { return 1.0 + x / 2 + y / 4 + z / 8; }
double exact(double x, double y, double z) { return std::cos(pi * x) * std::cos(pi * y) * std::cos(pi * z); }
double source(double x, double y, double z) {  // -div(k grad T)
  const double X = std::sin(pi * x) * std::cos(pi * y) * std::cos(pi * z),
               Y = std::cos(pi * x) * std::sin(pi * y) * std::cos(pi * z),
               Z = std::cos(pi * x) * std::cos(pi * y) * std::sin(pi * z);
  return 3.0 * pi * pi * conductivity(x, y, z) * exact(x, y, z) + pi * (X / 2 + Y / 4 + Z / 8);
}

/// Integral over a stretch by two-point Gauss.
template <class F>
double gauss(double from, double to, F f) {
  const double middle = 0.5 * (from + to), half = 0.5 * (to - from), point = half / std::sqrt(3.0);
  return half * (f(middle - point) + f(middle + point));
}

double l2_error(const Axis& x, const Axis& y, const Axis& z) {
  const ConductivityGrid grid = test::sampled(x, y, z, conductivity);
  const Surroundings air{{1.0, film}, {0.0, film}, {}, {}};
  HeatBalance balance{network(grid, air), {}};
  const Index row = x.cells() * y.cells();
  const auto over_cell = [&](const std::array<Index, 3>& c, auto f) {
    return gauss(x.edge(c[0]), x.edge(c[0] + 1), [&](double a) {
      return gauss(y.edge(c[1]), y.edge(c[1] + 1), [&](double b) { return f(a, b); });
    });
  };
  balance.from_air.assign(static_cast<std::size_t>(z.cells()),
                          std::vector<double>(static_cast<std::size_t>(row)));
  for_each_cell(grid, [&](const std::array<Index, 3>& c, Index cell) {
    balance.from_air[static_cast<std::size_t>(c[2])][static_cast<std::size_t>(cell % row)] =
        over_cell(c, [&](double a, double b) {
          return gauss(z.edge(c[2]), z.edge(c[2] + 1), [&](double d) { return source(a, b, d); });
        });
  });
  // No heat crosses z = 0 and z = 1 in the exact solution, so the air there has the face's temperature.
  for_each_outer_face(grid, air, [&](Index cell, Direction, End end, const Exchange&, double G) {
    const std::array<Index, 3> c{cell % x.cells(), cell % row / x.cells(), cell / row};
    const double mean =
        over_cell(c, [&](double a, double b) { return exact(a, b, end == End::low ? 0.0 : 1.0); }) /
        (x.width(c[0]) * y.width(c[1]));
    balance.from_air[static_cast<std::size_t>(c[2])][static_cast<std::size_t>(cell % row)] += G * mean;
  });
  Hierarchy<float> grids = hierarchy<float>(balance.net);
  Eigen::VectorXd T = Eigen::VectorXd::Zero(grid.cells());
  EXPECT_LE(conjugate_gradients(balance, grids, 1e-10, 25, T).residual, 1e-10);
  double sum = 0.0;
  for_each_cell(grid, [&](const std::array<Index, 3>& c, Index cell) {
    const double e = T[cell] - exact(x.centre(c[0]), y.centre(c[1]), z.centre(c[2]));
    sum += e * e * x.width(c[0]) * y.width(c[1]) * z.width(c[2]);
  });
  return std::sqrt(sum);
}

TEST(ThreeAxes, OrderIsTwoOnAJitteredGrid) {
  Axis x = test::jittered(1.0, 10, 21), y = test::jittered(1.0, 9, 22), z = test::jittered(1.0, 8, 23);
  double coarse = l2_error(x, y, z);
  for (int level = 1; level <= 3; ++level) {
    x = bisected(x);
    y = bisected(y);
    z = bisected(z);
    const double fine = l2_error(x, y, z), order = std::log2(coarse / fine);
    RecordProperty("order_" + std::to_string(level), std::to_string(order));
    EXPECT_GT(order, 1.9) << "level " << level;
    EXPECT_LT(order, 2.1) << "better than theory: has the grid lost its jitter?";
    coarse = fine;
  }
}

// Layers: T is linear between faces that lie on grid lines, which the scheme represents exactly. What remains
// is the residual, magnified by the condition number; 1e-9 is the bar of the plane case too.
TEST(ThreeAxes, ABlockOfLayersIsExact) {
  const Axis x = test::jittered(0.5, 13, 31), y = test::jittered(2.4, 17, 32),
             z = test::graded({0.0, 0.0125, 0.1525, 0.1635}, 0.002, 1.3);
  const ConductivityGrid grid = test::sampled(x, y, z, [](double, double, double d) {
    return d < 0.0125 ? 0.16 : d < 0.1525 ? 0.035 : 0.13;
  });
  const TemperatureField field = solve(grid, test::winter());
  const double R = 0.13 + 0.0125 / 0.16 + 0.14 / 0.035 + 0.011 / 0.13 + 0.04;
  EXPECT_NEAR(heat_flows(grid, test::winter(), field).inside * R / (20.0 * 0.5 * 2.4), 1.0, 1e-9);
}

// A rod through a block must pass at least what it and the fibre round it would side by side without heat
// between them, and at most what they would with every plane across at one temperature (Rayleigh's
// principle).
TEST(ThreeAxes, ARodLiesBetweenItsLimits) {
  const ConductivityGrid grid = test::rod_block(2e-3);
  const double area = 0.4 * 0.6, rod = 0.008 * 0.008;
  const double front = 0.13 + 0.0125 / 0.16, fibre = (0.142 - 0.0125) / 0.035,
               steel = (0.142 - 0.0125) / 50.0;
  const double parallel = 20.0 * ((area - rod) / (front + fibre + 0.04) + rod / (front + steel + 0.04));
  const double planes =
      20.0 * area / (front + 1.0 / ((1.0 - rod / area) / fibre + rod / area / steel) + 0.04);
  const double flow = heat_flows(grid, test::winter(), solve(grid, test::winter())).inside;
  EXPECT_GT(flow, parallel);
  EXPECT_LT(flow, planes);
  // They are 35 % apart; a solve that lost the rod would sit at the lower.
  EXPECT_GT(planes / parallel, 1.3);
}

// A block that does not change upward is a section, 1 m of it.
TEST(ThreeAxes, ABlockWithoutChangeUpwardIsASection) {
  const ConductivityGrid section = test::steel_wall(1e-3);
  const Axis y = test::jittered(1.0, 7, 41);
  const ConductivityGrid block =
      test::sampled(section.axis[0], y, section.axis[2], [&](double a, double, double d) {
        return section.conductivity[0][static_cast<std::size_t>(
            section.cell(section.axis[0].cell_at(a), 0, section.axis[2].cell_at(d)))];
      });
  const double flat = heat_flows(section, test::winter(), solve(section, test::winter())).inside;
  EXPECT_NEAR(heat_flows(block, test::winter(), solve(block, test::winter())).inside / flat, 1.0, 1e-9);
}

}  // namespace
}  // namespace coldbay::three_axes_test
