// How long the steps of a forecast take, over size. Run by hand:  build/coldbay_bench
// A solve that does not converge is an error, not a time.

#include <benchmark/benchmark.h>

#include "tests/support/solved.hpp"

namespace coldbay {
namespace {

/// A framed section with a steel stud, a side gap and a steel box, cut into n cells each way, evenly.
Section bench_wall() {
  Section s = test::layered(1.2, {{0.0125, 0.16}, {0.089, 0.039}, {0.0125, 0.13}});
  test::add(s, 50.0, {0.4, 0.4015}, {0.0125, 0.1015});
  test::add(s, 0.3, {0.4015, 0.4215}, {0.0125, 0.1015});
  test::add(s, 50.0, {0.7, 0.757}, {0.0, 0.07});
  test::add(s, 0.25, {0.7015, 0.7555}, {0.0, 0.0685});
  return s;
}

/// The normal grid with every cell cut in two `times` times.
ConductivityGrid bench_grid(int times) {
  const Section s = bench_wall();
  GridLines lines = grid_lines(s, 1.0, 100'000'000);
  for (int i = 0; i < times; ++i) lines = {bisected(lines.across), bisected(lines.depth)};
  return rasterise(s, lines.across, lines.depth);
}

void count(benchmark::State& state, Index cells) {
  state.SetComplexityN(cells);
  state.counters["cells"] = static_cast<double>(cells);
  state.counters["cells/s"] =
      benchmark::Counter(static_cast<double>(cells), benchmark::Counter::kIsIterationInvariantRate);
}

void BM_Rasterise(benchmark::State& state) {
  const Section s = bench_wall();
  const ConductivityGrid grid = bench_grid(static_cast<int>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(rasterise(s, grid.axis[0], grid.axis[2]));
  count(state, grid.cells());
}
BENCHMARK(BM_Rasterise)->DenseRange(0, 2)->Unit(benchmark::kMillisecond)->Complexity(benchmark::oN);

void BM_Solve(benchmark::State& state) {
  const ConductivityGrid grid = bench_grid(static_cast<int>(state.range(0)));
  SolveReport report;
  for (auto _ : state) try {
      report = solve(grid, test::winter()).report;
    } catch (const std::exception& e) {
      state.SkipWithError(e.what());
      break;
    }
  count(state, grid.cells());
  state.counters["sweeps"] = report.iterations;
}
BENCHMARK(BM_Solve)->DenseRange(0, 2)->Unit(benchmark::kMillisecond)->Complexity(benchmark::oNLogN);

void BM_Forecast(benchmark::State& state) {
  const Section s = bench_wall();
  for (auto _ : state) benchmark::DoNotOptimize(forecast(s, test::winter(), {}));
}
BENCHMARK(BM_Forecast)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace coldbay

BENCHMARK_MAIN();
