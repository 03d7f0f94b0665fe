#pragma once

#include <cstddef>
#include <string>

#include "tools/study/table.hpp"

namespace coldbay {

/// How numbers of a result are to be compared: which differences are none, and which end is the better.
struct ResultReading {
  double relative = 0.0, absolute = 0.0;  ///< two numbers no further apart than the greater of both are equal
  std::string equal;                      ///< what that is, in words: "no further apart than 0.1 %"
  bool higher_is_better = false;          ///< of a temperature of the room face; of heat less is better

  double within(double a, double b) const;  ///< [unit of the result]
  bool is_equal(double a, double b) const;
};

/// Where the uncertainty of a result was kept beside it, twice its mean: uncertainties add up, as side by
/// side (see difference_of()). Else what a case is solved to unless it asks for something else, 0.1 % of heat
/// and 0.01 K at the face: the grids leave less than that unsure, so two such numbers do not add up to much
/// more. A temperature factor is known to 0.01 K in 20 K. Of the watts by which walls differ nothing is
/// known.
ResultReading reading_of(const StudyTable& table, std::size_t result);

/// "U" of "U, plan at 48 in": what is kept, without the section it is of.
std::string kind_of_result(const StudyColumn& column);

}  // namespace coldbay
