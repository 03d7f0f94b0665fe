#pragma once

#include <string>

#include "materials/library.hpp"
#include "tools/input/case.hpp"
#include "tools/input/document.hpp"

namespace coldbay {

/// How much of a case is wanted. Whoever solves many like one that was read as a whole needs less of each.
struct CaseParts {
  bool right = true;     ///< the sections of the wall built right
  bool scraps = true;    ///< bays stuffed in other ways
  bool warnings = true;  ///< what each section shows of the faults, and warnings of what none shows
  bool drawn = true;     ///< whether every section can be drawn; else that is for who draws it
};

/// Reads a case from its document, which may have been changed since it was read. Throws InputErrors as
/// read_case does.
Case read_case(const Node& root, const Library& library, const CaseParts& wanted = {});

/// Gives a node, and all below it, the paths they have where this one has `path`.
void set_paths(Node& node, const std::string& path);

}  // namespace coldbay
