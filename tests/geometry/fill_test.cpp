#include "geometry/wall/fill.hpp"

#include <gtest/gtest.h>

#include <functional>
#include <numbers>

#include "tests/support/fibre.hpp"

// A batt keeps its fibre whatever is done to it: what is pressed, fallen, folded or dented weighs as much as
// what was cut.

namespace coldbay::fill_test {
namespace {

using test::fibre_of_bay, test::random_bay, test::space_of_bay, test::uniform;

/// Sums of a few thousand products of metres and kilograms: far above rounding, and thousands of times below
/// the smallest loss looked for (a dent's 0.1 %).
constexpr double rounding = 1e-9;

constexpr unsigned seeds = 20;

/// The batt of a bay as its label has it, cut `width` wide and `height` high [kg].
double label_mass(const Bay& bay, double width, double height) {
  double mass = 0.0;
  for (const Fill& f : bay.fills) mass += label_density(*f.batt) * f.batt->thickness * width * height;
  return mass;
}

/// Does something to a random bay, with dimensions of its own, and says how wide and high its piece was cut.
struct Cut {
  double width, height;
};
using Harm = std::function<Cut(Wall&, Bay&, const Region&, std::mt19937&)>;

/// Mass of the fill against the label's, on walls of random dimensions.
void expect_mass(const char* what, const Harm& harm) {
  for (unsigned seed = 0; seed < seeds; ++seed) {
    std::mt19937 rng(seed);
    Wall w = random_bay(rng);
    const Region space = space_of_bay(w, 0);
    const Cut cut = harm(w, w.bays[0], space, rng);
    const auto problems = check(w);
    ASSERT_TRUE(problems.empty()) << what << ", seed " << seed << ": " << problems.front().what;
    const double label = label_mass(w.bays[0], cut.width, cut.height);
    EXPECT_NEAR(fibre_of_bay(w, 0) / label, 1.0, rounding) << what << ", seed " << seed;
  }
}

TEST(Fibre, OfABattThatFits) {
  expect_mass("fits", [](Wall&, Bay&, const Region& s, std::mt19937&) {
    return Cut{s.across.length(), s.up.length()};
  });
}

// Up to half an inch over its bay a batt is held by friction, and keeps its edges; all that it is too wide by
// is in it, then as beyond that.
TEST(Fibre, OfABattForcedIn) {
  expect_mass("held by friction", [](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.width = s.across.length() + uniform(rng, 0.0, friction_fit);
    return Cut{*b.width, s.up.length()};
  });
  expect_mass("forced in", [](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.width = s.across.length() + friction_fit + uniform(rng, 0.001, 0.05);
    return Cut{*b.width, s.up.length()};
  });
  expect_mass("forced in between gaps", [](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.gap.left = uniform(rng, 0.01, 0.04);
    b.gap.right = uniform(rng, 0.01, 0.04);
    b.width = s.across.length() - b.gap.left - b.gap.right + friction_fit + uniform(rng, 0.001, 0.03);
    return Cut{*b.width, s.up.length()};
  });
}

TEST(Fibre, OfANarrowOrShortPiece) {
  for (const bool filled : {false, true})
    for (const Side side : {Side::left, Side::right})
      expect_mass("narrow", [&](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
        b.width = s.across.length() * uniform(rng, 0.6, 0.98);
        b.strip = side;
        b.strip_filled = filled;
        return Cut{filled ? s.across.length() : *b.width, s.up.length()};
      });
  for (const bool filled : {false, true})
    for (const BayEnd end : {BayEnd::bottom, BayEnd::top})
      expect_mass("short", [&](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
        b.short_end = ShortEnd{uniform(rng, 0.01, 1.0), end, filled};
        return Cut{s.across.length(), s.up.length() - (filled ? 0.0 : b.short_end->by)};
      });
}

// A batt that is short of its bay by gaps at both ends, and one that has slumped besides.
TEST(Fibre, OfAPieceBetweenGapsAtItsEnds) {
  expect_mass("open at both ends", [&](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.gap.top = uniform(rng, 0.003, 0.2);
    b.gap.bottom = uniform(rng, 0.003, 0.2);
    return Cut{s.across.length(), s.up.length() - b.gap.top - b.gap.bottom};
  });
  expect_mass("open at the top, slumped", [&](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.gap.top = uniform(rng, 0.003, 0.2);
    b.fallen = uniform(rng, 0.1, 0.3);
    return Cut{s.across.length(), s.up.length() - b.gap.top};
  });
}

TEST(Fibre, OfRoundedShoulders) {
  expect_mass("shoulders", [](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.shoulders = uniform(rng, 0.005, 0.08);
    return Cut{s.across.length(), s.up.length()};
  });
}

TEST(Fibre, OfInsetStaples) {
  for (const bool square : {false, true})
    expect_mass(square ? "square pockets" : "tapered pockets", [&](Wall&, Bay& b, const Region& s,
                                                                   std::mt19937& rng) {
      b.staples = InsetStaples{s.depth.length() * uniform(rng, 0.05, 0.7), uniform(rng, 0.01, 0.1), square};
      return Cut{s.across.length(), s.up.length()};
    });
}

TEST(Fibre, OfABattThatHasNotRecovered) {
  for (const Face face : {Face::room, Face::sheathing})
    expect_mass("thin", [&](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
      b.thickness = s.depth.length() * uniform(rng, 0.41, 0.97);
      b.against = face;
      return Cut{s.across.length(), s.up.length()};
    });
}

// Two millimetres either way are no squeezing (slack): beyond them all of the fibre is there.
TEST(Fibre, OfAThickBattSqueezed) {
  expect_mass("squeezed", [](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.fills[0].batt->thickness = b.fills[0].thickness = s.depth.length() * uniform(rng, 1.05, 2.4);
    return Cut{s.across.length(), s.up.length()};
  });
  expect_mass("squeezed by gaps", [](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.gap = {0.01, 0.015, uniform(rng, 0.003, 0.02), uniform(rng, 0.003, 0.02)};
    return Cut{s.across.length() - 0.025, s.up.length()};
  });
  // R-19, 6-1/4 in, in a 2x4: 1.78 times its density.
  Wall w = test::two_by_four();
  w.bays[0].fills[0].batt = Batt{0.048, 0.15875};
  w.bays[0].fills[0].thickness = 0.15875;
  ASSERT_TRUE(check(w).empty());
  const Region space = space_of_bay(w, 0);
  EXPECT_NEAR(laid_fills(w.bays[0], space)[0].squeezed, 0.15875 / 0.089, rounding);
  EXPECT_NEAR(fibre_of_bay(w, 0), label_mass(w.bays[0], 0.3684, space.up.length()), rounding);
}

TEST(Fibre, OfABattThatHasSlumped) {
  expect_mass("fallen", [](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.fallen = s.up.length() * uniform(rng, 0.02, 0.55);
    return Cut{s.across.length(), s.up.length()};
  });
  for (const BayEnd end : {BayEnd::bottom, BayEnd::top})
    expect_mass("short and fallen", [&](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
      b.short_end = ShortEnd{uniform(rng, 0.1, 0.5), end, false};
      b.fallen = uniform(rng, 0.1, 0.3);
      return Cut{s.across.length(), s.up.length() - b.short_end->by};
    });
}

// What shows of a batt folded under, and the end under it, are together as long as it was cut: the bay's
// height and what it was too long by.
TEST(Fibre, OfABattFoldedUnder) {
  for (const BayEnd end : {BayEnd::bottom, BayEnd::top})
    expect_mass("folded", [&](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
      b.folded = FoldedEnd{uniform(rng, 0.01, 0.3), end};
      return Cut{s.across.length(), s.up.length() + b.folded->by};
    });
  std::mt19937 rng(7);
  Wall w = random_bay(rng);
  w.bays[0].folded = FoldedEnd{0.12, BayEnd::bottom};
  // By length: along the batt's middle at its label density, the fibre per metre of height over the label's.
  const BuiltWall built = build(w);
  const double per_metre = label_mass(w.bays[0], w.bays[0].clear_width, 1.0);
  const auto length = [&](double from, double to) {
    return test::fibre_mass(built, built.bays[0].clear, {built.up.from + from, built.up.from + to}) /
           per_metre;
  };
  EXPECT_NEAR(length(0.0, 0.12), 2 * 0.12, rounding);  // two layers over the fold
  EXPECT_NEAR(length(0.12, built.up.length()), built.up.length() - 0.12, rounding);
}

TEST(Fibre, OfSeveralLayers) {
  for (const double share : {1.0, 1.5})
    expect_mass("two batts", [&](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
      const double first = s.depth.length() * uniform(rng, 0.3, 0.7), second = s.depth.length() - first;
      Fill f = b.fills[0], g = f;
      f.batt->thickness = f.thickness = share * first;
      g.batt->thickness = g.thickness = share * second;
      g.batt->conductivity = g.material.conductivity = 0.036;
      b.fills = {f, g};
      return Cut{s.across.length(), s.up.length()};
    });
  // A layer that takes the rest leaves a batt its own thickness.
  std::mt19937 rng(3);
  Wall w = random_bay(rng);
  Bay& b = w.bays[0];
  b.fills[0].batt->thickness = b.fills[0].thickness = 0.6 * w.frame.member_depth;
  b.fills.push_back({test::material("loose", 0.04), {}, 0.0});
  ASSERT_TRUE(check(w).empty());
  const auto laid = laid_fills(b, space_of_bay(w, 0));
  EXPECT_NEAR(laid[0].at.depth.length(), 0.6 * w.frame.member_depth, rounding);
  EXPECT_NEAR(laid[1].at.depth.length(), 0.4 * w.frame.member_depth, rounding);
  // With nothing left for it the wall cannot be built: a layer of less than no thickness.
  b.fills[0].batt->thickness = b.fills[0].thickness = 1.1 * w.frame.member_depth;
  EXPECT_EQ(check(w).size(), 1u);
}

// Scraps weigh the fill fraction of the batt, pockets or none.
TEST(Fibre, OfScraps) {
  for (unsigned seed = 0; seed < seeds; ++seed) {
    std::mt19937 rng(seed);
    Wall w = random_bay(rng);
    Bay& b = w.bays[0];
    b.fill_fraction = uniform(rng, 0.6, 1.0);
    const double whole = label_mass(b, b.clear_width, space_of_bay(w, 0).up.length());
    ASSERT_TRUE(check(w).empty());
    EXPECT_NEAR(fibre_of_bay(w, 0) / whole, *b.fill_fraction, rounding);
    b.scraps = Scraps{seed, uniform(rng, 0.04, 0.08), uniform(rng, 0.0, 0.3), 3};
    ASSERT_TRUE(check(w).empty());
    EXPECT_NEAR(fibre_of_bay(w, 0) / whole, *b.fill_fraction, rounding) << seed;
  }
}

// All that goes together without touching: narrow, short, thin, shoulders and pockets at once.
TEST(Fibre, OfABattWithEverythingWrong) {
  expect_mass("all", [](Wall&, Bay& b, const Region& s, std::mt19937& rng) {
    b.width = s.across.length() * uniform(rng, 0.8, 0.95);
    b.short_end = ShortEnd{uniform(rng, 0.05, 0.2), BayEnd::bottom, false};
    b.thickness = 0.8 * s.depth.length();
    b.staples = InsetStaples{0.3 * *b.thickness, 0.04, false};
    return Cut{*b.width, s.up.length() - b.short_end->by};
  });
}

/// Paths of what check() says of a random bay that something was done to.
std::vector<std::string> said_of(const std::function<void(Wall&, Bay&, double)>& harm) {
  std::mt19937 rng(5);
  Wall w = random_bay(rng);
  w.bays[0].path = "bay";
  harm(w, w.bays[0], w.frame.member_depth);
  std::vector<std::string> paths;
  for (const Problem& p : check(w)) paths.push_back(p.path);
  return paths;
}

using Paths = std::vector<std::string>;

// Each of these is possible by itself, and not with the other: it would leave less than nothing of the batt,
// or press it beyond a quarter of its thickness.
TEST(Fibre, IsNotAskedForTheImpossible) {
  EXPECT_EQ(said_of([](Wall&, Bay& b, double depth) {
              b.thickness = 0.5 * depth;
              b.staples = InsetStaples{0.6 * depth, 0.05, false};
            }),
            Paths{"bay.staples"});
  EXPECT_EQ(said_of([](Wall&, Bay& b, double) {
              b.width = 0.15;
              b.staples = InsetStaples{0.02, 0.08, false};
            }),
            Paths{"bay.staples"});
  EXPECT_EQ(said_of([](Wall&, Bay& b, double depth) {
              b.thickness = 0.5 * depth;
              b.shoulders = 0.6 * depth;
            }),
            Paths{"bay.shoulders"});
  EXPECT_EQ(said_of([](Wall&, Bay& b, double) {
              b.short_end = ShortEnd{1.2, BayEnd::top, false};
              b.fallen = 0.9;
            }),
            Paths{"bay.fallen"});
  EXPECT_EQ(said_of([](Wall& w, Bay& b, double) {
              b.fills[0].batt.reset();
              b.short_end = ShortEnd{0.5 * w.height, BayEnd::top, false};
              b.settled = 0.5 * w.height;
            }),
            Paths{"bay.settled"});
  EXPECT_EQ(said_of([](Wall&, Bay& b, double depth) {
              b.fills[0].batt->thickness = b.fills[0].thickness = 2.2 * depth;
              b.folded = FoldedEnd{0.1, BayEnd::top};
            }),
            Paths{"bay"});
  EXPECT_EQ(said_of([](Wall&, Bay& b, double depth) {
              b.gap.sheathing = 0.2 * depth;
              b.fills[0].batt->thickness = b.fills[0].thickness = 0.8 * depth;
              b.thickness = 0.6 * depth;
            }),
            Paths{});
  EXPECT_EQ(said_of([](Wall&, Bay& b, double depth) {
              b.fills[0].batt->thickness = b.fills[0].thickness = 0.7 * depth;
              b.thickness = 0.8 * depth;  // more than its label
            }),
            Paths{"bay.thickness"});
  EXPECT_EQ(said_of([](Wall&, Bay& b, double depth) {
              b.fills[0].batt->thickness = b.fills[0].thickness = 0.5 * depth;
              b.fills.push_back(b.fills[0]);
              b.fill_fraction = 0.7;  // of which of the two?
            }),
            Paths{"bay.fill fraction"});
}

// Above the header of a door there are 0.2 m or so: what a bay of full height bears is too much there. Drawn
// all the same, a batt "fallen" by more than that had a height, and a density, below nothing.
TEST(Fibre, RoundAnOpeningIsHeldToTheRoomThere) {
  const auto door = [](Wall& w, Bay& b) {
    Opening o;
    o.path = "bay.opening";
    o.width = b.clear_width - 2.0 * w.frame.member_width;
    o.head = w.height - 0.5;
    o.header = 0.2;
    b.opening = o;
  };
  EXPECT_EQ(said_of([&](Wall& w, Bay& b, double) { door(w, b); }), Paths{});
  EXPECT_EQ(said_of([&](Wall& w, Bay& b, double) {
              door(w, b);
              b.fallen = 0.25;
            }),
            Paths{"bay.fallen"});
  EXPECT_EQ(said_of([&](Wall& w, Bay& b, double) {
              door(w, b);
              b.short_end = ShortEnd{0.25, BayEnd::top, false};
            }),
            Paths{"bay.short"});
  // Jacks and header of solid steel would be no frame.
  EXPECT_EQ(said_of([&](Wall& w, Bay& b, double) {
              w.frame.material = test::material("steel", 50.0);
              w.frame.sheet = 0.0011;
              w.frame.top_plates = 1;
              door(w, b);
            }),
            Paths{"bay.opening"});
}

// (1 - pi/4) r^2 under a quarter round: the square less the quarter circle, exactly.
TEST(Steps, KeepTheAreaOfAQuarterRound) {
  for (const double r : {0.004, 0.03, 0.089}) {
    double area = 0.0, before = r;
    for (const double depth : quarter_round(r)) {
      EXPECT_LT(depth, before);
      before = depth;
      area += depth * r / steps;
    }
    EXPECT_NEAR(area / ((1.0 - 0.25 * std::numbers::pi) * r * r), 1.0, rounding);
  }
}

// Gaps round all of a fill leave the block that is the bay less each of them on its own side.
TEST(Laid, GapsLieEachOnItsOwnSide) {
  Wall w = test::two_by_four();
  const Region s = space_of_bay(w, 0);
  w.bays[0].gap = {0.001, 0.002, 0.003, 0.004, 0.005, 0.006};
  const Region at = laid_fills(w.bays[0], s).front().at;
  EXPECT_NEAR(at.across.from - s.across.from, 0.001, rounding);
  EXPECT_NEAR(s.across.to - at.across.to, 0.002, rounding);
  EXPECT_NEAR(at.depth.from - s.depth.from, 0.003, rounding);
  EXPECT_NEAR(s.depth.to - at.depth.to, 0.004, rounding);
  EXPECT_NEAR(s.up.to - at.up.to, 0.005, rounding);
  EXPECT_NEAR(at.up.from - s.up.from, 0.006, rounding);
  const double bay = s.across.length() * s.depth.length() * s.up.length();
  EXPECT_NEAR(test::air_of_bay(w, 0), bay - at.across.length() * at.depth.length() * at.up.length(),
              rounding);
}

// No air gets through any piece of a faced batt: not where it is dented, folded, or cut to a strip either.
TEST(Laid, AFacedBattLetsNoAirThrough) {
  for (const bool faced : {false, true}) {
    Wall w = test::two_by_four();
    Bay& b = w.bays[0];
    b.fills[0].material.airflow_resistivity = 5000.0;
    b.faced = faced;
    b.staples = InsetStaples{0.019, 0.05, false};
    b.short_end = ShortEnd{0.05, BayEnd::top, true};
    b.width = 0.33;
    b.strip_filled = true;
    b.enclosures = {test::box_at(1.2)};
    b.enclosures[0].behind = Enclosure::Behind::filled;
    b.enclosures[0].path = b.path + ".box";
    ASSERT_TRUE(check(w).empty());
    int pieces = 0;
    for (const Piece& p : build(w).pieces) {
      if (p.role != Piece::Role::fill || !p.path.starts_with(b.path)) continue;
      ++pieces;
      EXPECT_EQ(p.material.airflow_resistivity.has_value(), !faced) << p.path;
    }
    EXPECT_GE(pieces, 12);  // the body, a pocket in four steps along each stud, strip, end and box
  }
}

TEST(Steps, KeepTheAreaOfATaper) {
  for (unsigned seed = 0; seed < seeds; ++seed) {
    std::mt19937 rng(seed);
    Wall w = random_bay(rng);
    const double depth = uniform(rng, 0.005, 0.05), pocket = uniform(rng, 0.01, 0.1);
    for (const bool square : {false, true}) {
      w.bays[0].staples = InsetStaples{depth, pocket, square};
      const double area = test::air_of_bay(w, 0) / space_of_bay(w, 0).up.length();
      EXPECT_NEAR(area / ((square ? 2.0 : 1.0) * depth * pocket), 1.0, rounding);  // along both studs
    }
    w.bays[0].staples.reset();
    w.bays[0].shoulders = depth;
    const double area = test::air_of_bay(w, 0) / space_of_bay(w, 0).up.length();
    EXPECT_NEAR(area / (2.0 * (1.0 - 0.25 * std::numbers::pi) * depth * depth), 1.0, rounding);
  }
}

// The pockets of inset staples and rounded shoulders lie one behind the other along a stud: both are there.
TEST(Steps, PocketsBeforeAndBehindStandTogether) {
  std::mt19937 rng(1);
  Wall w = random_bay(rng);
  w.bays[0].staples = InsetStaples{0.019, 0.05, false};
  const double before = test::air_of_bay(w, 0);
  w.bays[0].shoulders = 0.03;
  ASSERT_TRUE(check(w).empty());
  const double both = 2.0 * (1.0 - 0.25 * std::numbers::pi) * 0.03 * 0.03 * space_of_bay(w, 0).up.length();
  EXPECT_NEAR((test::air_of_bay(w, 0) - before) / both, 1.0, rounding);
}

}  // namespace
}  // namespace coldbay::fill_test
