// How long reading takes, and that it grows with the length of a file alone: comparing each key with every
// other, or counting every column from the beginning of its line, had to be mended once.
#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include <string>

#include "tools/input/document.hpp"

namespace coldbay {
namespace {

void BM_ReadKeys(benchmark::State& state) {
  std::string text;
  for (int i = 0; i < state.range(0); ++i) text += fmt::format("key{}: 1\n", i);
  for (auto _ : state) benchmark::DoNotOptimize(read_document({"keys.yaml", text}));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(BM_ReadKeys)
    ->RangeMultiplier(3)
    ->Range(10'000, 90'000)
    ->Unit(benchmark::kMillisecond)
    ->Complexity();

void BM_ReadALongLine(benchmark::State& state) {
  std::string text = "[";
  for (int i = 0; i < state.range(0); ++i) text += "ab, ";
  text += "end]\n";
  for (auto _ : state) benchmark::DoNotOptimize(read_document({"line.yaml", text}));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(BM_ReadALongLine)
    ->RangeMultiplier(3)
    ->Range(10'000, 90'000)
    ->Unit(benchmark::kMillisecond)
    ->Complexity();

}  // namespace
}  // namespace coldbay

BENCHMARK_MAIN();
