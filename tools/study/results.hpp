#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "tools/study/folder.hpp"
#include "tools/study/table.hpp"

namespace coldbay {

/// Writes results.csv, results.json and results.nc of the rows that are there, in the order of their numbers,
/// row by row, so that memory does not grow with them. Each is whole or not there. Throws OutputError.
void write_results(const std::filesystem::path& folder, const StudyCard& card, const RowIndex& index);

/// Variants as ranges: "3, 7-9". `most` of them, then "and more".
class Ranges {
 public:
  explicit Ranges(std::size_t most) : most_(most) {}
  void add(std::uint64_t id);
  std::uint64_t count() const { return count_; }
  std::string text() const;

 private:
  std::size_t most_;
  std::uint64_t count_ = 0;
  std::vector<std::pair<std::uint64_t, std::uint64_t>> ranges_;
  bool more_ = false;
};

/// Writes the results of a folder, and says on stderr which variants are missing and which failed. Of one
/// share others are missing as a matter of course. Returns the exit code of the program: 4 where any is.
int tell_results(const std::filesystem::path& folder, const StudyCard& card, bool share);

/// The results of a folder, whole in memory. Throws OutputError where it is none of a study.
StudyTable read_study_results(const std::filesystem::path& folder);

}  // namespace coldbay
