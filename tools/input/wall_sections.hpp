#pragma once

#include "tools/input/case.hpp"
#include "tools/input/case_document.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// Reads a wall and cuts it: as built, as it would be built right, and with other scraps where there are
/// scraps, as far as that is wanted. Warns of faults that no cut shows.
void read_wall_sections(const Node& wall_node, const Node* cuts, const CaseParts& wanted, Case& out,
                        const Node& root, Reading& in);

/// The reader's own limits of bad filling.
void read_limits(const Node& node, FillingLimits& limits, Reading& in);

/// Notes what geometry/ found, except at places that have an error already: "the wall has no bays" says
/// nothing new beside "a wall needs 'bays'".
void add_problems(const std::vector<Problem>& problems, const Node& root, Reading& in);

}  // namespace coldbay
