#include <benchmark/benchmark.h>

#include "solver/block/wall_face.hpp"
#include "tests/support/solved_walls.hpp"

// The face of a wall to 0.05 K: one bay of 16 in with a box and a short batt, and eight of 24 in with a box
// in each and two short batts, 2.4 by 4.9 m.

namespace coldbay {
namespace {

Wall bays(int n, double spacing) {
  Wall w = test::sound_wall();
  w.frame.spacing = spacing;
  w.bays.resize(1);
  w.bays[0].clear_width = spacing - w.frame.member_width;
  w.bays[0].enclosures = {test::box_at(0.4)};
  for (int b = 1; b < n; ++b) w.bays.push_back(w.bays[0]);
  const auto count = static_cast<std::size_t>(n);
  w.bays[count / 4].short_end = ShortEnd{0.05, BayEnd::top, false};
  if (n > 4) w.bays[5 * count / 8].short_end = ShortEnd{0.05, BayEnd::bottom, false};
  return w;
}

void BM_Face(benchmark::State& state, int n, double spacing) {
  const Wall wall = bays(n, spacing);
  std::optional<WallFace> face;
  for (auto _ : state) face = wall_face(wall, test::winter());
  if (!face->reached) state.SkipWithError("the accuracy was not reached");
  state.counters["cells"] = static_cast<double>(face->cells);
  state.counters["uncertainty_mK"] = 1e3 * face->uncertainty;
}
BENCHMARK_CAPTURE(BM_Face, one_bay, 1, 0.4064)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->MeasureProcessCPUTime();
BENCHMARK_CAPTURE(BM_Face, eight_bays, 8, 0.6096)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->MeasureProcessCPUTime();

}  // namespace
}  // namespace coldbay

BENCHMARK_MAIN();
