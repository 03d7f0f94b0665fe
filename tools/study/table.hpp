#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace coldbay {

/// One column of a study: what was varied, or a result that was kept.
struct StudyColumn {
  std::string name;  ///< "wall.frame.spacing", "u_value"
  std::string unit;  ///< "m"; empty where there is none
  bool varied = false;
  bool is_text = false;
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
