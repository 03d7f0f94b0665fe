#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "tools/report/handout/handout.hpp"
#include "tools/report/handout/words.hpp"

namespace coldbay {

/// Rows [from, to) of the table of a wall's faults; `first_fault` is the number of the sheet of the first
/// fault.
std::string ranked_table(const HandoutWall& wall, const Words& words, std::size_t first_fault,
                         std::size_t from, std::size_t to);

/// What those rows and their heading take on paper [mm], reckoned with the widest of the fonts that sheet.css
/// names.
double table_height(const HandoutWall& wall, const Words& words, std::size_t from, std::size_t to);

/// After which rows a sheet ends: those that fit beside the face of the wall, with `first_mm` for them, and
/// then those that fit on sheets of their own, with `other_mm`. The last is the number of rows; one even
/// where there are none.
std::vector<std::size_t> table_breaks(const HandoutWall& wall, const Words& words, double first_mm,
                                      double other_mm);

}  // namespace coldbay
