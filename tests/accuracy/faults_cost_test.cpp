#include <gtest/gtest.h>

#include "solver/results/effect.hpp"
#include "tests/support/solved_walls.hpp"
#include "tools/report/fault_words.hpp"

namespace coldbay::faults_cost_test {
namespace {

using test::make, test::solve, test::sound_wall, test::u_of, test::View, test::view_of;

// Every fault costs heat, by more than both solves are uncertain; or else its words say why the figure may be
// small or on the wrong side. A small wall of a sound bay, a faulty one and a sound one.
TEST(FaultsCost, HeatOrAreExplained) {
  for (std::size_t f = 0; f < test::fault_count; ++f) {
    const auto fault = static_cast<Fault>(f);
    const FaultWords& words = words_of(fault);
    Wall w = sound_wall();
    make(fault, w.bays[1], 0.8);
    ASSERT_TRUE(check(w).empty()) << words.name << check(w).front().what;
    const Wall right = built_right(w);
    const View view = view_of(fault);
    const Effect e = effect(view_of(w, view), test::winter(), solve(w, view), solve(right, view));
    if (words.note.empty()) {
      EXPECT_GT(e.extra, e.uncertainty) << words.name;
    }
    EXPECT_NE(e.extra, 0.0) << words.name << " does not show";
    // What the note of denser fibre is there for, seen: a gain.
    if (fault == Fault::forced || fault == Fault::squeezed) {
      EXPECT_LT(e.extra, 0.0) << words.name;
    }
  }
}

/// What is right about a bay with this in it: nothing but the box, with a piece behind it as thick as the
/// space, or the cable or pipe, in fibre all round.
Wall plainly_right(const Wall& faulty, Fault fault) {
  Wall w = sound_wall();
  w.bays[1].enclosures = faulty.bays[1].enclosures;
  w.bays[1].runs = faulty.bays[1].runs;
  for (Enclosure& box : w.bays[1].enclosures) {
    box.margin = 0.0;
    box.behind = Enclosure::Behind::piece;
    box.piece = 0.0127 + 0.089 - box.depth;
  }
  for (ServiceRun& run : w.bays[1].runs) run.laid = ServiceRun::Laid::split;
  if (fault == Fault::settled_fill) w.bays[1].fills[0].batt.reset();
  return w;
}

// built_right() gives the sound wall back, with what stands in it; a pipe is the exception, since its right
// way is for the water's sake (the test after this). 1 % of U is what the brief of a repair may miss; seen:
// less than the uncertainty of the solves, 0.03 %.
TEST(FaultsCost, NothingOnceTheyArePutRight) {
  for (std::size_t f = 0; f < test::fault_count; ++f) {
    const auto fault = static_cast<Fault>(f);
    if (fault == Fault::cold_pipe) continue;
    Wall w = sound_wall();
    make(fault, w.bays[1], 0.8);
    const Wall right = built_right(w), plain = plainly_right(w, fault);
    for (const View view : {View::plan, View::vertical})
      EXPECT_NEAR(u_of(right, view) / u_of(plain, view), 1.0, 0.01) << words_of(fault).name;
  }
}

// Insulation behind a pipe, its room side open: dearer than fibre all round it, and warmer than both ways.
TEST(FaultsCost, APipeIsWarmerBuiltRight) {
  Wall w = sound_wall();
  make(Fault::cold_pipe, w.bays[1], 0.5);
  ServiceRun& pipe = w.bays[1].runs[0];
  pipe.runs_up = true;
  pipe.at = 0.5 * w.bays[1].clear_width;
  const auto celsius = [](const Wall& wall) {
    const Section s = view_of(wall, View::plan);
    const Forecast f = solve(wall, View::plan);
    return temperature_at(f.grid, test::winter(), f.field, s.probes.at(0).at);
  };
  const double over = celsius(w);
  const Wall right = built_right(w);
  EXPECT_EQ(right.bays[1].runs[0].laid, ServiceRun::Laid::behind);
  pipe.laid = ServiceRun::Laid::split;
  const double split = celsius(w);
  EXPECT_GT(split, over + 0.5);
  EXPECT_GT(celsius(right), split + 0.5);
}

// The other right ways: each within 1 % of the sound wall.
TEST(FaultsCost, NothingBuiltRightByOtherMeans) {
  for (const View view : {View::plan, View::vertical}) {
    const double sound = u_of(sound_wall(), view);
    const auto expect_sound = [&](const char* what, auto&& change) {
      Wall w = sound_wall();
      change(w.bays[1]);
      ASSERT_TRUE(check(w).empty()) << what;
      EXPECT_NEAR(u_of(w, view) / sound, 1.0, 0.01) << what;
    };
    expect_sound("a short batt, its end filled", [](Bay& b) {
      b.short_end = ShortEnd{0.2, BayEnd::top, true};
    });
    expect_sound("a narrow one, the strip filled", [](Bay& b) {
      b.width = 0.3;
      b.strip_filled = true;
    });
    expect_sound("held by friction", [](Bay& b) { b.width = b.clear_width + friction_fit; });
    // Along its own line, over its 10 mm of height, a cable replaces a tenth of the fibre: that plan is no
    // measure.
    if (view == View::vertical)
      expect_sound("split round a cable",
                   [](Bay& b) { b.runs = {test::cable_at(1.2, ServiceRun::Laid::split)}; });
  }
  // A box with a piece behind it as thick as the space is as good as one filled behind; nothing else is.
  Wall w = sound_wall();
  make(Fault::box_open, w.bays[1], 1.0);
  Enclosure& box = w.bays[1].enclosures[0];
  const double open = u_of(w, View::plan);
  box.behind = Enclosure::Behind::filled;
  const double filled = u_of(w, View::plan);
  box.behind = Enclosure::Behind::piece;
  box.piece = 0.0127 + 0.089 - box.depth;
  EXPECT_NEAR(u_of(w, View::plan) / filled, 1.0, 0.01);
  box.piece *= 0.5;
  EXPECT_GT(u_of(w, View::plan) / filled, 1.02);
  EXPECT_GT(open / filled, 1.05);
}

}  // namespace
}  // namespace coldbay::faults_cost_test
