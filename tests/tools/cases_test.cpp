#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "solver/forecast.hpp"
#include "solver/settle.hpp"
#include "tools/input/case.hpp"
#include "tools/outcome.hpp"
#include "tools/start.hpp"
#include "tools/verify.hpp"

// What the bundled cases say to expect, as numbers; COLDBAY_CASES is the folder they stand in.

namespace coldbay::cases_test {
namespace {

SourceText text_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {file.string(), {std::istreambuf_iterator<char>(in), {}}};
}

Results results_of(const std::string& name, std::size_t section = 0) {
  const Case c = read_case(text_of(std::filesystem::path(COLDBAY_CASES) / name));
  return forecast(c.sections.at(section), c.air, c.humidity, c.accuracy).results;
}

TEST(Cases, EveryFramedOneLiesBetweenItsLimits) {
  int sections = 0;
  for (const auto& entry : std::filesystem::directory_iterator(COLDBAY_CASES)) {
    if (entry.path().extension() != ".yaml") continue;
    const Case c = read_case(text_of(entry.path()));
    for (const Section& section : c.sections) {
      const Forecast f = forecast(section, c.air, c.humidity, c.accuracy);
      const Results& r = f.results;
      EXPECT_TRUE(f.reached) << entry.path() << " " << section.name;
      EXPECT_LE(f.last_change, settled);
      for (const Refinement& grid : f.refinements)
        EXPECT_LE(grid.rounds, 8) << entry.path() << " " << section.name;
      ASSERT_TRUE(r.u_value && r.limits) << entry.path();
      EXPECT_GT(*r.u_value, r.limits->parallel_path) << entry.path() << " " << section.name;
      EXPECT_LT(*r.u_value, r.limits->isothermal_planes) << entry.path() << " " << section.name;
      ++sections;
    }
  }
  EXPECT_GE(sections, 4);
}

TEST(Cases, AGapBehindABox) {
  const Results through = results_of("box-gap.yaml", 0), above = results_of("box-gap.yaml", 1);
  EXPECT_NEAR(through.parts[0].u_value / through.parts[1].u_value, 1.062, 0.01);
  EXPECT_NEAR(through.parts[0].u_value / through.parts[2].u_value, 1.37, 0.01);
  EXPECT_NEAR(above.parts[0].u_value / above.parts[2].u_value, 1.0, 1e-3);
  EXPECT_LT(through.parts[0].extreme, through.parts[1].extreme);
}

TEST(Cases, RightAndWrong) {
  const Results r = results_of("right-and-wrong.yaml");
  EXPECT_NEAR(r.parts[2].u_value / r.parts[0].u_value, 1.147, 0.005);
  EXPECT_NEAR(r.parts[4].u_value / r.parts[0].u_value, 3.62, 0.05);
  EXPECT_NEAR(1.8 * *r.stud_contrast, -1.87, 0.05);  // the README says so
  // Over the empty bay the pattern turns round: its studs, at 64 and 80 in, are warmer than its middle.
  const auto face_at = [&](double inches) {
    std::size_t i = 0;
    while (r.profile.across[i] < 0.0254 * inches) ++i;
    return r.profile.celsius[i];
  };
  EXPECT_GT(face_at(64.0), face_at(72.0) + 1.0);
  EXPECT_LT(face_at(16.0), face_at(8.0) - 0.9);
}

TEST(Cases, ThreeFills) {
  const Results r = results_of("three-fills.yaml");
  EXPECT_NEAR(r.parts[2].u_value, 0.236, 0.002);
  EXPECT_NEAR(r.parts[0].u_value, 0.258, 0.002);
  EXPECT_NEAR(r.parts[1].u_value, 0.277, 0.002);
}

/// What each bay of a starter loses, over the first, which is right.
std::vector<double> bays_of(const std::string& starter, std::size_t section = 0) {
  const Results r = results_of("starters/" + starter, section);
  std::vector<double> all;
  for (const PartResult& part : r.parts) all.push_back(part.u_value / r.parts[0].u_value);
  return all;
}

TEST(Starters, SayWhatToExpect) {
  EXPECT_NEAR(bays_of("2x4-at-16.yaml").at(1), 1.10, 0.01);
  EXPECT_NEAR(bays_of("2x4-at-16.yaml", 1).at(3), 1.31, 0.01);
  EXPECT_NEAR(bays_of("2x4-at-24.yaml").at(1), 1.27, 0.01);
  EXPECT_NEAR(bays_of("2x4-at-24.yaml").at(3), 4.4, 0.1);
  EXPECT_NEAR(bays_of("2x6-at-16.yaml").at(1), 1.25, 0.01);
  EXPECT_NEAR(bays_of("2x6-at-16.yaml", 1).at(3), 1.10, 0.01);
  EXPECT_NEAR(bays_of("2x6-at-24.yaml").at(1), 1.25, 0.01);
  EXPECT_NEAR(bays_of("2x6-at-24.yaml").at(3), 0.85, 0.01);
  EXPECT_NEAR(bays_of("timber-140-at-600.yaml").at(1), 1.12, 0.01);
  EXPECT_NEAR(bays_of("timber-140-at-600.yaml").at(3), 5.1, 0.1);
}

/// What workmanship costs each bay of a case, at one section, over the same bay built right.
std::vector<double> costs_of(const std::string& name, std::size_t section) {
  const Case c = read_case(text_of(std::filesystem::path(COLDBAY_CASES) / name));
  const Outcomes all = solve_case(c, [](const std::string&) {});
  std::vector<double> shares;
  for (const PartEffect& p : all.sections.at(section).effect->parts) shares.push_back(p.share);
  return shares;
}

TEST(Starters, TheSteelOneSaysWhatToExpect) {
  EXPECT_NEAR(costs_of("starters/steel-92-at-600.yaml", 0).at(1), 0.08, 0.005);
  EXPECT_NEAR(costs_of("starters/steel-92-at-600.yaml", 0).at(3), 0.04, 0.005);
}

TEST(Cases, ThePracticeWall) {
  const Case c = read_case(text_of(std::filesystem::path(COLDBAY_CASES) / "practice-wall.yaml"));
  EXPECT_TRUE(c.warnings.empty());
  const Outcomes all = solve_case(c, [](const std::string&) {});
  const auto& parts = all.sections.at(2).effect->parts;
  EXPECT_NEAR(parts.at(1).share, 0.28, 0.005);   // narrow
  EXPECT_NEAR(parts.at(3).share, 0.015, 0.002);  // inset staples
  EXPECT_NEAR(parts.at(5).share, 2.64, 0.01);    // empty
  EXPECT_NEAR(parts.at(9).share, 0.16, 0.005);   // thin
  EXPECT_NEAR(parts.at(10).share, 0.05, 0.005);  // over a cable
  // They share a stud with a faulty bay, and some of its loss.
  for (const std::size_t right : {2u, 11u}) EXPECT_LT(std::abs(parts.at(right).share), 0.03) << right;
  double least = 1.0, most = 0.0;
  for (const Outcome& o : all.sections) {
    EXPECT_TRUE(o.built.reached && o.right && o.right->reached);
    for (const ScrapsRange& range : o.scraps)
      for (const double share : range.shares) {
        least = std::min(least, share);
        most = std::max(most, share);
      }
  }
  EXPECT_NEAR(least, 0.01, 0.005);
  EXPECT_NEAR(most, 0.45, 0.02);
  ASSERT_TRUE(all.wall);
  EXPECT_NEAR(all.wall->u_built / all.wall->u_right, 1.18, 0.005);
}

TEST(Starters, AreInsideAsTheyStandInTheirFolder) {
  std::size_t files = 0;
  for (const SourceText& starter : starter_cases()) {
    const auto file = std::filesystem::path(COLDBAY_CASES) / "starters" / (starter_name(starter) + ".yaml");
    EXPECT_EQ(starter.text, text_of(file).text) << file;
    EXPECT_LT(std::count(starter.text.begin(), starter.text.end(), '\n'), 40) << file;  // read at one glance
    EXPECT_TRUE(starter_description(starter).starts_with("A ")) << file;
    EXPECT_TRUE(read_case(starter).warnings.empty()) << file;
  }
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(COLDBAY_CASES) / "starters"))
    files += entry.path().extension() == ".yaml" ? 1 : 0;
  EXPECT_EQ(starter_cases().size(), files);
}

TEST(Verify, HasThePublishedCasesInside) { EXPECT_GE(published_cases().size(), 5u); }

// The same bay in the words of a wall and drawn by shapes: one grid, one loop. What differs is rounding in
// the edges of the shapes, and the solver's residual, carried through the settling of the flow (1e-4 of it at
// most).
TEST(Verify, AWallAndItsDrawingHaveTheSameLoop) {
  for (const char* name : {"loop-10mm-2400mm-20K", "loop-5mm-600mm-20K"}) {
    const auto results = [&](const char* form) {
      return results_of(fmt::format("published/{}{}.yaml", name, form));
    };
    const Results drawn = results(""), built = results("-wall");
    ASSERT_TRUE(drawn.loop && built.loop) << name;
    EXPECT_NEAR(built.loop->flow / drawn.loop->flow, 1.0, 1e-4) << name;
    EXPECT_NEAR(*built.u_value / *drawn.u_value, 1.0, 1e-4) << name;
  }
}

// A check that cannot fail is none: one number moved by more than its tolerance must not agree.
TEST(Verify, SeesAWrongNumber) {
  const std::string body =
      "section: {width: 1 m, depth: 0.1 m, shapes: [{material: {conductivity: 0.1 W/mK}, across: [0 m, 1 m], "
      "depth: [0 m, 0.1 m]}]}\n"
      "air: {inside: {temperature: 20 °C, film: 0}, outside: {temperature: 0 °C, film: 0}}\n"
      "probes: {M: [0.5 m, 0.05 m]}\n"
      "published:\n"
      "  - {what: u_value, value: 1.0 W/m2K, within: 0.1 %, because: by hand, source: by hand}\n"
      "  - {what: u_value, value: 1.01 W/m2K, within: 0.1 %, because: wrong on purpose, source: none}\n"
      "  - {what: air_flow, value: 0, within: 1e-9, because: nothing moves, source: by hand}\n"
      "  - {what: air_flow, value: 1e-6, within: 1e-9, because: wrong on purpose, source: none}\n"
      "  - {what: probe M, value: 10 °C, within: 0.01 K, because: by hand, source: by hand}\n"
      "  - {what: probe M, value: 10.02 °C, within: 0.01 K, because: wrong on purpose, source: none}\n";
  const auto all = compare_with_published({"wrong.yaml", body});
  ASSERT_EQ(all.size(), 6u);
  EXPECT_TRUE(all[0].agrees);
  EXPECT_FALSE(all[1].agrees);
  EXPECT_TRUE(all[2].agrees);
  EXPECT_FALSE(all[3].agrees);
  EXPECT_TRUE(all[4].agrees);
  EXPECT_FALSE(all[5].agrees);
  EXPECT_NE(comparison_table("wrong.yaml", all).find("NO"), std::string::npos);
}

}  // namespace
}  // namespace coldbay::cases_test
