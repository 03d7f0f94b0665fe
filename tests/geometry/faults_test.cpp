#include "tests/support/faults.hpp"

#include <gtest/gtest.h>

#include "geometry/wall/cuts.hpp"

namespace coldbay::faults_test {
namespace {

using test::box_at, test::cable_at, test::make, test::two_by_four;

/// The wall of three bays with one fault in the middle.
Wall with(Fault fault, double size = 0.5) {
  Wall w = two_by_four();
  make(fault, w.bays[1], size);
  return w;
}

/// Sizes and contents that decide how a bay is built.
void expect_same_bay(const Bay& a, const Bay& b) {
  ASSERT_EQ(a.fills.size(), b.fills.size());
  for (std::size_t f = 0; f < a.fills.size(); ++f) EXPECT_TRUE(a.fills[f].material == b.fills[f].material);
  const Wall one = two_by_four();
  const Region space = test::space_of_bay(one, 1);
  std::vector<Piece> p, q;
  add_fill(one, a, space, p);
  add_fill(one, b, space, q);
  ASSERT_EQ(p.size(), q.size());
  for (std::size_t i = 0; i < p.size(); ++i) {
    EXPECT_TRUE(p[i].material == q[i].material);
    EXPECT_EQ(p[i].reach.to, q[i].reach.to);
    EXPECT_EQ(area(p[i].outline), area(q[i].outline));
  }
}

// Each fault is found, by itself, and put right: what is left of it is the bay as it was, with what stands in
// it.
TEST(Faults, AreFoundAndPutRight) {
  for (std::size_t f = 0; f < test::fault_count; ++f) {
    const auto fault = static_cast<Fault>(f);
    const Wall w = with(fault);
    ASSERT_TRUE(check(w).empty()) << f << ": " << check(w).front().what;
    const auto found = faults_of(w);
    EXPECT_TRUE(found[0].empty() && found[2].empty()) << f;
    EXPECT_EQ(found[1], std::vector<Fault>{fault}) << f;
    const Wall right = built_right(w);
    EXPECT_TRUE(check(right).empty()) << f;
    EXPECT_TRUE(faults_of(right)[1].empty()) << f;
    EXPECT_TRUE(without_right_way(w).empty()) << f;
    EXPECT_EQ(right.bays[1].enclosures.size(), w.bays[1].enclosures.size());
    EXPECT_EQ(right.bays[1].runs.size(), w.bays[1].runs.size());
    if (fault == Fault::settled_fill) continue;  // of loose fill: its own right way is that fill
    expect_same_bay(right.bays[1], two_by_four().bays[1]);
  }
}

// What is within the tolerance of the trade is no fault, and what is put right by other means is none either.
TEST(Faults, AreNotWhatIsRight) {
  const auto faults = [](auto&& change) {
    Wall w = two_by_four();
    change(w.bays[1]);
    EXPECT_TRUE(check(w).empty());
    return faults_of(w)[1];
  };
  using F = std::vector<Fault>;
  EXPECT_EQ(faults([](Bay& b) { b.width = b.clear_width + friction_fit; }), F{});
  EXPECT_EQ(faults([](Bay& b) { b.width = b.clear_width - 0.5 * slack; }), F{});
  EXPECT_EQ(faults([](Bay& b) {
              b.width = 0.3;
              b.strip_filled = true;
            }),
            F{});
  EXPECT_EQ(faults([](Bay& b) { b.short_end = ShortEnd{0.2, BayEnd::top, true}; }), F{});
  EXPECT_EQ(faults([](Bay& b) { b.runs = {cable_at(1.2, ServiceRun::Laid::split)}; }), F{});
  EXPECT_EQ(faults([](Bay& b) {
              b.enclosures = {box_at(1.2)};
              b.enclosures[0].behind = Enclosure::Behind::foam;
            }),
            F{});
  EXPECT_EQ(faults([](Bay& b) {  // a piece as thick as the space
              b.enclosures = {box_at(1.2)};
              b.enclosures[0].behind = Enclosure::Behind::piece;
              b.enclosures[0].piece = 0.0127 + 0.089 - 0.07;
            }),
            F{});
  EXPECT_EQ(faults([](Bay& b) {  // to the back of the frame: there is no behind
              b.enclosures = {box_at(1.2)};
              b.enclosures[0].depth = 0.0127 + 0.089;
            }),
            F{});
  EXPECT_EQ(faults([](Bay& b) {  // two batts that fill the depth
              b.fills[0].batt->thickness = b.fills[0].thickness = 0.0445;
              b.fills.push_back(b.fills[0]);
            }),
            F{});
}

// Several at once are told in the order of the list, each once.
TEST(Faults, AreToldInOrderAndOnce) {
  Wall w = with(Fault::box_open);
  w.bays[1].enclosures.push_back(box_at(0.4));
  w.bays[1].staples = InsetStaples{0.01, 0.05, false};
  w.bays[1].gap.left = 0.01;
  EXPECT_EQ(faults_of(w)[1], (std::vector<Fault>{Fault::gap, Fault::inset_staples, Fault::box_open}));
}

// A gap at an end is one too, and put right it is gone.
TEST(Faults, GapsAtTheEndsAreGaps) {
  for (double Gap::*end : {&Gap::top, &Gap::bottom}) {
    Wall w = two_by_four();
    w.bays[1].gap.*end = 0.01;
    EXPECT_EQ(faults_of(w)[1], std::vector<Fault>{Fault::gap});
    EXPECT_EQ(built_right(w).bays[1].gap.*end, 0.0);
  }
}

// A cable right: split round; a pipe too; behind a box a piece, or foam where none goes in.
TEST(Faults, ArePutRightByTheTrade) {
  EXPECT_EQ(built_right(with(Fault::pushed_over)).bays[1].runs[0].laid, ServiceRun::Laid::split);
  EXPECT_EQ(built_right(with(Fault::box_open)).bays[1].enclosures[0].behind, Enclosure::Behind::filled);
  Wall tight = with(Fault::box_open);
  tight.bays[1].enclosures[0].depth = 0.0127 + 0.089 - 0.009;
  EXPECT_EQ(built_right(tight).bays[1].enclosures[0].behind, Enclosure::Behind::foam);
  EXPECT_EQ(built_right(with(Fault::box_margin)).bays[1].enclosures[0].margin, 0.0);
}

// A batt too thick for the frame is so with its thickness written down as well.
TEST(Faults, AreNotHiddenByAThickness) {
  Wall w = two_by_four();
  w.bays[1].fills[0].batt->thickness = w.bays[1].fills[0].thickness = 0.159;
  w.bays[1].thickness = 0.089;
  EXPECT_EQ(faults_of(w)[1], std::vector<Fault>{Fault::squeezed});
}

/// A batt of a thickness of its own.
Fill batt(double thickness, double k = 0.042) {
  return {test::material("batt " + std::to_string(thickness), k), Batt{k, thickness}, thickness};
}

// An empty bay, or one with a batt that is not made for it, gets what the bay is meant to have; else what
// most sound bays have.
TEST(Faults, AreFilledAsTheRestOfTheWall) {
  Wall w = with(Fault::missing);
  w.bays[0].fills = {batt(0.089, 0.036)};
  w.bays.push_back(w.bays[2]);
  EXPECT_TRUE(built_right(w).bays[1].fills[0].material == w.bays[2].fills[0].material);  // two to one
  w.bays[1].intended = batt(0.089, 0.030);
  EXPECT_EQ(built_right(w).bays[1].fills[0].material.conductivity, 0.030);
  w.bays[1].intended.reset();
  w.bays[1].fills = {batt(0.159)};
  EXPECT_TRUE(built_right(w).bays[1].fills[0].material == w.bays[2].fills[0].material);
  // Too thick in two layers is too thick as well.
  w.bays[1].fills = {batt(0.089), batt(0.089)};
  ASSERT_EQ(faults_of(w)[1], std::vector<Fault>{Fault::squeezed});
  EXPECT_TRUE(faults_of(built_right(w))[1].empty());
  // Too thin, with air behind it.
  w.bays[1].fills = {batt(0.06)};
  w.bays[1].gap.sheathing = 0.029;
  ASSERT_TRUE(check(w).empty());
  EXPECT_TRUE(built_right(w).bays[1].fills[0].material == w.bays[2].fills[0].material);
}

// Where nothing is known that belongs there, the bay stays as it is, and that is said: a thin batt does not
// grow, and a thick one does not lose its other faults while it is still squeezed.
TEST(Faults, StayWhereNoFillIsKnown) {
  Wall w = two_by_four();
  for (Bay& b : w.bays) b.fills.clear();
  EXPECT_EQ(without_right_way(w), (std::vector<std::size_t>{0, 1, 2}));
  EXPECT_TRUE(built_right(w).bays[1].fills.empty());
  for (Bay& b : w.bays) {
    b.fills = {batt(0.06)};
    b.gap.sheathing = 0.029;
  }
  EXPECT_EQ(without_right_way(w).size(), 3u);
  EXPECT_EQ(built_right(w).bays[1].gap.sheathing, 0.029);
  for (Bay& b : w.bays) {
    b.fills = {batt(0.159)};
    b.gap = {0.01, 0.0, 0.0, 0.0};
  }
  EXPECT_EQ(without_right_way(w).size(), 3u);
  EXPECT_EQ(built_right(w).bays[1].gap.left, 0.01);
  w.bays[2].intended = batt(0.089);
  EXPECT_EQ(without_right_way(w), (std::vector<std::size_t>{0, 1}));
}

}  // namespace
}  // namespace coldbay::faults_test
