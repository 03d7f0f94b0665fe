#include "geometry/wall/cuts.hpp"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/faults.hpp"

namespace coldbay::cuts_test {
namespace {

using test::everything, test::two_by_four, test::uniform;

/// Whether two sections look the same: the same material in every field of a net on the edges of both.
bool look_same(const Section& a, const Section& b) {
  std::vector<double> x{0.0, a.width}, y{0.0, a.depth};
  for (const Section* s : {&a, &b})
    for (const Shape& shape : s->shapes) {
      const Rectangle r = bounding_box(shape.outline);
      x.insert(x.end(), {r.across.from, r.across.to});
      y.insert(y.end(), {r.depth.from, r.depth.to});
    }
  const auto once = [](std::vector<double>& v) {
    std::sort(v.begin(), v.end());
    v.erase(std::unique(v.begin(), v.end(), [](double p, double q) { return q - p < 1e-9; }), v.end());
  };
  once(x);
  once(y);
  for (std::size_t i = 0; i + 1 < x.size(); ++i)
    for (std::size_t j = 0; j + 1 < y.size(); ++j) {
      const Point at{0.5 * (x[i] + x[i + 1]), 0.5 * (y[j] + y[j + 1])};
      if (!(a.materials[*material_at(a, at)] == b.materials[*material_at(b, at)])) return false;
    }
  return true;
}

/// Everything but what no cut has a stretch of sameness for: scraps lie by chance, and a round cable shows
/// another chord at every height.
Wall straight(std::mt19937& rng, bool steel) {
  Wall w = everything(rng, steel);
  for (Bay& b : w.bays) {
    b.scraps.reset();
    for (ServiceRun& r : b.runs)
      if (r.kind == ServiceRun::Kind::cable) {
        r.kind = ServiceRun::Kind::conduit;
        r.wall = 0.001;
        r.inside = w.air;
      }
  }
  return w;
}

// What a section stands for: stretches that neither touch nor leave the wall, the cut itself among them. A
// cut anywhere in them shows the same; one anywhere else that it may be shows something else.
TEST(Cuts, StandForWhatLooksTheSame) {
  for (const bool steel : {false, true}) {
    std::mt19937 rng(21);
    const Wall w = straight(rng, steel);
    ASSERT_TRUE(check(w).empty());
    const BuiltWall built = build(w);
    for (const bool plan : {true, false}) {
      const Span possible = plan ? built.up : Span{0.0, built.width};
      const auto section = [&](double at) {
        return plan ? plan_section(w, built, at, "", "") : vertical_section(w, built, at, "", "");
      };
      for (int i = 0; i < 12; ++i) {
        const double at =
            plan && i % 2 == 0 ? uniform(rng, 1.14, 1.26) : uniform(rng, possible.from, possible.to);
        const Section s = section(at);
        EXPECT_EQ(s.stands_of, plan ? built.height : built.width);
        bool holds = false;
        double before = -1.0;
        for (const Span& span : s.stands_for) {
          EXPECT_GT(span.from, before + 1e-9);
          EXPECT_GT(span.length(), 0.0);
          before = span.to;
          holds = holds || (at >= span.from && at < span.to);
          for (int k = 0; k < 2; ++k) {
            const double other = uniform(rng, span.from, span.to);
            EXPECT_TRUE(look_same(s, section(other))) << fmt::format("{} and {}", at, other);
          }
        }
        EXPECT_TRUE(holds) << at;
        EXPECT_GE(s.stands_for.front().from, 0.0);
        EXPECT_LE(s.stands_for.back().to, s.stands_of);
        for (int k = 0; k < 8; ++k) {
          const double other = uniform(rng, possible.from, possible.to);
          if (std::any_of(s.stands_for.begin(), s.stands_for.end(),
                          [&](Span p) { return other >= p.from && other < p.to; }))
            continue;
          EXPECT_FALSE(look_same(s, section(other))) << fmt::format("{} and {}, steel {}", at, other, steel);
        }
      }
    }
  }
}

// A cut along a round cable stands for its thickness; any cut through scraps for as much as without them.
TEST(Cuts, StandForARoundThingAndForScraps) {
  Wall w = two_by_four();
  w.bays[0].runs = {test::cable_at(1.2, ServiceRun::Laid::split)};
  const auto s = plan_section(w, 1.202, "", "").stands_for;
  ASSERT_EQ(s.size(), 1u);
  EXPECT_NEAR(s[0].from, 1.195, 1e-12);  // rounding
  EXPECT_NEAR(s[0].to, 1.205, 1e-12);
  w.bays[0].runs.clear();
  w.bays[0].fill_fraction = 0.8;
  w.bays[0].scraps = Scraps{};
  const auto lumps = plan_section(w, 1.2, "", "").stands_for;
  ASSERT_EQ(lumps.size(), 1u);
  EXPECT_NEAR(lumps[0].length(), 2.4 - 3 * 0.038, 1e-12);
}

// Two pipes of one kind, at two heights: one is kept cold, and a cut along the other does not stand for it.
TEST(Cuts, TellAWarmPipeFromAColdOne) {
  Wall w = two_by_four();
  test::make(Fault::cold_pipe, w.bays[0], 1.0);
  w.bays[0].runs.push_back(w.bays[0].runs[0]);
  w.bays[0].runs[0].at = 0.5;
  EXPECT_EQ(plan_section(w, 0.5, "", "").stands_for.size(), 2u);
  w.bays[0].runs[1].temperature = 10.0;
  EXPECT_EQ(plan_section(w, 0.5, "", "").stands_for.size(), 1u);
}

// In a vertical cut wood conducts along its studs in the first direction, and up through plates across it.
TEST(Cuts, TurnTheGrain) {
  const Wall w = two_by_four();
  const Section plan = plan_section(w, 1.2, "", ""), vertical = vertical_section(w, 0.4064, "", "");
  const auto grain_at = [](const Section& s, Point at) {
    for (auto shape = s.shapes.rbegin(); shape != s.shapes.rend(); ++shape)
      if (contains(shape->outline, at)) return shape->grain;
    return Direction::depth;
  };
  EXPECT_EQ(grain_at(plan, {0.4064, 0.05}), Direction::up);       // a stud, cut across its grain
  EXPECT_EQ(grain_at(vertical, {1.2, 0.05}), Direction::across);  // along it
  EXPECT_EQ(grain_at(vertical, {0.02, 0.05}), Direction::up);     // a plate, cut across its grain
}

TEST(Cuts, MissWhatIsNotThere) {
  const Wall w = two_by_four();
  for (const double across : {-1.0, 0.0, 3 * 0.4064 + 1e-9, 9.0})
    EXPECT_THROW(vertical_section(w, across, "", "sections[0]"), ModelError) << across;
  std::mt19937 rng(1);
  Wall all = everything(rng, false);
  Bay& window = all.bays[all.bays.size() - 2];
  const BuiltWall built = build(all);
  const double middle =
      0.5 * (built.bays[all.bays.size() - 2].clear.from + built.bays[all.bays.size() - 2].clear.to);
  EXPECT_NO_THROW(plan_section(all, 1.5, "", ""));
  window.opening->u_value.reset();
  EXPECT_THROW(plan_section(all, 1.5, "", ""), ModelError);
  EXPECT_THROW(vertical_section(all, middle, "", ""), ModelError);
  EXPECT_NO_THROW(plan_section(all, 0.5, "", ""));  // below the sill
}

// Which bays two cuts show differently: the one with the fault, and no other.
TEST(Cuts, DifferWhereAFaultShows) {
  Wall w = two_by_four();
  const Section sound = plan_section(w, 1.2, "", "");
  w.bays[1].gap.left = 0.01;
  const Section faulty = plan_section(w, 1.2, "", "");
  EXPECT_FALSE(differ(sound, faulty, w.bays[0]));
  EXPECT_TRUE(differ(sound, faulty, w.bays[1]));
  // The middle of that bay is as it should be, though there is air beside the batt elsewhere in it.
  Wall right = w;
  right.bays[1].gap = {};
  const double middle = 1.5 * 0.4064, edge = 0.4064 + 0.019 + 0.005;
  EXPECT_FALSE(
      differ(vertical_section(w, middle, "", ""), vertical_section(right, middle, "", ""), w.bays[1]));
  EXPECT_TRUE(differ(vertical_section(w, edge, "", ""), vertical_section(right, edge, "", ""), w.bays[1]));
  // Sound only where nothing is wrong and nothing stands.
  EXPECT_TRUE(faulty.parts[0].sound);
  EXPECT_FALSE(faulty.parts[1].sound);
  w.bays[0].enclosures = {test::box_at(1.2)};
  EXPECT_FALSE(plan_section(w, 1.2, "", "").parts[0].sound);
}

// A loop of air may run round a batt that leaves air on both faces.
TEST(Cuts, KnowWhereAirMayGoRound) {
  Wall w = two_by_four();
  w.bays[1].gap = {0.0, 0.0, 0.01, 0.0};
  EXPECT_FALSE(plan_section(w, 1.2, "", "").parts[1].air_on_both_faces);
  w.bays[1].gap.sheathing = 0.01;
  EXPECT_TRUE(plan_section(w, 1.2, "", "").parts[1].air_on_both_faces);
  EXPECT_EQ(vertical_section(w, 0.6, "", "").loops_round, std::vector<std::string>{"bay 2"});
  EXPECT_TRUE(vertical_section(w, 0.2, "", "").loops_round.empty());
}

}  // namespace
}  // namespace coldbay::cuts_test
