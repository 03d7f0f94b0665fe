#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tools/input/case_path.hpp"
#include "tools/input/document.hpp"
#include "tools/study/distribution.hpp"

namespace coldbay {

/// How a number is written into a case: `gypsum board 12.5 mm` is "gypsum board ", 12.5, " mm", "".
struct NumberForm {
  std::string unit;           ///< "mm"; empty where there is none
  std::string before, after;  ///< words round it, where `as: gypsum board {}` says so
};

/// A table of separated values, one row a variant. Rows are split when they are asked for.
struct ValueTable {
  std::string text;
  std::vector<std::size_t> rows;   ///< where each begins [bytes]
  std::vector<std::string> units;  ///< of a column's values, where its header says one: `width [mm]`
  char separator = ',';
};

/// What is varied together, step by step: a list, a range, a table, or rows of values for several paths.
struct StudyFactor {
  std::string name;             ///< of its column; empty: its columns are named after the paths
  std::vector<CasePath> paths;  ///< of a table, once it is read
  /// One value for all paths, or one for each; marked as of the study file.
  std::vector<std::vector<Node>> rows;
  std::vector<std::string> row_names;  ///< where the rows have names; then they are the column

  struct Range {
    double from = 0.0, to = 0.0;
    std::uint64_t points = 0;  ///< both ends among them
    double step = 0.0;
  };
  std::optional<Range> range;
  NumberForm form;  ///< of the range; of rows the words alone

  std::string table_file;  ///< as written
  std::optional<ValueTable> table;
  Place where;

  std::uint64_t size() const;
};

/// What is drawn by chance.
struct StudyDraw {
  std::string name;
  std::vector<CasePath> paths;
  Distribution distribution;
  NumberForm form;
  Place where;
};

/// What may be kept of each variant; of every section, but the last three.
enum class Kept {
  u,
  u_right,
  u_uncertainty,
  heat_flow,
  coldest_surface,
  surface_uncertainty,
  temperature_factor,
  extra_heat,
  whole_u,
  whole_u_right,
  whole_extra_heat
};

/// A study file, read: what is solved again and again, what is varied, what is kept.
///
/// Variants are the factors crossed with each other, the first the slowest, and each of these with all draws,
/// which are the fastest. A variant's number, from 0, is its place in that order, and says all of it: none is
/// ever held in memory with the others.
struct Study {
  std::string title;
  std::string base;  ///< the case file, as written
  Place base_at;
  std::vector<StudyFactor> factors;
  std::vector<StudyDraw> drawn;
  std::uint64_t draws = 1;
  std::uint64_t seed = 1;
  bool hypercube = false;
  std::vector<Kept> keep;
};

}  // namespace coldbay
