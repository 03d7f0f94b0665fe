#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tools/study/study.hpp"
#include "tools/study/table.hpp"

namespace coldbay {

/// How many there are. Throws InputErrors where they are more than a study may have.
std::uint64_t count_variants(const Study& study);

/// The columns of what is varied, in the order of the factors, then of the draws. A column is one of numbers
/// where all its values are numbers in one unit.
std::vector<StudyColumn> varied_columns(const Study& study);

/// What one variant puts where in the case, and what stands in its columns.
struct Variant {
  struct Setting {
    const CasePath* path;  ///< of the study, which must outlive this
    Node value;
  };
  std::vector<Setting> settings;   ///< in the order in which they are put
  std::vector<std::string> cells;  ///< numbers without their unit
};

/// The variant of that number, made from nothing but the number.
Variant variant_at(const Study& study, const std::vector<StudyColumn>& columns, std::uint64_t id);

/// A number as it is written into cases and tables: 12 digits, more than anybody measures.
std::string number_text(double number);

}  // namespace coldbay
