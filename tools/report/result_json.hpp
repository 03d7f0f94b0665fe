#pragma once

#include <string>
#include <vector>

#include "tools/outcome.hpp"

namespace coldbay {

/// What a result says of where it comes from.
struct Provenance {
  std::string case_file;  ///< its name, without the folder
  std::string sha256;     ///< of the case file
  std::string materials_file = {},
              materials_sha256 = {};  ///< of the reader's own file of materials; empty where there is none
};

/// Version of this program.
std::string version();

/// SHA-256 of text, in lower-case hexadecimal.
std::string sha256(const std::string& text);

/// result.json: the fixed keys of each section, their evidence, the case as it was understood and the
/// materials with their sources. A section drawn by shapes has its keys at the top level, and so has
/// the only section of a wall; every section of a wall has them under its name.
///
/// Same input and build give the same bytes; a date is given only where SOURCE_DATE_EPOCH is set.
std::string result_json(const Case& c, const Outcomes& outcomes, const Provenance& provenance);

/// What no number here includes; said wherever a result is shown.
std::vector<std::string> not_modelled(const Section& section, const Results& results, UnitSystem units);

}  // namespace coldbay
