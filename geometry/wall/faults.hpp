#pragma once

#include <vector>

#include "geometry/wall/fill.hpp"
#include "geometry/wall/wall.hpp"

namespace coldbay {

/// What can be wrong with a bay. What each is called, and its right way, stands in tools/report/fault_words.
enum class Fault {
  missing,
  gap,
  narrow,
  forced,
  short_end,
  folded,
  fallen,
  settled_fill,
  thin,
  squeezed,
  inset_staples,
  shoulders,
  scraps,
  hole,
  pushed_over,
  cold_pipe,
  box_open,
  box_squeezed,
  box_piece,
  box_margin
};

/// What is wrong with a bay as it is described, each once, in the order above. Empty where it is built right,
/// by whatever means: a short batt whose end is filled is not wrong.
std::vector<Fault> faults_of(const Bay& bay, const Region& space);
std::vector<std::vector<Fault>> faults_of(const Wall& wall);  ///< bay by bay

/// The same wall, built right: every batt cut to its bay and at its own thickness, every gap filled, batts
/// split round cables, a piece behind every box (foam where there is less than 10 mm), insulation behind
/// pipes. An empty bay gets what is intended there, or else the wall's usual fill, that of most of its
/// sound bays; so does one whose batt is too thick for the frame. A bay for which neither is known stays.
Wall built_right(const Wall& wall);

/// A bay with one of its faults put right, as built_right() would, and the others left.
Bay put_right(const Wall& wall, std::size_t bay, Fault fault);

/// Bays that built_right() can put nothing right in: no fill is known that belongs there.
std::vector<std::size_t> without_right_way(const Wall& wall);

}  // namespace coldbay
