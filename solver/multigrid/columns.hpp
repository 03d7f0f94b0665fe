#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "geometry/axis.hpp"

namespace coldbay {

/// Left-out columns and the kept ones they lie between: place i between from[0] + i, before it in the
/// direction of thinning, and from[1] + i after it, or -1 where there is none.
struct Between {
  Index place, count;
  std::array<Index, 2> from;
};

/// A run of links: link i joins place p + i to place q + i.
struct Run {
  Index p, q, count;
  Index link;       ///< number of the first
  std::size_t way;  ///< 0 across, 1 up
  bool q_first;     ///< q is the lower end of that way, else p
};

/// The columns of a grid sorted for the next coarser one: those it keeps first, then those it leaves out,
/// each sort in planes across the direction of thinning, one plane after the other. So planes left out run
/// along with the kept ones beside them, and what is done to one column is done to thousands in a row.
///
/// No two planes left out are neighbours, and each has a kept one before it. A grid one column high (or wide)
/// leaves out every other one. Of a block, only planes that stand close are left out, in the
/// direction where the closest stand: further on the coupling is weak, relaxation of single columns does
/// not smooth it, and the coarser grid must still be able to show it.
struct Sorting {
  std::size_t direction = 0;  ///< of thinning: 0 across, 1 up
  Index kept = 0;
  std::array<std::vector<double>, 2> at;          ///< middles of the kept columns across and up [m]
  std::vector<std::int32_t> column_at, place_of;  ///< [place], [column]
  std::vector<Between> between;
  /// All links: from each column left out to the one before it, numbered by place; to the one after it;
  /// between kept neighbours; and in the other direction, from each place to the next. The last lead over the
  /// ends of planes too, where there is no link and no conductance.
  std::vector<Run> runs;
  Index links = 0;

  Index columns() const { return std::ssize(column_at); }
  Index left_out() const { return columns() - kept; }
};

Sorting sort_columns(const std::array<std::vector<double>, 2>& at, bool up_fastest);

}  // namespace coldbay
