#include "solver/block/settle_block.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/air_loops/carried_heat.hpp"
#include "solver/air_loops/flow_search.hpp"
#include "solver/block/block_air.hpp"
#include "solver/discretisation.hpp"
#include "solver/results/surface.hpp"
#include "solver/settle.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

/// Which air space each cell belongs to, or -1. A cell that an edge crosses belongs to none.
std::vector<int> spaces_of_cells(const Block& block, const BlockPainting& p, const BlockAir& air) {
  std::vector<int> of;
  of.reserve(p.shows.size());
  std::size_t c = 0;
  for (const Index k : p.stretch[2])
    for (const Index j : p.stretch[1])
      for (const Index i : p.stretch[0]) {
        const std::uint32_t id = p.shows[c++];
        if (id >= block.pieces.size() || !block.pieces[id].material.is_air_space || block.pieces[id].held)
          of.push_back(-1);
        else
          of.push_back(air.of_piece[id] >= 0 ? air.of_piece[id] : air.of_stretch[at(block.stretch(i, j, k))]);
      }
  return of;
}

/// Mean temperatures of the faces of one space at either end of the three directions, by area.
struct FaceMeans {
  std::array<std::array<double, 2>, 3> sum{}, area{};
};

}  // namespace

void follow(BlockAir& air, const BlockPainting& painting, const Block& block,
            const Surroundings& surroundings, const ConductivityGrid& grid, const TemperatureField& field) {
  if (air.spaces.empty()) return;
  const std::vector<int> of = spaces_of_cells(block, painting, air);
  std::vector<FaceMeans> faces(air.spaces.size());
  for_each_cell(grid, [&](const std::array<Index, 3>& ijk, Index cell) {
    const int space = of[at(cell)];
    if (space < 0) return;
    for (const Direction d : directions)
      for (const End end : {End::low, End::high}) {
        const Index next = beside(grid, cell, ijk, d, end);
        if (next >= 0 && of[at(next)] == space) continue;
        const double area = face_area(grid, ijk, d);
        FaceMeans& f = faces[static_cast<std::size_t>(space)];
        const auto n = static_cast<std::size_t>(d), e = static_cast<std::size_t>(end);
        f.sum[n][e] += area * face_temperature(grid, surroundings, field, ijk, d, end);
        f.area[n][e] += area;
      }
  });
  for (std::size_t s = 0; s < air.spaces.size(); ++s) {
    for (std::size_t d = 0; d < 3; ++d) {
      const auto& [low, high] = faces[s].area[d];
      if (!(low > 0.0 && high > 0.0)) continue;  // a round void smaller than the cells
      const double T_low = faces[s].sum[d][0] / low, T_high = faces[s].sum[d][1] / high;
      air.spaces[s].state[d].mean_temperature = 0.5 * (T_low + T_high);
      air.spaces[s].state[d].difference = std::abs(T_high - T_low);
    }
    apply_rule(air.spaces[s]);
  }
}

std::vector<double> room_face_of(const ConductivityGrid& grid, const Surroundings& surroundings,
                                 const TemperatureField& field) {
  std::vector<double> T;
  T.reserve(at(grid.axis[0].cells() * grid.axis[1].cells()));
  for (Index j = 0; j < grid.axis[1].cells(); ++j)
    for (Index i = 0; i < grid.axis[0].cells(); ++i)
      T.push_back(face_temperature(grid, surroundings, field, {i, j, 0}, Direction::depth, End::low));
  return T;
}

namespace {

/// What may still be amiss with the flows of a loop in a face: their square root is what the face follows.
constexpr double flows_settled_for_a_face = 2e-3;

/// One round after the other: what loops is looked for, what follows the field is set from it.
struct Rounds {
  const Block& block;
  const BlockPainting& painting;
  const Surroundings& surroundings;
  SolverOptions options;
  MovingAir moving;
  std::vector<int> space_of;
  FlowSearch search;
  KeptHierarchy kept;  // conductivities change little from round to round
  double flow_error = 0.0;

  Rounds(const Block& b, const BlockPainting& p, const Surroundings& s, const SolverOptions& o,
         const BlockAir& air, const std::vector<double>& start, const std::vector<double>& strength)
      : block(b),
        painting(p),
        surroundings(s),
        options(o),
        moving(moving_air(b, p, s)),
        search(moving.paths) {
    if (moving.paths.empty()) return;
    // What is carried round a loop is several times what passes: the balance says that none of it is lost.
    options.heat_balance = std::min(options.heat_balance, 1e-9);
    space_of = spaces_of_cells(block, painting, air);
    moving.strength = strength;
    begin_flow(moving, still() ? std::vector<double>{} : start);
  }

  bool still() const { return surroundings.gaps == AirInGaps::still; }

  SolvedBlock next(const BlockAir& air, const std::vector<double>& celsius) {
    SolvedBlock s{conductivity_grid(block, painting, air, celsius), {}, 1, 0.0, {}};
    if (moving.paths.empty()) {
      s.field = solve(s.grid, surroundings, options, celsius, &kept);
      return s;
    }
    part_radiation(s.grid, moving, air, space_of);
    s.field = solve_with_flow(s.grid, surroundings, moving, options, celsius);
    const LinkFlows driven =
        still() ? moving.flows : driven_flows(moving.paths, s.field.celsius, moving.air, moving.flows);
    flow_error = flow_change(moving.flows, driven);
    s.moving = moving;
    moving.flows = search.next(moving.flows, driven);
    return s;
  }
  bool flows_are_right() const { return moving.paths.empty() || flow_error < flows_settled_for_a_face; }
};

}  // namespace

SolvedBlock solve_block(const Block& block, std::array<Axis, 3> axis, const Surroundings& surroundings,
                        const BlockAir& air, const SolverOptions& options, const std::vector<double>& start,
                        const std::vector<double>& strength) {
  const BlockPainting painting = paint(block, std::move(axis));
  Rounds rounds(block, painting, surroundings, options, air, start, strength);
  std::vector<double> celsius = start;
  for (int round = 1; round <= most_rounds_with_flow; ++round) {
    SolvedBlock s = rounds.next(air, celsius);
    s.rounds = round;
    if (rounds.flows_are_right()) return s;
    celsius = std::move(s.field.celsius);
  }
  throw SolverError(fmt::format("the air that loops did not settle in {} rounds", most_rounds_with_flow));
}

SolvedBlock settle_block(const Block& block, std::array<Axis, 3> axis, const Surroundings& surroundings,
                         BlockAir& air, double within, const SolverOptions& options) {
  const BlockPainting painting = paint(block, std::move(axis));
  const bool once =
      air.spaces.empty() && std::none_of(block.pieces.begin(), block.pieces.end(),
                                         [](const Piece& p) { return p.material.law.has_value(); });
  Rounds rounds(block, painting, surroundings, options, air, {}, {});
  const int most = rounds.moving.paths.empty() ? most_rounds : most_rounds_with_flow;
  std::vector<double> celsius, face;
  for (int round = 1; round <= most; ++round) {
    SolvedBlock s = rounds.next(air, celsius);
    s.rounds = round;
    if (once) return s;
    const std::vector<double> before = std::exchange(face, room_face_of(s.grid, surroundings, s.field));
    for (std::size_t i = 0; i < before.size(); ++i)
      s.change = std::max(s.change, std::abs(face[i] - before[i]));
    follow(air, painting, block, surroundings, s.grid, s.field);
    if (round > 1 && s.change <= within && rounds.flows_are_right()) return s;
    celsius = std::move(s.field.celsius);
  }
  throw SolverError(
      fmt::format("the air spaces and conductivities of a wall did not settle in {} rounds", most));
}

}  // namespace coldbay
