#pragma once

#include <string>

#include "materials/library.hpp"
#include "tools/input/case.hpp"
#include "tools/input/document.hpp"

namespace coldbay {

/// Reads a case from its document, which may have been changed since it was read. Throws InputErrors as
/// read_case does.
Case read_case(const Node& root, const Library& library);

/// Gives a node, and all below it, the paths they have where this one has `path`.
void set_paths(Node& node, const std::string& path);

}  // namespace coldbay
