#pragma once

#include <string>
#include <vector>

#include "tools/input/case.hpp"
#include "tools/study/study.hpp"
#include "tools/study/table.hpp"

namespace coldbay {

/// The columns of what is kept: each result of every section, then the next; of the whole wall once.
/// `sections` are their names; one alone needs none. `units` are those the base case asks for.
std::vector<StudyColumn> kept_columns(const std::vector<Kept>& keep, const std::vector<std::string>& sections,
                                      UnitSystem units);

/// What solve_kept() gives of a case with so many sections, in the units of those columns.
void put_in_units(std::vector<double>& numbers, const std::vector<Kept>& keep, std::size_t sections,
                  UnitSystem units);

/// True of a column of temperature differences, which have the units that temperatures have.
bool is_difference(const StudyColumn& column);

/// Solves as much of a case as is kept, and returns it in the order of the columns, in W, m, K, °C and %; NaN
/// where a result has no meaning. Throws SolverError, also where the accuracy was not reached, and ModelError
/// as forecast() does.
std::vector<double> solve_kept(const Case& c, const std::vector<Kept>& keep);

/// What is kept of a section by its results, as built and, where that is something else, built right; nothing
/// that is of the whole wall.
double kept_of(Kept kept, const Results& built, const Results* right);

bool keeps_whole_wall(const std::vector<Kept>& keep);
bool keeps_right(const std::vector<Kept>& keep);

/// How well a case must be known for that: where nothing of the room face is kept, it need not be.
Accuracy accuracy_for(const Case& c, const std::vector<Kept>& keep);

}  // namespace coldbay
