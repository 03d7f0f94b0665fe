#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "tools/report/handout/handout.hpp"
#include "tools/report/handout/words.hpp"

namespace coldbay {

/// Faults of one wall, or of several, the costliest first. Borrowed from the walls.
struct RankedFaults {
  struct Row {
    const HandoutWall* wall;
    const FaultPage* page;
  };
  std::vector<Row> rows;
  bool of_several_walls = false;  ///< then each row names its wall
};
RankedFaults ranked(const HandoutWall& wall);
RankedFaults ranked(const std::vector<HandoutWall>& walls);

/// On which sheet each page of a handout is, by its id.
using SheetNumbers = std::map<std::string, std::size_t, std::less<>>;

/// Rows [from, to) as a table.
std::string table_html(const RankedFaults& faults, const Words& words, const SheetNumbers& sheets,
                       std::size_t from, std::size_t to);

/// What each row takes on paper [mm], reckoned with the widest of the fonts that sheet.css names.
std::vector<double> row_heights(const RankedFaults& faults, const Words& words);
inline constexpr double table_heading = 20.0;  ///< of the table, above its rows [mm]

/// After which rows a sheet ends, where the first has `first_mm` for the table and every further one
/// `other_mm`. The last is the number of rows; one even where there are none.
std::vector<std::size_t> table_breaks(const std::vector<double>& heights, double first_mm, double other_mm);

}  // namespace coldbay
