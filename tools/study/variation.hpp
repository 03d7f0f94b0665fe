#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "tools/study/statistics.hpp"
#include "tools/study/table.hpp"

namespace coldbay {

/// What moves by itself in a study: a parameter, or several of which no row moves one and not the others.
struct VariedPart {
  std::vector<std::size_t> columns;
  StudyColumn column;    ///< of several a text, their names joined by " with "
  Levels levels;         ///< of several the combinations that occur, as "0 °C, 60 %"
  bool sampled = false;  ///< its values are draws, each with a value of every other sampled part
};

/// Rows of the same draw, and of the same combination of whatever was not drawn: each draw is solved once in
/// every such cell. Without draws every row is one by itself.
struct Crossing {
  std::vector<std::uint32_t> draw_of_row, cell_of_row;
  std::size_t draws = 0, cells = 1;
  bool has_draws = false;  ///< else rows stand for draws
};

/// How a study varied its parameters.
struct Variation {
  std::vector<VariedPart> parts;  ///< those with two values at least
  Crossing crossing;
  bool aliased = false;  ///< two parts or more were sampled: few draws may lend one what another does
};

/// Columns are one part where each one's values tell the other's in every row: that is seen in the rows, also
/// of a table in which some columns move together and others one at a time, which the card alone does not
/// tell. The card tells what was drawn, which the rows do not: draws tell each other's values, too.
///
/// The rows of a table of numbers, ten and more, are taken as draws where its columns have nothing to do with
/// each other: somebody drew them elsewhere. So are those of any table of which not all combinations are
/// there, for crossed with a list each of its rows comes again and again.
Variation variation_of(const StudyTable& table);

}  // namespace coldbay
