#pragma once

#include <cstddef>
#include <vector>

#include "tools/report/study/figures.hpp"
#include "tools/study/statistics.hpp"
#include "tools/study/table.hpp"

namespace coldbay {

/// A study's rows that were solved, and what is found once for all figures. Borrows the table.
struct StudyView {
  const StudyTable* table = nullptr;
  Variation variation;
  std::vector<std::size_t> results, left_out;  ///< columns: those that have figures, and those that have none
  Moves moves;
  std::vector<std::vector<double>> ranks;  ///< by column; empty for texts
};
/// Figures are of up to most_results results: first those of the whole wall and one of every kind that was
/// kept, then those of a second section, and so on; they stand as the columns do.
StudyView view_of(const StudyTable& solved);

/// How many figures of a kind a page has at most.
inline constexpr std::size_t most_results = 6, most_effects = 12, most_bars = 24, most_pairs = 24;

/// All figures of one result but the pairs: distribution, shares, ranked texts, one at a time, effects by the
/// size of their share. Empty where no row has a value, or all have the same.
std::vector<StudyFigure> figures_of(const StudyView& view, std::size_t result);

/// Each result over the parameters of numbers it goes with most closely, and results over each other.
std::vector<StudyFigure> pairs_of(const StudyView& view);

}  // namespace coldbay
