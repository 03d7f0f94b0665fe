#pragma once

#include <string>
#include <vector>

#include "tools/report/handout/handout.hpp"
#include "tools/report/handout/words.hpp"

namespace coldbay {

/// A handout as one HTML file that needs nothing else: a sheet for each wall and one for each of its faults,
/// to print or to look into on a screen. Same input, same bytes. At least one wall.
std::string handout_html(const std::vector<HandoutWall>& walls, const Words& words,
                         const HandoutStyle& style);

/// The paper that it is printed on.
Paper paper_of(const std::vector<HandoutWall>& walls, const HandoutStyle& style);

/// How many sheets that prints on.
std::size_t sheets_of(const std::vector<HandoutWall>& walls, const Words& words, const HandoutStyle& style);

/// True for the beginning of a file that handout_html() made.
bool is_handout(const std::vector<std::uint8_t>& bytes);

}  // namespace coldbay
