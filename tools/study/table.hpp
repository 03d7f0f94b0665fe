#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace coldbay {

/// One column of a study: what was varied, or a result that was kept.
struct StudyColumn {
  std::string name;  ///< "wall.frame.spacing", "u_value"
  std::string unit;  ///< "m"; empty where there is none
  bool varied = false;
  bool is_text = false;
  bool drawn = false;  ///< by chance: each draw has a value of it
  /// Columns with the same number were varied step by step together, those drawn among them. Nothing where
  /// that is not known, as in the folder of an older version.
  std::optional<std::size_t> factor = {};
};

/// Rows in the order of the variants' numbers. Numbers are NaN where a variant failed.
struct StudyTable {
  std::vector<StudyColumn> columns;
  std::vector<std::uint64_t> ids;
  std::vector<std::vector<double>> numbers;     ///< by column; empty for a column of texts
  std::vector<std::vector<std::string>> texts;  ///< by column; empty for a column of numbers
  std::vector<std::string> failed;              ///< a message per row, empty where it was solved
};

}  // namespace coldbay
