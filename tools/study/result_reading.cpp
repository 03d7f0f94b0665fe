#include "tools/study/result_reading.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tools/study/statistics.hpp"

namespace coldbay {
namespace {

/// The mean of the column that says how sure a result is; 0 where none does.
double kept_uncertainty(const StudyTable& table, const StudyColumn& result) {
  const std::string kind = kind_of_result(result);
  const std::string of = kind == "U"                 ? "U uncertainty"
                         : kind == "coldest surface" ? "surface uncertainty"
                                                     : "";
  if (of.empty()) return 0.0;
  const std::string name = of + result.name.substr(kind.size());
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    if (table.columns[c].varied || table.columns[c].is_text || table.columns[c].name != name) continue;
    const Spread spread = spread_of(table.numbers[c]);
    return spread.n > 0 ? spread.mean : 0.0;
  }
  return 0.0;
}

}  // namespace

double ResultReading::within(double a, double b) const {
  return std::max(absolute, relative * std::max(std::abs(a), std::abs(b)));
}

bool ResultReading::is_equal(double a, double b) const { return std::abs(a - b) <= within(a, b); }

std::string kind_of_result(const StudyColumn& column) {
  return column.name.substr(0, column.name.find(", "));
}

ResultReading reading_of(const StudyTable& table, std::size_t result) {
  constexpr double of_heat = 1e-3, of_surface = 0.01, across = 20.0;  // -, K, K
  const StudyColumn& column = table.columns[result];
  const std::string kind = kind_of_result(column);
  ResultReading reading;
  reading.higher_is_better = kind == "coldest surface" || kind == "temperature factor";
  if (const double u = kept_uncertainty(table, column); u > 0.0) {
    reading.absolute = 2.0 * u;
    reading.equal = fmt::format("no further apart than twice their mean uncertainty, {:.2g} {}",
                                reading.absolute, column.unit);
  } else if (column.unit == "°C" || column.unit == "K" || column.unit == "°F") {
    const bool metric = column.unit != "°F";
    reading.absolute = metric ? of_surface : 1.8 * of_surface;
    reading.equal = metric ? "no further apart than 0.01 K" : "no further apart than 0.018 °F";
  } else if (kind == "temperature factor") {
    reading.absolute = of_surface / across;
    reading.equal = "no further apart than 0.0005 (0.01 K in 20 K)";
  } else if (kind == "extra heat") {  // the ratio of two heats, in per cent
    reading.absolute = 100.0 * of_heat;
    reading.equal = "no further apart than 0.1 percentage points";
  } else if (kind != "whole-wall extra heat") {
    reading.relative = of_heat;
    reading.equal = "no further apart than 0.1 %";
  }
  return reading;
}

}  // namespace coldbay
