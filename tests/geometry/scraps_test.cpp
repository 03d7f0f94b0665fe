#include "geometry/wall/scraps.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "geometry/wall/cuts.hpp"
#include "tests/support/walls.hpp"

namespace coldbay::scraps_test {
namespace {

using test::uniform;

const Fill batt{test::material("batt", 0.039), Batt{0.039, 0.089}, 0.089};

std::vector<Piece> lumps(const Scraps& scraps, const Region& at, double density = 0.8) {
  std::vector<Piece> pieces;
  add_scraps(scraps, {&batt, at, density}, test::still_air(), "bay", pieces);
  return pieces;
}

double volume(const Piece& p) { return area(p.outline) * p.reach.length(); }

bool same(const std::vector<Piece>& a, const std::vector<Piece>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Piece& p, const Piece& q) {
    const Rectangle r = bounding_box(p.outline), s = bounding_box(q.outline);
    return p.material == q.material && p.squeezed == q.squeezed && p.reach.from == q.reach.from &&
           p.reach.to == q.reach.to && r.across.from == s.across.from && r.across.to == s.across.to &&
           r.depth.from == s.depth.from && r.depth.to == s.depth.to;
  });
}

const Region bay{{0.019, 0.3874}, {0.038, 2.324}, {0.0127, 0.1017}};

TEST(Scraps, FollowTheirSeed) {
  const auto first = lumps(Scraps{7}, bay);
  EXPECT_TRUE(same(first, lumps(Scraps{7}, bay)));
  EXPECT_FALSE(same(first, lumps(Scraps{8}, bay)));
}

// "The same seed gives the same lumps anywhere": these numbers were drawn once, on x86-64 by g++ 12;
// std::mt19937_64 is the same by its standard, and no distribution of the library is in between. 1e-15: the
// last bit of a product may differ where the compiler joins it with a sum.
TEST(Scraps, AreTheSameAnywhere) {
  const auto all = lumps(Scraps{7}, bay);
  ASSERT_EQ(all.size(), 8u * 25u * 2u);
  EXPECT_NEAR(all[0].squeezed, 0.75992656661743962, 1e-15);
  EXPECT_NEAR(bounding_box(all[0].outline).across.to, 0.070907221628119563, 1e-15);
  EXPECT_NEAR(all[398].squeezed, 0.71947340229479229, 1e-15);
}

// The lumps fill their block, without a hole; all of them together weigh what was asked; the pockets' share
// comes within one lump of what was asked, and is never more.
TEST(Scraps, FillTheirBlock) {
  for (unsigned seed = 0; seed < 40; ++seed) {
    std::mt19937 rng(seed);
    const Region at{
        {0.0, uniform(rng, 0.2, 0.6)}, {0.0, uniform(rng, 0.5, 2.5)}, {0.0, uniform(rng, 0.08, 0.2)}};
    const Scraps scraps{seed, uniform(rng, 0.03, 0.08), uniform(rng, 0.02, 0.4), 1};
    const double density = uniform(rng, 0.6, 1.0);
    double filled = 0.0, fibre = 0.0, pockets = 0.0, largest = 0.0, lightest = 9.0, densest = 0.0;
    for (const Piece& p : lumps(scraps, at, density)) {
      EXPECT_TRUE(p.by_chance);
      filled += volume(p);
      largest = std::max(largest, volume(p));
      if (p.role == Piece::Role::air) {
        pockets += volume(p);
        continue;
      }
      fibre += volume(p) * p.squeezed;
      lightest = std::min(lightest, p.squeezed);
      densest = std::max(densest, p.squeezed);
    }
    const double whole = at.across.length() * at.up.length() * at.depth.length();
    EXPECT_NEAR(filled / whole, 1.0, 1e-12);  // rounding of sums
    EXPECT_NEAR(fibre / (density * whole), 1.0, 1e-12);
    EXPECT_LE(pockets / whole, scraps.pockets + 1e-12);
    EXPECT_GT(pockets / whole, scraps.pockets - largest / whole) << seed;
    // Lumps differ from their mean by up to 35 % either way, and so from each other by up to 1.35 / 0.65.
    EXPECT_LE(densest / lightest, (1.0 + lump_spread) / (1.0 - lump_spread));
    EXPECT_GT(densest / lightest, 1.2);
  }
}

// No pockets, none drawn.
TEST(Scraps, WithoutPockets) {
  for (const Piece& p : lumps(Scraps{3, 0.045, 0.0, 1}, bay)) EXPECT_EQ(p.role, Piece::Role::fill);
}

// Other lumps in another seed, and the same in the bay beside: a plan at one height is another picture.
TEST(Scraps, ShowInACut) {
  Wall w = test::two_by_four();
  w.bays[0].fill_fraction = 0.8;
  w.bays[0].scraps = Scraps{1};
  Wall other = w;
  other.bays[0].scraps->seed = 2;
  EXPECT_TRUE(differ(plan_section(w, 1.2, "", ""), plan_section(other, 1.2, "", ""), w.bays[0]));
  EXPECT_FALSE(differ(plan_section(w, 1.2, "", ""), plan_section(w, 1.2, "", ""), w.bays[0]));
}

}  // namespace
}  // namespace coldbay::scraps_test
