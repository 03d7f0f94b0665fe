#pragma once

#include <string>

#include "tools/side_by_side.hpp"

namespace coldbay {

/// The cases as a person reads them: ranked, how much more each is than the least and how sure that is, which
/// are equal within what the grids are sure of, and every section.
std::string side_by_side_text(const SideBySide& all);

/// compare.json: the same as numbers in SI, and the difference of every pair. Same input, same bytes.
std::string side_by_side_json(const SideBySide& all);

}  // namespace coldbay
