#include "geometry/block/block.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "geometry/air_cavities.hpp"
#include "geometry/block/painting.hpp"
#include "geometry/wall/cuts.hpp"
#include "tests/support/faults.hpp"
#include "tests/support/solved.hpp"
#include "tests/support/walls.hpp"

namespace coldbay::block_test {
namespace {

using test::two_by_four, test::uniform;

std::array<Axis, 3> coarse(const Block& block) {
  const CellSizes sizes{0.01, 0.1, 0.5, 1};
  return block_lines(block, block.span(Direction::across), {sizes, sizes, sizes});
}

// What a block shows at a point is what a ray through the wall meets there: in random walls with every fault
// and every thing in a bay, timber and steel, the whole wall and a part of it. Cells that the edge of a cable
// crosses show both.
TEST(Block, ShowsWhatARayMeets) {
  for (const bool steel : {false, true}) {
    std::mt19937 rng(5);
    const BuiltWall built = build(test::everything(rng, steel));
    for (const Span part : {Span{0.0, built.width}, Span{0.3 * built.width, 0.7 * built.width}}) {
      const Block block = cut_out(built, part);
      const BlockPainting p = paint(block, coarse(block));
      int looked = 0;
      for (int n = 0; n < 4000; ++n) {
        const double x = uniform(rng, part.from, part.to), y = uniform(rng, 0.0, built.height),
                     z = uniform(rng, 0.0, built.depth);
        const Index cell =
            p.axis[0].cell_at(x) +
            p.axis[0].cells() * (p.axis[1].cell_at(y) + p.axis[1].cells() * p.axis[2].cell_at(z));
        const std::uint32_t shows = p.shows[static_cast<std::size_t>(cell)];
        if (shows >= block.pieces.size()) continue;
        const std::vector<const Piece*> pieces =
            pieces_within(built, {x - 1e-6, x + 1e-6}, {y - 1e-6, y + 1e-6});
        for (const Met& m : met_at(pieces, x, y))
          if (z >= m.depth.from && z < m.depth.to) {
            EXPECT_EQ(block.pieces[shows].material.name, m.piece->material.name) << x << " " << y << " " << z;
            EXPECT_EQ(block.pieces[shows].material, m.piece->material);
            ++looked;
          }
      }
      EXPECT_GT(looked, 3900);  // cables are thin
    }
  }
}

// Lines of what nobody sees are left out: the air that a batt is painted over ends where the batt does not.
TEST(Block, LeavesOutHiddenLines) {
  Wall w = two_by_four();
  w.bays.resize(1);
  const Block sound = block_of(build(w));
  EXPECT_EQ(sound.lines[0].size(), 4u);  // two ends, two edges of studs
  EXPECT_EQ(sound.lines[1].size(), 4u);  // and of plates
  EXPECT_EQ(sound.lines[2].size(), 4u);  // three layers
  w.bays[0].gap.left = 0.01;
  EXPECT_EQ(block_of(build(w)).lines[0].size(), 5u);
}

// Small cells stand at a gap beside a post where the face is asked for there; where it is asked for in the
// other bay, the gap's lines stand in large ones.
TEST(Block, SmallCellsStandWhereTheFaceIsAskedFor) {
  Wall w = two_by_four();
  w.bays.resize(2);
  w.bays[1].gap.right = 0.02;
  const BuiltWall built = build(w);
  const Block block = block_of(built);
  const Span clear = built.bays[1].clear;
  const auto cell_beside_gap = [&](Span near) {
    const CellSizes sizes{0.005, 0.1, 0.5, 1};
    const Axis across = block_lines(block, near, {sizes, sizes, sizes})[0];
    return across.width(across.cell_at(clear.to - 0.0201));
  };
  // 5 mm is asked for, and grows by half of the way from the line.
  EXPECT_LE(cell_beside_gap({0.0, built.width}), 0.0075);
  EXPECT_LE(cell_beside_gap(built.bays[1].across), 0.0075);
  EXPECT_GE(cell_beside_gap(built.bays[0].across), 0.015);
}

/// What the air of a section conducts in depth and across, least first.
std::vector<std::pair<double, double>> conductivities(const Section& s) {
  const GridLines lines = grid_lines(s, 2.0, 1'000'000);
  std::vector<std::pair<double, double>> all;
  for (const AirCavity& c : find_air_spaces(s, paint(s, lines.across, lines.depth)).cavities)
    all.emplace_back(c.conductivity, c.conductivity_sideways);
  std::sort(all.begin(), all.end());
  return all;
}

// In a wall that is the same at all heights, or from end to end, air conducts as in the plan, or the vertical
// section. Rounding of sums of lengths alone is between them.
TEST(Block, AirConductsAsInTheSections) {
  constexpr double rounding = 1e-9;
  Wall w = two_by_four();
  w.frame.bottom_plates = w.frame.top_plates = 0;
  w.bays[0].gap = {0.012, 0.0, 0.02, 0.0};
  w.bays[1].fills.clear();
  w.bays[2].staples = InsetStaples{0.019, 0.05, false};
  BuiltWall built = build(w);
  const auto compare = [&](Direction normal, const Section& section) {
    std::vector<std::pair<double, double>> ours;
    for (const BlockAirSpace& s : find_air_spaces(block_of(built)).spaces)
      ours.emplace_back(s.conductivity[2], s.conductivity[normal == Direction::up ? 0 : 1]);
    std::sort(ours.begin(), ours.end());
    const auto theirs = conductivities(section);
    ASSERT_EQ(ours.size(), theirs.size());
    for (std::size_t i = 0; i < ours.size(); ++i) {
      EXPECT_NEAR(ours[i].first, theirs[i].first, rounding) << i;
      EXPECT_NEAR(ours[i].second, theirs[i].second, rounding) << i;
    }
  };
  compare(Direction::up, plan_section(w, built, 1.2, "", ""));

  w = two_by_four();
  w.bays.resize(1);
  w.bays[0].short_end = ShortEnd{0.05, BayEnd::top, false};
  w.bays[0].gap.room = 0.01;
  built = build(w);
  // Without its studs, and wide: the same from end to end.
  std::erase_if(built.pieces, [&](const Piece& p) {
    return p.role == Piece::Role::frame && p.grain == Direction::up && p.path != "wall.layers[1]";
  });
  for (Piece& p : built.pieces) {
    p.reach = p.along == Direction::across ? Span{0.0, built.width} : p.reach;
    if (auto* r = std::get_if<Rectangle>(&p.outline); r && p.along == Direction::up)
      r->across = {0.0, built.width};
  }
  compare(Direction::across, cut_of(built, Direction::across, 0.5 * built.width));
}

// A gap of 10 mm beside a batt and 50 mm over it are two spaces, each as wide as it is there; the corner in
// which they meet is a third.
TEST(Block, AGapAndWhatIsOverTheBattAreParted) {
  Wall w = two_by_four();
  w.bays.resize(1);
  w.bays[0].gap.left = 0.01;
  w.bays[0].short_end = ShortEnd{0.05, BayEnd::top, false};
  const BlockAir air = find_air_spaces(block_of(build(w)));
  ASSERT_EQ(air.spaces.size(), 3u);
  std::vector<double> narrow;
  for (const BlockAirSpace& s : air.spaces) narrow.push_back(s.narrow);
  std::sort(narrow.begin(), narrow.end());
  EXPECT_NEAR(narrow[0], 0.01, 1e-9);  // rounding
  EXPECT_NEAR(narrow[1], 0.05, 1e-9);
}

TEST(Block, EndsAtAWellVentilatedLayer) {
  Wall w = two_by_four();
  Layer air;
  air.material = test::still_air();
  air.thickness = 0.02;
  air.well_ventilated = true;
  w.layers.push_back(air);
  w.layers.push_back({test::material("cladding", 0.5), 0.01, false});
  const Block block = block_of(build(w));
  EXPECT_NEAR(block.lines[2].back(), 0.0127 + 0.089 + 0.0111, 1e-9);  // rounding
  EXPECT_EQ(block.outside_film, 0.13);
  ASSERT_TRUE(block.sheathing);
  EXPECT_NEAR(*block.sheathing, 0.0127 + 0.089, 1e-9);
}

TEST(Block, RefusesWhatItCannotDraw) {
  Wall w = two_by_four();
  w.bays[1].opening = Opening{0.2, 0.9, 2.0, 0.14, 1, {}, "wall.bays[1].opening"};
  EXPECT_THROW(block_of(build(w)), ModelError);
  w.bays[1].opening->u_value = 1.4;
  EXPECT_NO_THROW(block_of(build(w)));
  w = two_by_four();
  w.layers.pop_back();
  w.bays[1].fills.clear();  // open to the outside
  EXPECT_THROW(block_of(build(w)), ModelError);
}

}  // namespace
}  // namespace coldbay::block_test
