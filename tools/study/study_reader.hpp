#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "tools/input/input_error.hpp"
#include "tools/input/reading.hpp"
#include "tools/study/study.hpp"

namespace coldbay {

/// Most variants of a study.
inline constexpr std::uint64_t most_variants = 100'000'000;

/// Reads a study file:
///
///     title: Three fills by spacing
///     base: three-fills.yaml                  # beside this file
///     vary:
///       - {path: wall.frame.spacing, values: [400 mm, 600 mm]}
///       - {path: air.outside.temperature, from: -20 °C, to: 0 °C, points: 5}       # or step: 5 K
///       - {path: "wall.layers[1]", as: "gypsum board {}", from: 10 mm, to: 15 mm, step: 2.5 mm}
///       - name: fill                          # several paths together, a row each
///         paths: ["wall.bays[1]", "wall.bays[2]"]
///         rows:
///           fibre: [mineral fibre, mineral fibre]
///           one forgotten: [mineral fibre, nothing]
///       - table: climates.csv                 # its header has the paths
///       - {path: wall.height, uniform: {from: 2.4 m, to: 2.7 m}}
///       - {path: wall.frame.spacing, normal: {mean: 16 in, deviation: 0.1 in, from: 15 in, to: 17 in}}
///     draws: 1000
///     seed: 7
///     sampling: latin hypercube               # or: by chance
///     keep: [U, coldest surface]
///
/// Throws InputErrors with everything that is wrong. The files it names are not read yet.
Study read_study(const SourceText& source);

/// Reads the table of a factor into it. Throws InputErrors: of the table's own text.
void read_study_table(const SourceText& source, StudyFactor& factor);

/// A number and its unit, as in `12.5 mm`; nothing where there is none, or more than one.
struct NumberAndUnit {
  double number = 0.0;
  std::string unit;
};
std::optional<NumberAndUnit> number_and_unit(std::string_view text);

/// A value as one writes it on a line: `{batt: R-13, width: 13 in}`.
std::string in_one_line(const Node& node);

/// One entry of `vary`, into the factors or what is drawn.
void read_varied(const Node& node, Study& study, Reading& in);

}  // namespace coldbay
