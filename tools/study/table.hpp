#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace coldbay {

/// One column of a study: what was varied, or a result that was kept.
struct StudyColumn {
  std::string name;  ///< "wall.frame.spacing", "U, plan at 1.2 m"
  std::string unit;  ///< as written in the study, "mm"; of results "W/m2K", "°C"; empty where there is none
  bool varied = false;
  bool is_text = false;
};

/// Rows in the order of the variants' numbers. Numbers of results are NaN where a variant failed.
struct StudyTable {
  std::vector<StudyColumn> columns;
  std::vector<std::uint64_t> ids;
  std::vector<std::vector<double>> numbers;     ///< per column; empty for a column of texts
  std::vector<std::vector<std::string>> texts;  ///< per column; empty for a column of numbers
  std::vector<std::string> failed;              ///< per row what went wrong; empty: solved
};

}  // namespace coldbay
