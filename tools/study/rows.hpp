#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tools/study/table.hpp"

namespace coldbay {

/// A row of a study as it is kept: the line that stands in results.csv [RFC4180], without its end.
///
///     17,400,"fibre, right",0.2413,16.8,
///
/// The variant, what was varied, what was kept, what failed. A result without meaning is an empty field.
/// A text that a spreadsheet would take for a formula (it begins with = + - @, or with an
/// apostrophe itself) has an apostrophe before it.
std::string row_line(std::uint64_t id, const std::vector<StudyColumn>& varied,
                     const std::vector<std::string>& cells, const std::vector<double>& kept,
                     std::size_t n_kept, const std::string& failed);

/// The first line: names, with their units in brackets.
std::string header_line(const std::vector<StudyColumn>& columns);

/// One field of text.
std::string text_field(std::string_view text);

/// The fields of a row, as they were before they were written. Empty where the line is not whole.
std::vector<std::string> fields_of(std::string_view line);

/// A field of numbers: NaN where it is empty.
double number_in(const std::string& field);

/// A line of a journal: a row and its checksum (CRC-32), so that a torn or altered one is known.
std::string sealed(const std::string& row);

/// The row of such a line, without its end; nothing where it is not whole.
std::optional<std::string_view> unsealed(std::string_view line);

/// The variant of a row; nothing where it does not begin with one.
std::optional<std::uint64_t> id_of(std::string_view row);

bool has_failed(std::string_view row);

}  // namespace coldbay
