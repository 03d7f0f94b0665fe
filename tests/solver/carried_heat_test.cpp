#include "solver/air_loops/carried_heat.hpp"

#include <gtest/gtest.h>

#include <Eigen/Sparse>
#include <Eigen/SparseLU>
#include <cmath>

#include "solver/air_loops/flow_search.hpp"
#include "solver/assemble.hpp"
#include "solver/discretisation.hpp"

namespace coldbay::carried_heat_test {
namespace {

/// A ring of gaps round a block, on a grid of a few hundred cells: 0.6 m up, gaps of 6 mm and 9 mm.
struct Ring {
  std::array<Axis, 3> axis;
  ConductivityGrid grid;
  MovingAir moving;

  Ring() : axis(lines()), grid{axis, {}, {}, {}} {
    const Index na = axis[0].cells(), nd = axis[2].cells();
    std::vector<Passage> passages(static_cast<std::size_t>(na * nd));
    for (const std::size_t d : {std::size_t{0}, std::size_t{2}})
      grid.conductivity[d].assign(passages.size(), 0.2);
    for (Index k = 0; k < nd; ++k)
      for (Index i = 0; i < na; ++i) {
        const double y = axis[2].centre(k), z = axis[0].centre(i);
        const auto c = static_cast<std::size_t>(i + na * k);
        const bool inner = y > 0.018 && y < 0.108 && z > 0.006 && z < 0.594;
        passages[c].gap = y > 0.012 && y < 0.117 && !inner;
        if (inner) grid.conductivity[0][c] = grid.conductivity[2][c] = 0.04;
      }
    moving = {air_paths(axis, passages, Direction::across), dry_air(10.0), {}, {}};
    part_radiation(
        grid, moving, [&](Index c) { return passages[static_cast<std::size_t>(c)].gap; },
        [](const AirPaths::Row&) { return 4.2; });
  }
  static std::array<Axis, 3> lines() {
    std::vector<double> up{0.0, 0.003, 0.006}, depth{0.0, 0.006, 0.012, 0.015, 0.018};
    for (int i = 1; i <= 20; ++i) up.push_back(0.006 + 0.588 * i / 20);
    for (const double z : {0.597, 0.6}) up.push_back(z);
    for (int k = 1; k <= 5; ++k) depth.push_back(0.018 + 0.09 * k / 5);
    for (const double y : {0.111, 0.114, 0.117, 0.123, 0.129}) depth.push_back(y);
    return {Axis(up), Axis({0.0, 1.0}), Axis(depth)};
  }
};

Surroundings winter() {
  Surroundings air;
  air.inside = {20.0, 0.13};
  air.outside = {0.0, 0.04};
  return air;
}

/// The same balance set up anew, with a node of its own for every face that radiates, and solved directly by
/// Eigen's sparse LU.
std::vector<double> directly(const Ring& ring, const Surroundings& air) {
  const Index n = ring.grid.cells(), all = n + 2 * std::ssize(ring.grid.facing);
  std::vector<Eigen::Triplet<double>> entries;
  Eigen::VectorXd b = Eigen::VectorXd::Zero(all);
  const auto link = [&](Index a, Index c, double G) {
    entries.emplace_back(a, a, G);
    entries.emplace_back(c, c, G);
    entries.emplace_back(a, c, -G);
    entries.emplace_back(c, a, -G);
  };
  const auto half = [&](Index cell, Direction d) {
    const auto along = static_cast<std::size_t>(d);
    const auto at = place_of(ring.grid, cell);
    return 2.0 * face_area(ring.grid, at, d) * ring.grid.k(d)[static_cast<std::size_t>(cell)] /
           ring.grid.axis[along].width(at[along]);
  };
  std::vector<std::pair<Index, Index>> with_a_face;
  Index node = n;
  for (const FacingPair& f : ring.grid.facing) {
    with_a_face.emplace_back(f.low_solid, f.low_air);
    with_a_face.emplace_back(f.high_air, f.high_solid);
    link(f.low_solid, node, half(f.low_solid, f.d));
    link(node, f.low_air, half(f.low_air, f.d));
    link(f.high_air, node + 1, half(f.high_air, f.d));
    link(node + 1, f.high_solid, half(f.high_solid, f.d));
    link(node, node + 1, f.radiative * face_area(ring.grid, place_of(ring.grid, f.low_air), f.d));
    node += 2;
  }
  for_each_inner_face(ring.grid, [&](Direction, Index one, Index two, double G) {
    if (std::find(with_a_face.begin(), with_a_face.end(), std::pair(one, two)) == with_a_face.end())
      link(one, two, G);
  });
  for_each_outer_face(ring.grid, air, [&](Index cell, Direction, End, const Exchange& e, double G) {
    entries.emplace_back(cell, cell, G);
    b[cell] += G * e.temperature;
  });
  for (const CellFlow& f : cell_flows(ring.moving.paths, ring.moving.flows)) {
    const double g = f.flow * ring.moving.heat_capacity();
    entries.emplace_back(f.to, f.to, g);
    entries.emplace_back(f.to, f.from, -g);
  }
  Eigen::SparseMatrix<double> F(all, all);
  F.setFromTriplets(entries.begin(), entries.end());
  Eigen::SparseLU<Eigen::SparseMatrix<double>> lu(F);
  const Eigen::VectorXd T = lu.solve(b);
  return {T.data(), T.data() + n};
}

TEST(CarriedHeat, AgreesWithADirectSolveThatHasTheFacesForNodes) {
  Ring ring;
  ASSERT_EQ(ring.moving.paths.parts, 1);
  for (const double flow : {0.0, 1e-5, 3e-4, 2e-3}) {
    // The same flow all round: from row to row of the one sheet, through the slot, back by the other.
    std::vector<double> warm(static_cast<std::size_t>(ring.grid.cells()), 0.0);
    for (std::size_t c = 0; c < warm.size(); ++c)
      warm[c] = place_of(ring.grid, static_cast<Index>(c))[2] < 5 ? 10.0 : 0.0;
    ring.moving.flows = driven_flows(ring.moving.paths, warm, ring.moving.air, {});
    double most = 0.0;
    for (const double q : ring.moving.flows) most = std::max(most, std::abs(q));
    for (double& q : ring.moving.flows) q *= flow / most;
    const TemperatureField field = solve_with_flow(ring.grid, winter(), ring.moving);
    const std::vector<double> direct = directly(ring, winter());
    for (std::size_t c = 0; c < direct.size(); ++c)
      ASSERT_NEAR(field.celsius[c], direct[c], 1e-6)
          << "at " << flow;  // residuals of 1e-10, 20 K, conditions
    EXPECT_LT(field.report.heat_imbalance, 1e-9);
  }
}

/// As much air comes to every cell as goes.
TEST(CarriedHeat, FlowsAreConservedCellByCell) {
  Ring ring;
  std::vector<double> warm(static_cast<std::size_t>(ring.grid.cells()));
  for (std::size_t c = 0; c < warm.size(); ++c)
    warm[c] = 20.0 - 1.3 * static_cast<double>(place_of(ring.grid, static_cast<Index>(c))[2]) +
              0.2 * static_cast<double>(c % 7);
  const LinkFlows flows = driven_flows(ring.moving.paths, warm, ring.moving.air, {});
  std::vector<double> net(warm.size(), 0.0);
  double most = 0.0;
  for (const CellFlow& f : cell_flows(ring.moving.paths, flows)) {
    EXPECT_GT(f.flow, 0.0);
    net[static_cast<std::size_t>(f.to)] += f.flow;
    net[static_cast<std::size_t>(f.from)] -= f.flow;
    most = std::max(most, f.flow);
  }
  for (const double q : net) EXPECT_LT(std::abs(q), 1e-12 * most);
}

/// Plane channels in series, by hand: two sheets, two slots, between the middles of the corners.
TEST(AirFlow, RoundARingIsThatOfChannelsInSeries) {
  const Ring ring;
  std::vector<double> warm(static_cast<std::size_t>(ring.grid.cells()), 0.0);
  for (std::size_t c = 0; c < warm.size(); ++c)
    warm[c] = place_of(ring.grid, static_cast<Index>(c))[2] < 5 ? 10.0 : 0.0;
  double most = 0.0;
  for (const double q : driven_flows(ring.moving.paths, warm, ring.moving.air, {}))
    most = std::max(most, std::abs(q));
  const AirProperties& air = ring.moving.air;
  const double d1 = 0.006, d2 = 0.009, e = 0.006, H = 0.6 - e, L = 0.09,
               drive = air.density * 9.80665 * air.expansion * 10.0 * H,
               by_hand = drive / (12.0 * air.viscosity *
                                  (H / (d1 * d1 * d1) + H / (d2 * d2 * d2) + 2.0 * L / (e * e * e)));
  EXPECT_NEAR(most / by_hand, 1.0, 0.03);  // the corners: 6 mm in 0.6 m, four times
}

/// The same flows from a start far too weak and one far too strong.
TEST(FlowSearch, FindsOneAnswerFromEitherSide) {
  Ring ring;
  const auto settled_from = [&](double strength) {
    FlowSearch search(ring.moving.paths);
    ring.moving.strength = {strength};
    TemperatureField field = solve_with_flow(ring.grid, winter(), [&] {
      MovingAir still = ring.moving;
      still.flows.assign(still.paths.links.size(), 0.0);
      return still;
    }());
    begin_flow(ring.moving, field.celsius);
    for (int round = 0; round < 30; ++round) {
      field = solve_with_flow(ring.grid, winter(), ring.moving);
      const LinkFlows driven =
          driven_flows(ring.moving.paths, field.celsius, ring.moving.air, ring.moving.flows);
      if (flow_change(ring.moving.flows, driven) < 1e-8) return strength_of(ring.moving)[0];
      ring.moving.flows = search.next(ring.moving.flows, driven);
    }
    ADD_FAILURE() << "not settled from " << strength;
    return 0.0;
  };
  const double weak = settled_from(1e-7), strong = settled_from(1e-1);
  EXPECT_GT(weak, 0.0);
  EXPECT_NEAR(weak / strong, 1.0, 1e-7);
}

}  // namespace
}  // namespace coldbay::carried_heat_test
