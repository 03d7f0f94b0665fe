#include <fmt/core.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>

#include "tools/report/files.hpp"
#include "tools/study/command.hpp"
#include "tools/study/folder.hpp"
#include "tools/study/results.hpp"
#include "tools/study/rows.hpp"

namespace coldbay::study_folder_test {
namespace {

namespace fs = std::filesystem;

constexpr double none = std::numeric_limits<double>::quiet_NaN();

/// A folder that is gone when the test is.
struct Scratch {
  fs::path path = fs::temp_directory_path() / fmt::format("coldbay-study-{}", getpid());
  Scratch() { fs::create_directories(path); }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  ~Scratch() { fs::remove_all(path); }
};

StudyCard card_of(std::uint64_t n) {
  return {"Rows",
          "1",
          "abc",
          n,
          {{"spacing", "mm", true, false}, {"fill", "", true, true}, {"U", "W/m2K", false, false}}};
}

std::string row_of(std::uint64_t id, const StudyCard& card, const std::string& fill, double u,
                   const std::string& failed = "") {
  return row_line(id, {card.columns[0], card.columns[1]}, {"400", fill}, {u}, 1, failed);
}

std::string text_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

TEST(StudyRows, FieldsComeBackAsTheyWere) {
  const StudyCard card = card_of(10);
  for (const char* fill :
       {"fibre", "", "a, b", "say \"no\"", "=1+1", "-5 °C", "@x", "+y", "'quoted", "semi;colon"}) {
    const std::string row = row_of(7, card, fill, 0.25, "");
    EXPECT_EQ(fields_of(row), (std::vector<std::string>{"7", "400", fill, "0.25", ""})) << row;
    EXPECT_EQ(id_of(row), 7u);
    EXPECT_FALSE(has_failed(row));
  }
  EXPECT_TRUE(has_failed(row_of(7, card, "fibre", none, "no, \"really\"")));
  EXPECT_EQ(fields_of(row_of(7, card, "fibre", none, "no, \"really\"")).back(), "no, \"really\"");
  EXPECT_TRUE(fields_of("1,\"open").empty());
}

// Spreadsheets take a field that begins so for a formula, quoted or not: an apostrophe makes it a text.
TEST(StudyRows, NoTextBeginsAsAFormula) {
  EXPECT_EQ(text_field("=1+1"), "\"'=1+1\"");
  EXPECT_EQ(text_field("@sum"), "\"'@sum\"");
  EXPECT_EQ(text_field("fibre"), "fibre");
}

TEST(StudyRows, ASealShowsWhatWasChanged) {
  // CRC-32 finds every change of up to 32 bits in a row.
  const std::string line = sealed("3,400,fibre,0.25,");
  EXPECT_EQ(unsealed(std::string_view(line).substr(0, line.size() - 1)), "3,400,fibre,0.25,");
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    std::string torn = line.substr(0, line.size() - 1);
    torn[i] = torn[i] == '1' ? '2' : '1';
    EXPECT_FALSE(unsealed(torn)) << torn;
    EXPECT_FALSE(unsealed(std::string_view(line).substr(0, i))) << i;
  }
  // The checksum that zip and gzip use: of "123456789" it is cbf43926 (the usual check value, from memory).
  EXPECT_EQ(sealed("123456789"), "123456789#cbf43926\n");
}

// A card of an older version does not tell what was drawn, and is read nevertheless.
TEST(StudyFolder, ACardTellsWhatWasDrawn) {
  const Scratch scratch;
  StudyCard card = card_of(4);
  open_folder(scratch.path / "old", card);
  EXPECT_EQ(text_of(scratch.path / "old/study.json").find("factor"), std::string::npos);
  EXPECT_FALSE(read_card(scratch.path / "old").columns[0].factor);
  card.columns[0].factor = 7;
  card.columns[0].drawn = true;
  open_folder(scratch.path / "new", card);
  const std::vector<StudyColumn> columns = read_card(scratch.path / "new").columns;
  EXPECT_TRUE(columns[0].drawn);
  EXPECT_EQ(columns[0].factor, 7U);
  EXPECT_FALSE(columns[1].drawn || columns[1].factor || columns[2].drawn);
}

TEST(StudyFolder, ResultsAreInOrderWhateverTheOrderOfSolving) {
  const Scratch scratch;
  const StudyCard card = card_of(4);
  open_folder(scratch.path / "s", card);
  {
    Journal second(scratch.path / "s"), first(scratch.path / "s");
    second.add(row_of(3, card, "=x", 0.5));
    first.add(row_of(0, card, "fibre, thin", 0.25));
    second.add(row_of(1, card, "foam", none, "it would not"));
  }
  EXPECT_EQ(tell_results(scratch.path / "s", card, false), 4);
  EXPECT_EQ(
      text_of(scratch.path / "s/results.csv"),
      "variant,spacing [mm],fill,U [W/m2K],failed\r\n0,400,\"fibre, thin\",0.25,\r\n1,400,foam,,it would "
      "not\r\n3,400,\"'=x\",0.5,\r\n");
  const std::string json = text_of(scratch.path / "s/results.json");
  EXPECT_NE(json.find("[0, 400, \"fibre, thin\", 0.25, null]"), std::string::npos) << json;
  EXPECT_NE(json.find("[1, 400, \"foam\", null, \"it would not\"]"), std::string::npos) << json;
  EXPECT_NE(json.find("[3, 400, \"=x\", 0.5, null]"), std::string::npos) << json;
  const StudyTable table = read_study_results(scratch.path / "s");
  EXPECT_EQ(table.ids, (std::vector<std::uint64_t>{0, 1, 3}));
  EXPECT_EQ(table.texts[1], (std::vector<std::string>{"fibre, thin", "foam", "=x"}));
  EXPECT_EQ(table.numbers[2][2], 0.5);
  EXPECT_TRUE(std::isnan(table.numbers[2][1]));
  EXPECT_EQ(table.failed[1], "it would not");
}

TEST(StudyFolder, TwoThatDisagreeAreNotJoined) {
  const Scratch scratch;
  const StudyCard card = card_of(4);
  for (const char* name : {"a", "b"}) {
    open_folder(scratch.path / name, card);
    Journal(scratch.path / name).add(row_of(2, card, name, 0.5));
  }
  EXPECT_THROW(collect_study({scratch.path / "a", scratch.path / "b"}, scratch.path / "c"), OutputError);
}

TEST(StudyFolder, MissingOnesAreToldAsRanges) {
  Ranges ranges(3);
  for (const std::uint64_t id : {1u, 2u, 3u, 7u, 9u, 10u, 12u, 13u}) ranges.add(id);
  EXPECT_EQ(ranges.text(), "1-3, 7, 9-10, and more");
  EXPECT_EQ(ranges.count(), 8u);
}

/// Most memory this process ever had [bytes].
long peak_memory() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return usage.ru_maxrss * 1024;
}

TEST(StudyFolder, AMillionRowsCollectInLittleMemory) {
  const Scratch scratch;
  constexpr std::uint64_t n = 1'000'000;
  const StudyCard card = card_of(n);
  const std::string fill(60, 'f');  // so that the rows are 90 MB
  for (std::uint64_t share = 0; share < 3; ++share) {
    const fs::path folder = scratch.path / fmt::format("{}", share);
    open_folder(folder, card);
    Journal journal(folder);
    for (std::uint64_t i = share; i < n; i += 3)
      journal.add(row_of(i, card, fill, 1e-6 * static_cast<double>(i)));
  }
  const long before = peak_memory();
  EXPECT_EQ(collect_study({scratch.path / "0", scratch.path / "1", scratch.path / "2"}, scratch.path / "all"),
            0);
  // Three indices of 8 bytes a row, and windows of 256 KiB on four files: 26 MB; libnetcdf, 15 MB; half as
  // much again for the heap. Had it held the rows themselves, 90 MB.
#ifndef COLDBAY_SANITIZED  // which keep what is given back
  EXPECT_LT(peak_memory() - before, 60'000'000);
#endif
  EXPECT_GT(fs::file_size(scratch.path / "all/results.csv"), 80'000'000u);
}

}  // namespace
}  // namespace coldbay::study_folder_test
