#include <fmt/core.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>
#include <vector>

#include "tools/input/library_reader.hpp"
#include "tools/study/kept.hpp"
#include "tools/study/opened.hpp"
#include "tools/study/variant_solver.hpp"

namespace coldbay::study_solver_test {
namespace {

namespace fs = std::filesystem;

/// A study of a section drawn by shapes; its files are gone with it.
class Fixture {
 public:
  Fixture(const std::string& shapes, const std::string& vary) {
    fs::create_directories(folder_);
    std::ofstream(folder_ / "base.yaml")
        << "section: {width: 100 mm, depth: 60 mm, shapes: [" << shapes
        << "]}\nair: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}\n";
    std::ofstream(folder_ / "study.yaml")
        << "base: base.yaml\nkeep: [U, heat flow, coldest surface, temperature factor]\nvary:\n"
        << vary;
    study = open_study(folder_ / "study.yaml", {built_in_library(), {}});
  }
  Fixture(const Fixture&) = delete;
  Fixture& operator=(const Fixture&) = delete;
  ~Fixture() { fs::remove_all(folder_); }

  Variant variant(std::uint64_t id) const { return variant_at(study->study, study->varied, id); }
  Case case_at(std::uint64_t id) const { return case_of(*study, variant(id)); }

  std::optional<OpenStudy> study;

 private:
  fs::path folder_ = fs::temp_directory_path() / fmt::format("coldbay-solver-{}", getpid());
};

const std::string slab =
    "{material: {conductivity: 0.5 W/mK, name: slab}, across: [0 mm, 100 mm], depth: [0 mm, 60 mm]}";
const std::string filling =
    "{material: {conductivity: 0.04 W/mK, name: filling}, across: [30 mm, 70 mm], depth: [10 mm, 50 mm]}";
const std::string climates =
    "- {path: air.inside.temperature, values: [20 °C, 25 °C]}\n"
    "- {path: air.outside.temperature, values: [-21 °C, -5 °C, 4 °C, 19.9 °C, 36 °C, 52 °C]}\n";

TEST(VariantSolver, ASlabIsItsResistancesInSeriesInEveryClimate) {
  const Fixture f(slab, climates);
  ASSERT_TRUE(f.study);
  VariantSolver solver(*f.study);
  const double u = 1.0 / (0.13 + 0.06 / 0.5 + 0.04);
  for (std::uint64_t id = 0; id < f.study->n; ++id) {
    const Case c = f.case_at(id);
    const double inside = c.air.inside.temperature, outside = c.air.outside.temperature;
    const std::vector<double> kept = solver.solve(f.variant(id));
    // Exact on any grid but for what the solver leaves, 1e-9 of the whole.
    EXPECT_NEAR(kept[0], u, 1e-7);
    EXPECT_NEAR(kept[1], 0.1 * u * (inside - outside), 1e-6) << id;
    EXPECT_NEAR(kept[2], inside - 0.13 * u * (inside - outside), 1e-5) << id;
    EXPECT_NEAR(kept[3], 1.0 - 0.13 * u, 1e-7) << id;
  }
}

TEST(VariantSolver, ScaledResultsAreThoseOfTheClimateItself) {
  const Fixture f(slab + ", " + filling, climates);
  ASSERT_TRUE(f.study);
  VariantSolver solver(*f.study);
  for (std::uint64_t id = 0; id < f.study->n; ++id) {
    const std::vector<double> kept = solver.solve(f.variant(id)),
                              alone = solve_kept(f.case_at(id), f.study->study.keep);
    // Both are within what a case is asked for unless it says otherwise: 0.1 % and 0.01 K.
    EXPECT_NEAR(kept[0] / alone[0], 1.0, 2e-3) << id;
    EXPECT_NEAR(kept[1] / alone[1], 1.0, 2e-3) << id;
    EXPECT_NEAR(kept[2], alone[2], 0.02) << id;
  }
}

TEST(VariantSolver, WhatWasSolvedBeforeChangesNoBit) {
  const Fixture f(slab + ", " + filling, climates);
  ASSERT_TRUE(f.study);
  VariantSolver all(*f.study);
  for (std::uint64_t id = f.study->n; id-- > 0;) {
    VariantSolver one(*f.study);
    EXPECT_EQ(all.solve(f.variant(id)), one.solve(f.variant(id))) << id;
  }
}

TEST(VariantSolver, WhatConductsByItsTemperatureIsSolvedInItsOwnClimate) {
  const std::string air = "{material: air space, across: [30 mm, 70 mm], depth: [10 mm, 50 mm]}";
  const std::string law =
      "{material: {conductivity: {at 0 °C: 0.03 W/mK, per K: 1e-4, from: -30 °C, to: 60 °C}, name: fibre}, "
      "across: [30 mm, 70 mm], "
      "depth: [10 mm, 50 mm]}";
  for (const std::string& second : {air, law}) {
    const Fixture f(slab + ", " + second, climates);
    ASSERT_TRUE(f.study);
    VariantSolver solver(*f.study);
    for (const std::uint64_t id : {0u, 2u}) {
      EXPECT_FALSE(follows_its_airs(f.case_at(id)));
      EXPECT_EQ(solver.solve(f.variant(id)), solve_kept(f.case_at(id), f.study->study.keep));
    }
  }
  Case sides = Fixture(slab, climates).case_at(0);
  EXPECT_TRUE(follows_its_airs(sides));
  sides.air.left = Exchange{10.0, 0.13};
  EXPECT_FALSE(follows_its_airs(sides));
}

TEST(VariantSolver, AClimateThatCannotBeReadFailsAsItsCaseDoes) {
  const Fixture f(slab, "- {path: air.outside.temperature, values: [0 °C, 20 °C, cold]}\n");
  ASSERT_TRUE(f.study);
  VariantSolver solver(*f.study);
  (void)solver.solve(f.variant(0));
  EXPECT_THROW(solver.solve(f.variant(1)), InputErrors);  // as warm as inside
  EXPECT_THROW(solver.solve(f.variant(2)), InputErrors);
}

}  // namespace
}  // namespace coldbay::study_solver_test
