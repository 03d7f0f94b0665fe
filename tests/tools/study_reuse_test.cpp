#include <fmt/core.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <string>
#include <vector>

#include "tools/input/library_reader.hpp"
#include "tools/study/command.hpp"
#include "tools/study/kept.hpp"
#include "tools/study/opened.hpp"
#include "tools/study/reuse.hpp"

namespace coldbay::study_reuse_test {
namespace {

namespace fs = std::filesystem;

/// A study of a wall of eight bays of batts, some of them wrong; its files are gone with it.
class Fixture {
 public:
  explicit Fixture(const std::string& vary,
                   const std::string& keep = "U, U uncertainty, coldest surface, surface uncertainty") {
    fs::create_directories(folder_);
    std::ofstream(folder_ / "base.yaml") << R"(
air: {inside: {temperature: 21 °C}, outside: {temperature: -9 °C}}
wall:
  height: 2.4 m
  layers: [gypsum board 12.5 mm, frame, osb 11 mm, lap siding]
  frame: {member: softwood 38 x 89 mm, spacing: 400 mm, plates: {bottom: 1, top: 2}}
  bays:
    - batt R-13
    - {batt: R-13, width: 13 in, strip: right, flange: stretched}
    - {batt: R-13}
    - {batt: R-13}
    - batt R-13
    - batt R-13
    - nothing
    - batt R-13
sections: [plan at 1.2 m]
)";
    std::ofstream(folder_ / "study.yaml") << "base: base.yaml\nkeep: [" << keep << "]\n" << vary;
    study = open_study(folder_ / "study.yaml", {built_in_library(), {}});
  }
  Fixture(const Fixture&) = delete;
  Fixture& operator=(const Fixture&) = delete;
  ~Fixture() { fs::remove_all(folder_); }

  Variant variant(std::uint64_t id) const { return variant_at(study->study, study->varied, id); }
  std::vector<double> alone(std::uint64_t id) const {
    return solve_kept(case_of(*study, variant(id)), study->study.keep);
  }
  /// What a run of the program leaves.
  std::string results(const std::string& name, unsigned jobs, Share share = {}) const {
    StudyWishes wishes{folder_ / "study.yaml", folder_ / name, jobs, std::nullopt, share};
    EXPECT_EQ(run_study(wishes, {built_in_library(), {}}), 0);
    std::ifstream in(folder_ / name / "results.csv", std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  }
  std::string collected(const std::vector<std::string>& names) const {
    std::vector<fs::path> folders;
    for (const std::string& name : names) folders.push_back(folder_ / name);
    EXPECT_EQ(collect_study(folders, folder_ / "all"), 0);
    std::ifstream in(folder_ / "all" / "results.csv", std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  }

  std::optional<OpenStudy> study;

 private:
  fs::path folder_ = fs::temp_directory_path() / fmt::format("coldbay-reuse-{}", getpid());
};

/// The answer of a solve of the whole case by itself, to what both say they are known to.
void expect_as_alone(const Fixture& f, Reuse& reuse, std::uint64_t id) {
  const auto kept = reuse.solve(f.variant(id));
  ASSERT_TRUE(kept) << id;
  const std::vector<double> alone = f.alone(id);
  EXPECT_NEAR((*kept)[0], alone[0], (*kept)[1] + alone[1]) << id;
  EXPECT_NEAR((*kept)[2], alone[2], (*kept)[3] + alone[3]) << id;
  EXPECT_LE((*kept)[1], 1e-3 * (*kept)[0]) << id;  // what a case is asked for unless it says otherwise
  EXPECT_LE((*kept)[3], 0.01) << id;
}

const std::string thicknesses =
    "vary: [{path: \"wall.bays[4].thickness\", uniform: {from: 40 mm, to: 88 mm}}]\ndraws: 60\nseed: 5\n";
const std::string climates =
    "vary:\n"
    "  - {path: air.inside.temperature, uniform: {from: 17 °C, to: 25 °C}}\n"
    "  - {path: air.outside.temperature, uniform: {from: -25 °C, to: 10 °C}}\n"
    "draws: 200\nseed: 9\n";

TEST(Reuse, ABayThatChangesIsSolvedByItselfAsInTheWholeWall) {
  const Fixture f(thicknesses);
  ASSERT_TRUE(f.study);
  Reuse reuse(*f.study);
  for (const std::uint64_t id : {0u, 17u, 33u, 59u}) expect_as_alone(f, reuse, id);
}

// The coldest place is then in the stretch that changes, which the base knows nothing of.
TEST(Reuse, TheColdestPlaceMayBeInTheBayThatChanges) {
  const std::string vary =
      "vary:\n  - name: fill\n    paths: [\"wall.bays[7]\", \"wall.bays[4]\"]\n    rows:\n"
      "      fibre: [batt R-13, nothing]\n";
  std::string rows;
  for (int i = 0; i < 40; ++i)
    rows += fmt::format("      gap {0}: [batt R-13, {{batt: R-13, thickness: {1} mm}}]\n", i, 40 + i);
  const Fixture f(vary + rows);
  ASSERT_TRUE(f.study);
  Reuse reuse(*f.study);
  for (const std::uint64_t id : {0u, 1u, 30u}) expect_as_alone(f, reuse, id);
}

TEST(Reuse, ABayThatGrowsMovesWhatIsBesideIt) {
  const Fixture f("vary: [{path: \"wall.bays[3].clear width\", from: 300 mm, to: 500 mm, points: 40}]\n");
  ASSERT_TRUE(f.study);
  Reuse reuse(*f.study);
  for (const std::uint64_t id : {0u, 39u}) expect_as_alone(f, reuse, id);
}

TEST(Reuse, ClimatesBetweenClimatesAreAsSolved) {
  const Fixture f(climates);
  ASSERT_TRUE(f.study);
  Reuse reuse(*f.study);
  double least = INFINITY, most = 0.0, uncertainty = 0.0;
  for (const std::uint64_t id : {0u, 41u, 99u, 150u, 199u}) {
    expect_as_alone(f, reuse, id);
    const auto kept = reuse.solve(f.variant(id));
    ASSERT_TRUE(kept);
    least = std::min(least, (*kept)[0]);
    most = std::max(most, (*kept)[0]);
    uncertainty = std::max(uncertainty, (*kept)[1]);
  }
  // U follows the climate, by more than could be taken for chance: it is not one number for all of them.
  EXPECT_GT(most - least, 4.0 * uncertainty);
}

TEST(Reuse, ASummerHasItsWarmestPlace) {
  const Fixture f(
      "vary:\n  - {path: air.outside.temperature, uniform: {from: 30 °C, to: 42 °C}}\ndraws: 120\nseed: 2\n",
      "U, U uncertainty, coldest surface, surface uncertainty, temperature factor, heat flow");
  ASSERT_TRUE(f.study);
  Reuse reuse(*f.study);
  for (const std::uint64_t id : {3u, 77u}) {
    expect_as_alone(f, reuse, id);
    const auto kept = reuse.solve(f.variant(id));
    const std::vector<double> alone = f.alone(id);
    ASSERT_TRUE(kept);
    EXPECT_LT((*kept)[5], 0.0);
    EXPECT_NEAR((*kept)[5] / alone[5], 1.0, 2e-3);  // either is known to 0.1 %
    EXPECT_NEAR((*kept)[4], alone[4], 0.02 / 9.0);  // to 0.01 K either, of 9 K at least
  }
}

TEST(Reuse, WhatWasSolvedBeforeChangesNoBit) {
  for (const std::string& vary : {thicknesses, climates}) {
    const Fixture f(vary, "U, U uncertainty");
    ASSERT_TRUE(f.study);
    Reuse all(*f.study);
    all.prepare();
    for (std::uint64_t id = 50; id-- > 46;) {
      Reuse one(*f.study);
      const auto alone = one.solve(f.variant(id));
      ASSERT_TRUE(alone);
      EXPECT_EQ(all.solve(f.variant(id)), alone) << id;
    }
  }
}

TEST(Reuse, JobsAndSharesChangeNoByte) {
  for (const std::string& vary : {thicknesses, climates}) {
    const Fixture f(vary, "U, U uncertainty");
    ASSERT_TRUE(f.study);
    const std::string one = f.results("one", 1);
    EXPECT_EQ(std::count(one.begin(), one.end(), '\n'), static_cast<std::ptrdiff_t>(f.study->n) + 1);
    EXPECT_EQ(f.results("three", 3), one);
    f.results("first", 2, {1, 2});
    f.results("second", 1, {2, 2});
    EXPECT_EQ(f.collected({"first", "second"}), one);
  }
}

TEST(Reuse, NothingIsReusedWhereItWouldNotHold) {
  const auto reused = [](const std::string& vary, const std::string& keep) {
    const Fixture f(vary, keep);
    EXPECT_TRUE(f.study);
    return Reuse(*f.study).solve(f.variant(0)).has_value();
  };
  const std::string from_to = "vary: [{path: air.outside.temperature, from: -10 °C, to: ";
  EXPECT_TRUE(reused(from_to + "10 °C, points: 100}]\n", "U"));
  EXPECT_FALSE(reused(from_to + "10 °C, points: 99}]\n", "U"));   // too few to be worth it
  EXPECT_FALSE(reused(from_to + "30 °C, points: 100}]\n", "U"));  // warmer than the room, and as warm
  EXPECT_FALSE(reused(from_to + "10 °C, points: 100}]\n", "whole-wall U"));
  EXPECT_FALSE(reused("vary: [{path: wall.frame.spacing, from: 400 mm, to: 410 mm, points: 40}]\n", "U"));
}

}  // namespace
}  // namespace coldbay::study_reuse_test
