#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tools/study/table.hpp"

namespace coldbay {

/// A study as one HTML file that needs nothing else and runs no scripts: per result its distribution, whose
/// variance it is, what parameters do one at a time, the texts ranked, the effect of each parameter; pairs of
/// columns; failures. Beside each figure its numbers, to save or to open. Below 2 MB however many the rows:
/// of more than six results, or twelve parameters, the rest is said to be left out.
///
/// `provenance` are lines that say where the rows come from, one below the other. Same input, same bytes.
std::string study_html(const StudyTable& table, const std::string& title,
                       const std::vector<std::string>& provenance);

/// True for the beginning of a file that study_html() made.
bool is_study_page(const std::vector<std::uint8_t>& bytes);

}  // namespace coldbay
