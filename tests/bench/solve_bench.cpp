// How long the steps of a forecast take, over size; beside it what general-purpose solvers need for the same
// matrices. Run by hand:  build/tests/coldbay_bench [--benchmark_filter=...]; tests/bench/table.sh writes the
// table of DEVELOPERS.md. A solve that does not converge is an error, not a time.

#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include <chrono>
#include <map>
#include <memory>
#include <thread>

#include "solver/assemble.hpp"
#include "solver/results/radiometry.hpp"
#include "tests/bench/peak_memory.hpp"
#include "tests/bench/peers.hpp"
#include "tests/bench/walls.hpp"
#include "tests/support/solved.hpp"

namespace coldbay::bench {
namespace {

/// Grids of one kind in all sizes.
struct Family {
  std::string name;
  ConductivityGrid (*grid)(Index cells);
};

using Prepare = std::function<std::function<Outcome()>(const ConductivityGrid&)>;

/// One way to solve. `prepare` makes what is given to it and not timed; the grid outlives the result.
struct Method {
  std::string name;
  Prepare prepare;
};

const std::vector<Family> families{
    {"uniform", uniform_grid}, {"graded", graded_grid}, {"steel_rod", block_grid}};

/// A peer is given the matrix; ours makes its own from the grid, and is timed doing so.
Prepare given_matrix(Outcome (*peer)(const LinearSystem&)) {
  return [peer](const ConductivityGrid& grid) {
    const Surroundings air = test::winter();
    const auto system = std::make_shared<LinearSystem>(assemble(grid, air, range_of(grid, air)));
    return [peer, system] { return peer(*system); };
  };
}

Prepare filled_hypre(HypreMultigrid kind) {
  return [kind](const ConductivityGrid& grid) {
    const Surroundings air = test::winter();
    const auto system = std::make_shared<LinearSystem>(assemble(grid, air, range_of(grid, air)));
    return [system, run = hypre(kind, *system, grid)] { return run(); };
  };
}

const std::vector<Method> methods{{"solve",
                                   [](const ConductivityGrid& grid) {
                                     return [&grid] {
                                       SolverOptions options;
                                       options.max_cells = 20'000'000;
                                       const SolveReport report = solve(grid, test::winter(), options).report;
                                       return Outcome{report.iterations, report.relative_residual};
                                     };
                                   }},
                                  {"ldlt", given_matrix(solve_ldlt)},
                                  {"cg_diagonal", given_matrix(solve_cg_diagonal)},
                                  {"pfmg_jacobi", filled_hypre(HypreMultigrid::pfmg_jacobi)},
                                  {"pfmg_gauss_seidel", filled_hypre(HypreMultigrid::pfmg_gauss_seidel)},
                                  {"smg", filled_hypre(HypreMultigrid::smg)}};

template <class T>
const T& named(const std::vector<T>& list, const std::string& name) {
  for (const T& one : list)
    if (one.name == name) return one;
  throw std::invalid_argument("no such benchmark: " + name);
}

/// A grid and one way to solve it, ready to be timed.
struct Problem {
  std::unique_ptr<ConductivityGrid> grid;
  std::function<Outcome()> run;
};

Problem make_problem(const Family& family, const Method& method, Index cells) {
  Problem p{std::make_unique<ConductivityGrid>(family.grid(cells)), {}};
  p.run = method.prepare(*p.grid);
  return p;
}

/// The benchmark library calls a benchmark again and again to find out how often to run it, and for every
/// repetition: the last problem stays.
const Problem& last_problem(const Family& family, const Method& method, Index cells) {
  static std::string key;
  static Problem problem;
  const std::string wanted = fmt::format("{} {} {}", family.name, method.name, cells);
  if (key != wanted) {
    key.clear();
    problem = {};  // two of the large ones may not fit
    problem = make_problem(family, method, cells);
    key = wanted;
  }
  return problem;
}

constexpr const char* peak_option = "--peak-of";

/// Prints the peak memory of one solve [bytes] and nothing else.
int print_peak(const std::string& family, const std::string& method, Index cells) {
  // A small one first, so that the pages of the program itself are there already.
  make_problem(named(families, family), named(methods, method), 5'000).run();
  const Problem problem = make_problem(named(families, family), named(methods, method), cells);
  const auto bytes = peak_rise([&] { problem.run(); });
  if (!bytes) return 1;
  fmt::print("{}\n", *bytes);
  return 0;
}

std::optional<double> peak_bytes(const Family& family, const Method& method, Index cells) {
  static std::map<std::string, std::optional<double>> known;
  const std::string count = std::to_string(cells);
  const auto [at, is_new] = known.try_emplace(fmt::format("{} {} {}", family.name, method.name, cells));
  if (is_new) at->second = number_from_another_process({peak_option, family.name, method.name, count});
  return at->second;
}

/// The wall-clock time of a benchmark's loop, per cell. (The library's own rates print as seconds.)
class Stopwatch {
 public:
  void count(benchmark::State& state, Index cells) const {
    const std::chrono::duration<double, std::nano> passed = std::chrono::steady_clock::now() - start_;
    const auto n = static_cast<double>(cells);
    state.SetComplexityN(cells);
    state.counters["cells"] = n;
    state.counters["ns_per_cell"] = passed.count() / (static_cast<double>(state.iterations()) * n);
  }

 private:
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

bool a_solve_failed = false;

void time_solve(benchmark::State& state, const Family& family, const Method& method) {
  try {
    const Problem& problem = last_problem(family, method, state.range(0));
    Outcome outcome;
    const Stopwatch watch;
    for (auto _ : state) outcome = problem.run();
    const Index cells = problem.grid->cells();
    watch.count(state, cells);
    state.counters["solver_iterations"] = outcome.iterations;
    state.counters["residual"] = outcome.relative_residual;
    if (const auto bytes = peak_bytes(family, method, state.range(0)))
      state.counters["bytes_per_cell"] = *bytes / static_cast<double>(cells);
  } catch (const std::exception& e) {
    // Said here as well: of repetitions the library writes no error to its file, and version 1.7 crashes
    // where all sizes of a family fail.
    fmt::print(stderr, "ERROR OCCURRED in {}, {}, {}: {}\n", method.name, family.name, state.range(0),
               e.what());
    a_solve_failed = true;
    state.SkipWithError(e.what());
  }
}

void register_solve(const std::string& as, const std::string& family, const std::string& method,
                    const std::vector<Index>& sizes) {
  const Family& f = named(families, family);
  const Method& m = named(methods, method);
  auto* b = benchmark::RegisterBenchmark(fmt::format("{}/{}", as, family).c_str(),
                                         [&f, &m](benchmark::State& state) { time_solve(state, f, m); });
  for (const Index cells : sizes) b->Arg(cells);
  b->Unit(benchmark::kMillisecond)->UseRealTime()->Complexity(benchmark::oN);
}

/// 10,000 is for ctest; the odd ones are cells of 1, 1/2 and 1/4 mm on the uniform wall.
void register_all_solves() {
  const std::vector<Index> all{10'000, 30'000, 100'000, 206'502, 825'754, 3'303'016, 10'000'000};
  register_solve("BM_Solve", "uniform", "solve", all);
  register_solve("BM_Solve", "graded", "solve", all);
  register_solve("BM_SolveBlock", "steel_rod", "solve", {10'000, 100'000, 1'000'000, 4'000'000});

  // A factorisation of a block would not fit, and the simple ones would take all day on the largest.
  const std::vector<Index> to_half_mm{10'000, 206'502, 825'754}, blocks{10'000, 100'000, 1'000'000};
  for (const char* family : {"uniform", "graded"}) register_solve("BM_PeerLdlt", family, "ldlt", to_half_mm);
  register_solve("BM_PeerCgDiagonal", "uniform", "cg_diagonal", to_half_mm);
  register_solve("BM_PeerCgDiagonal", "graded", "cg_diagonal",
                 {10'000, 206'502});  // a minute each on the next
  register_solve("BM_PeerCgDiagonal", "steel_rod", "cg_diagonal", blocks);
  if (!have_hypre()) return;
  const std::vector<Index> to_quarter_mm{10'000, 206'502, 825'754, 3'303'016};
  register_solve("BM_PeerPfmg", "uniform", "pfmg_jacobi", to_quarter_mm);
  register_solve("BM_PeerPfmg", "graded", "pfmg_jacobi", to_quarter_mm);
  register_solve("BM_PeerPfmg", "steel_rod", "pfmg_gauss_seidel", blocks);
  register_solve("BM_PeerSmg", "uniform", "smg", to_quarter_mm);
  register_solve("BM_PeerSmg", "graded", "smg", to_quarter_mm);
  register_solve("BM_PeerSmg", "steel_rod", "smg", blocks);
}

/// The time of one pass over the data of a sparse matrix: what "ns per cell" is to be held against.
void BM_ReadFiveWriteOne(benchmark::State& state) {
  const Index cells = state.range(0);
  const auto threads = static_cast<unsigned>(state.range(1));
  read_five_write_one(cells, threads);
  const Stopwatch watch;
  for (auto _ : state) read_five_write_one(cells, threads);
  watch.count(state, cells);
}
BENCHMARK(BM_ReadFiveWriteOne)
    ->ArgNames({"", "threads"})
    ->ArgsProduct({{100'000, 3'303'016}, {1, std::max(2u, std::thread::hardware_concurrency())}})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

void BM_Rasterise(benchmark::State& state) {
  const Section s = bench_wall(Stud::steel);
  const ConductivityGrid grid = graded_grid(state.range(0));
  const Stopwatch watch;
  for (auto _ : state) benchmark::DoNotOptimize(rasterise(s, grid.axis[0], grid.axis[2]));
  watch.count(state, grid.cells());
}
BENCHMARK(BM_Rasterise)
    ->Arg(10'000)
    ->Arg(206'502)
    ->Arg(825'754)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->Complexity(benchmark::oN);

/// The whole of it, with every grid that the program takes on the way to the accuracy it promises; the cells
/// are those of the last.
void BM_Forecast(benchmark::State& state) try {
  const Section s = bench_wall(Stud::steel);
  Index cells = 0;
  const Stopwatch watch;
  for (auto _ : state) cells = forecast(s, test::winter(), {}).grid.cells();
  watch.count(state, cells);
} catch (const std::exception& e) {
  state.SkipWithError(e.what());
}
BENCHMARK(BM_Forecast)->Unit(benchmark::kMillisecond)->UseRealTime();

/// What a camera's software does to each pixel: a million take 0.2 s.
void BM_RadiantTemperature(benchmark::State& state) {
  const double ray = radiance(15.0, Band::long_wave);
  for (auto _ : state) benchmark::DoNotOptimize(radiant_temperature(ray, Band::long_wave));
}
BENCHMARK(BM_RadiantTemperature);

int run(int argc, char** argv) {
  if (argc == 5 && argv[1] == std::string(peak_option))
    return print_peak(argv[2], argv[3], std::stol(argv[4]));
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
#ifdef __clang__
  benchmark::AddCustomContext("compiler", __VERSION__);
#else
  benchmark::AddCustomContext("compiler", "g++ " __VERSION__);
#endif
  register_all_solves();
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
  return a_solve_failed ? 1 : 0;
}

}  // namespace
}  // namespace coldbay::bench

int main(int argc, char** argv) {
  try {
    return coldbay::bench::run(argc, argv);
  } catch (const std::exception& e) {
    fmt::print(stderr, "coldbay_bench: {}\n", e.what());
    return 1;
  }
}
