#pragma once

#include <string>
#include <vector>

#include "tools/study/table.hpp"

namespace coldbay {

/// The numbers behind a figure: a heading per column, and rows of texts that are ready to be shown. Numbers
/// stand in full (17 digits at most), so that the file can be reckoned with.
struct FigureData {
  std::string file;  ///< what it is called when it is saved: "effect-1-2.csv"
  std::vector<std::string> heads;
  std::vector<std::vector<std::string>> rows;
  std::vector<bool> is_text = {};  ///< by column; quoted in the file. Empty: none is
};

/// "wall.frame.spacing [m]"
std::string name_with_unit(const StudyColumn& column);

/// A number as a file has it: the shortest that reads back as the same; empty for none.
std::string full_number(double value);

/// CSV by [RFC4180].
std::string csv_of(const FigureData& data);

/// A link that saves the CSV, and up to 40 rows as a table that opens.
std::string data_markup(const FigureData& data);

}  // namespace coldbay
