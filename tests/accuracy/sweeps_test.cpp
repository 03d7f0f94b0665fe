#include <fmt/core.h>
#include <gtest/gtest.h>

#include <functional>
#include <vector>

#include "tests/support/solved_walls.hpp"

// A bigger fault costs more heat. Every dimension of every fault is swept, in the middle bay of three, in the
// section that shows it. Two answers may come in the wrong order by no more than the sum of their
// uncertainties; from the first to the last the rise must be larger than that.

namespace coldbay::sweeps_test {
namespace {

using test::make, test::solve, test::sound_wall, test::View;
using Make = std::function<void(Wall&, Bay&, double)>;

struct Heat {
  double flow, uncertainty;
};

std::vector<Heat> sweep(const char* what, View view, bool plain, const std::vector<double>& sizes,
                        const Make& harm) {
  std::vector<Heat> all;
  for (const double size : sizes) {
    Wall w = sound_wall(plain);
    harm(w, w.bays[1], size);
    const auto problems = check(w);
    EXPECT_TRUE(problems.empty()) << what << " " << size << ": " << problems.front().what;
    const Forecast f = solve(w, view);
    EXPECT_TRUE(f.reached) << what << " " << size;
    all.push_back({f.results.heat_flow, f.results.heat_flow_uncertainty});
  }
  return all;
}

void expect_rise(const char* what, View view, const std::vector<double>& sizes, const Make& harm,
                 bool plain = false) {
  const auto heat = sweep(what, view, plain, sizes, harm);
  for (std::size_t i = 0; i + 1 < heat.size(); ++i)
    EXPECT_GT(heat[i + 1].flow, heat[i].flow - heat[i].uncertainty - heat[i + 1].uncertainty)
        << what << " from " << sizes[i] << " to " << sizes[i + 1];
  EXPECT_GT(heat.back().flow - heat.front().flow, heat.front().uncertainty + heat.back().uncertainty) << what;
}

// Ends, sides and fallen levels: air where the batt was.
TEST(Sweeps, Short) {
  for (const BayEnd end : {BayEnd::top, BayEnd::bottom})
    expect_rise("short", View::vertical, {0.0, 0.01, 0.03, 0.1, 0.3}, [&](Wall&, Bay& b, double by) {
      if (by > 0.0) b.short_end = ShortEnd{by, end, false};
    });
}

TEST(Sweeps, GapsAndStrips) {
  const std::vector<double> sizes{0.0, 0.003, 0.006, 0.012, 0.025, 0.05, 0.1};
  expect_rise("gap left", View::plan, sizes, [](Wall&, Bay& b, double x) { b.gap.left = x; });
  expect_rise("gap right", View::plan, sizes, [](Wall&, Bay& b, double x) { b.gap.right = x; });
  expect_rise("narrow", View::plan, sizes, [](Wall&, Bay& b, double x) { b.width = b.clear_width - x; });
}

TEST(Sweeps, FallenAndSettled) {
  const std::vector<double> drops{0.0, 0.01, 0.03, 0.1, 0.3};
  // Denser below, and better for that; the opening above costs more at every size.
  expect_rise("fallen", View::vertical, drops, [](Wall&, Bay& b, double x) { b.fallen = x; });
  expect_rise(
      "settled", View::vertical, drops, [](Wall&, Bay& b, double x) { b.settled = x; }, true);
}

// Two things save heat in the first millimetres of a recess. Still air resists x / (0.025 + 3.9 x) and for up
// to 1.6 mm gains more by a millimetre than the fibre it takes the place of, 1 / 0.0388 (by hand); and fibre
// that is pressed together conducts less. So fibre that conducts the same at any density costs more by every
// millimetre from 2 mm on, and real fibre from 5 mm on; at 4 mm it still saves 0.1 %.
TEST(Sweeps, Thickness) {
  for (const Face face : {Face::room, Face::sheathing}) {
    const Make thin = [&](Wall& w, Bay& b, double recess) {
      b.thickness = w.frame.member_depth - recess;
      b.against = face;
    };
    expect_rise("thin, plain fibre", View::plan, {0.002, 0.004, 0.01, 0.02, 0.03, 0.05}, thin, true);
    expect_rise("thin", View::plan, {0.005, 0.01, 0.02, 0.03, 0.04, 0.05}, thin);
    const auto first = sweep("thin", View::plan, false, {0.0, 0.004}, thin);
    EXPECT_LT(first[1].flow, first[0].flow);
    EXPECT_GT(first[1].flow, 0.997 * first[0].flow);  // three times what is seen
  }
  expect_rise("recess", View::plan, {0.005, 0.01, 0.02, 0.03, 0.04},
              [](Wall&, Bay& b, double x) { b.gap.room = x; });
}

// The same of pockets: plain fibre from 2 mm on (a taper of 4, which is 2 deep on average), real fibre
// from 5.
TEST(Sweeps, InsetStaples) {
  for (const bool square : {false, true}) {
    const Make deep = [&](Wall&, Bay& b, double x) {
      if (x > 0.0) b.staples = InsetStaples{x, 0.0508, square};
    };
    expect_rise("pockets, plain fibre", View::plan, {square ? 0.002 : 0.004, 0.006, 0.01, 0.019, 0.03, 0.05},
                deep, true);
    expect_rise("pockets", View::plan, {0.005, 0.01, 0.019, 0.03, 0.05}, deep);
    expect_rise("wide pockets", View::plan, {0.005, 0.01, 0.02, 0.05, 0.1, 0.15},
                [&](Wall&, Bay& b, double x) {
                  b.staples = InsetStaples{0.019, x, square};
                });
  }
}

// Rounded edges give their fibre to the rest, which is the better for it: up to 20 mm of radius nothing can
// be told from a sound batt.
TEST(Sweeps, Shoulders) {
  const Make round = [](Wall&, Bay& b, double r) { b.shoulders = r; };
  expect_rise("shoulders, plain fibre", View::plan, {0.0, 0.01, 0.02, 0.04, 0.06}, round, true);
  expect_rise("shoulders", View::plan, {0.01, 0.02, 0.03, 0.045, 0.06}, round);
}

// Forced in, a batt is denser all over, and saves; the shoulders it gets cost. Of plain fibre only they
// count; of real fibre they win from 45 mm on, and up to 60 mm the bay is still no worse than a sound one.
TEST(Sweeps, Forced) {
  const Make wide = [](Wall&, Bay& b, double x) { b.width = b.clear_width + friction_fit + x; };
  expect_rise("forced, plain fibre", View::plan, {0.0, 0.01, 0.02, 0.04, 0.06}, wide, true);
  const auto heat = sweep("forced", View::plan, false, {0.0, 0.005, 0.015, 0.03, 0.06}, wide);
  for (std::size_t i = 0; i + 2 < heat.size(); ++i) EXPECT_LT(heat[i + 1].flow, heat[i].flow);
  EXPECT_GT(heat[4].flow, heat[3].flow);
}

// Not monotone: the bend and the slope beyond the fold cost, and are there as soon as the fold is a quarter
// of the batt's thickness long. All that is longer only doubles the fibre over more of the height, which is
// less heat.
TEST(Sweeps, Folded) {
  const auto heat =
      sweep("folded", View::vertical, false, {0.0, 0.0225, 0.05, 0.1, 0.2, 0.3}, [](Wall&, Bay& b, double x) {
        if (x > 0.0) b.folded = FoldedEnd{x, BayEnd::bottom};
      });
  EXPECT_GT(heat[1].flow - heat[0].flow, heat[1].uncertainty + heat[0].uncertainty);
  for (std::size_t i = 1; i + 1 < heat.size(); ++i) EXPECT_LT(heat[i + 1].flow, heat[i].flow) << i;
}

TEST(Sweeps, Squeezed) {
  // Whatever is pressed into the same depth is better, to twice its density; why it is a fault is the label.
  const auto heat =
      sweep("squeezed", View::plan, false, {0.089, 0.1, 0.12, 0.159},
            [](Wall&, Bay& b, double x) { b.fills[0].batt->thickness = b.fills[0].thickness = x; });
  for (std::size_t i = 0; i + 1 < heat.size(); ++i) EXPECT_LT(heat[i + 1].flow, heat[i].flow);
  expect_rise("less fibre", View::plan, {0.0, 0.1, 0.2, 0.3, 0.4, 0.5},
              [](Wall&, Bay& b, double missing) { b.fill_fraction = 1.0 - missing; });
}

TEST(Sweeps, Voids) {
  expect_rise("square void", View::plan, {0.005, 0.01, 0.02, 0.04, 0.07}, [](Wall&, Bay& b, double x) {
    b.voids = {{Direction::up, Rectangle{{0.15, 0.15 + x}, {0.01, 0.01 + x}}, {}, ""}};
  });
  expect_rise("round void", View::plan, {0.005, 0.01, 0.02, 0.04, 0.07}, [](Wall&, Bay& b, double x) {
    b.voids = {{Direction::up, Circle{{0.15, 0.0445}, 0.5 * x}, {}, ""}};
  });
  expect_rise("void across", View::vertical, {0.005, 0.01, 0.02, 0.04, 0.07}, [](Wall&, Bay& b, double x) {
    b.voids = {{Direction::across, Rectangle{{1.0, 1.0 + x}, {0.01, 0.01 + x}}, {}, ""}};
  });
}

// The nearer to the room a cable lies under the batt, the deeper the pocket behind it.
TEST(Sweeps, PocketsOfCables) {
  expect_rise("pocket, deep", View::vertical, {0.0, 0.01, 0.02, 0.03, 0.04},
              [](Wall&, Bay& b, double nearer) {
                make(Fault::pushed_over, b, 1.0);
                b.runs[0].depth = 0.07 - nearer;
              });
  expect_rise("pocket, wide", View::vertical, {0.01, 0.03, 0.1}, [](Wall&, Bay& b, double x) {
    make(Fault::pushed_over, b, 1.0);
    b.runs[0].pocket = x;
  });
}

TEST(Sweeps, Boxes) {
  for (const auto behind : {Enclosure::Behind::open, Enclosure::Behind::filled})
    expect_rise("margin", View::plan, {0.0, 0.005, 0.01, 0.02, 0.04}, [&](Wall&, Bay& b, double x) {
      make(Fault::box_open, b, 1.0);
      b.enclosures[0].behind = behind;
      b.enclosures[0].margin = x;
    });
  expect_rise("piece behind", View::plan, {0.0, 0.005, 0.015, 0.025, 0.03},
              [](Wall&, Bay& b, double thinner) {
                make(Fault::box_piece, b, 1.0);
                b.enclosures[0].piece = 0.0356 - thinner;  // of the space's 35.6 mm
              });
  for (const auto behind : {Enclosure::Behind::open, Enclosure::Behind::squeezed, Enclosure::Behind::foam})
    expect_rise("deeper box", View::plan, {0.03, 0.04, 0.05, 0.06, 0.07}, [&](Wall&, Bay& b, double x) {
      make(Fault::box_open, b, 1.0);
      b.enclosures[0].behind = behind;
      b.enclosures[0].depth = x;
    });
}

TEST(Sweeps, Blocking) {
  expect_rise("rows of blocking", View::vertical, {0.0, 1.0, 2.0, 3.0}, [](Wall& w, Bay&, double rows) {
    for (int r = 0; r < static_cast<int>(rows); ++r) w.frame.blocking.push_back(0.5 + 0.6 * r);
  });
}

}  // namespace
}  // namespace coldbay::sweeps_test
