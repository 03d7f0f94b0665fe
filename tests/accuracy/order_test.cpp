#include <gtest/gtest.h>

#include <Eigen/SparseCholesky>
#include <cmath>
#include <numbers>

#include "solver/assemble.hpp"
#include "solver/discretisation.hpp"
#include "tests/support/solved.hpp"

// Order of accuracy on jittered, nested grids, by a manufactured solution: T = cos(pi x) cos(pi y) on the
// unit square with k = 1 + x/2 + y/4, a film of 0.1 on both faces, adiabatic sides. The matrix is the
// program's own; the right-hand side holds the source, integrated over each cell by two-point Gauss so that
// its error is not part of what is measured, and the air temperatures that the solution needs.

namespace coldbay::order_test {
namespace {

constexpr double pi = std::numbers::pi, film = 0.1;

double conductivity(double x, double y) { return 1.0 + 0.5 * x + 0.25 * y; }
double exact(double x, double y) { return std::cos(pi * x) * std::cos(pi * y); }
double source(double x, double y) {  // -div(k grad T)
  const double T_x = -pi * std::sin(pi * x) * std::cos(pi * y),
               T_y = -pi * std::cos(pi * x) * std::sin(pi * y);
  return 2.0 * pi * pi * conductivity(x, y) * exact(x, y) - 0.5 * T_x - 0.25 * T_y;
}

/// Integral over a stretch by two-point Gauss.
template <class F>
double gauss(double from, double to, F f) {
  const double middle = 0.5 * (from + to), half = 0.5 * (to - from), point = half / std::sqrt(3.0);
  return half * (f(middle - point) + f(middle + point));
}

double l2_error(const Axis& x, const Axis& y) {
  ConductivityGrid grid{{x, Axis({0.0, 1.0}), y}, {}, {}, {}};
  for (Index k = 0; k < y.cells(); ++k)
    for (Index i = 0; i < x.cells(); ++i)
      grid.conductivity[0].push_back(conductivity(x.centre(i), y.centre(k)));
  grid.conductivity[2] = grid.conductivity[0];
  const Surroundings air{{1.0, film}, {0.0, film}, {}, {}};
  LinearSystem system = assemble(grid, air, range_of(grid, air));
  for (Index k = 0; k < y.cells(); ++k)
    for (Index i = 0; i < x.cells(); ++i)
      system.b[grid.cell(i, 0, k)] = gauss(x.edge(i), x.edge(i + 1), [&](double s) {
        return gauss(y.edge(k), y.edge(k + 1), [&](double t) { return source(s, t); });
      });
  // No heat crosses y = 0 and y = 1 in the exact solution, so the air there has the face's temperature.
  for_each_outer_face(grid, air, [&](Index cell, Direction, End end, const Exchange&, double G) {
    const Index i = cell % x.cells();
    const double y_face = end == End::low ? 0.0 : 1.0;
    system.b[cell] +=
        G * gauss(x.edge(i), x.edge(i + 1), [&](double s) { return exact(s, y_face); }) / x.width(i);
  });
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(system.A);
  const Eigen::VectorXd T = factor.solve(system.b);
  double sum = 0.0;
  for (Index k = 0; k < y.cells(); ++k)
    for (Index i = 0; i < x.cells(); ++i) {
      const double e = T[grid.cell(i, 0, k)] - exact(x.centre(i), y.centre(k));
      sum += e * e * x.width(i) * y.width(k);
    }
  return std::sqrt(sum);
}

TEST(Order, IsTwoOnAJitteredGrid) {
  Axis x = test::jittered(1.0, 16, 11), y = test::jittered(1.0, 16, 12);
  double coarse = l2_error(x, y);
  for (int level = 1; level <= 3; ++level) {
    x = bisected(x);
    y = bisected(y);
    const double fine = l2_error(x, y), order = std::log2(coarse / fine);
    RecordProperty("order_" + std::to_string(level), std::to_string(order));
    EXPECT_GT(order, 1.9) << "level " << level;
    EXPECT_LT(order, 2.1) << "better than theory: has the grid lost its jitter?";
    coarse = fine;
  }
}

// The unkind case: at the corner of a stud the temperature is not smooth, and the order of U drops below
// two. Users must not be promised digits that are not there; nor may the order fall below one.
TEST(Order, IsLessAtTheCornerOfAStud) {
  Section s = test::layered(0.4, {{0.0125, 0.16}, {0.09, 0.04}, {0.011, 0.13}});
  test::add(s, 50.0, {0.2, 0.204}, {0.0125, 0.06});
  Axis x({0.0, 0.05, 0.1, 0.15, 0.18, 0.196, 0.2, 0.204, 0.208, 0.22, 0.25, 0.3, 0.35, 0.4});
  Axis y({0.0, 0.006, 0.0125, 0.02, 0.03, 0.045, 0.052, 0.06, 0.068, 0.08, 0.1025, 0.1135});
  std::vector<double> U;
  for (int level = 0; level < 5; ++level, x = bisected(x), y = bisected(y)) {
    const ConductivityGrid grid = rasterise(s, x, y);
    U.push_back(heat_flows(grid, test::winter(), solve(grid, test::winter())).inside);
  }
  const double order = std::log2((U[3] - U[2]) / (U[4] - U[3]));
  RecordProperty("order", std::to_string(order));
  EXPECT_GT(order, 1.0);
  EXPECT_LT(order, 1.9);
}

}  // namespace
}  // namespace coldbay::order_test
