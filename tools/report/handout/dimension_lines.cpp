#include "tools/report/handout/dimension_lines.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace coldbay {
namespace {

constexpr double row_pitch = 4.0;           ///< of dimension lines below each other [mm]
constexpr double first_row = 3.8;           ///< from the edge to the first [mm]
constexpr double overshoot = 0.8;           ///< of every line beyond where two meet [mm]
constexpr double stroke = 0.7;              ///< half of an oblique stroke, in x and in y [mm]
constexpr double above_line = 0.6;          ///< from a line up to its text [mm]
constexpr double between_dimensions = 1.5;  ///< between two dimensions of a row [mm]
constexpr double clear = 1.8;  ///< what a text leaves of its line, for the strokes at its ends [mm]

std::string line(PaperPoint a, PaperPoint b) {
  return fmt::format("M{} {}L{} {}", mm(a.x), mm(a.y), mm(b.x), mm(b.y));
}

std::string oblique(PaperPoint at) {
  return line({at.x - stroke, at.y + stroke}, {at.x + stroke, at.y - stroke});
}

void shortest_first(std::vector<PaperMeasure>& measures) {
  std::stable_sort(measures.begin(), measures.end(), [](const PaperMeasure& a, const PaperMeasure& b) {
    return a.span.length() < b.span.length();
  });
}

bool touch(Span a, Span b) {
  return a.from < b.to + between_dimensions && b.from < a.to + between_dimensions;
}

/// A dimension in a row, its text above its line or beside it.
struct LaidRow {
  Span line;  ///< as far as it is drawn
  Anchor anchor = Anchor::middle;
  double text = 0.0;  ///< x
};

/// `ends`: of all measures, where lines run through the rows above theirs.
LaidRow laid_level(const PaperMeasure& measure, const std::vector<double>& ends, Span limits) {
  const double width = lettering_width(measure.text), beside = stroke + 0.7;
  const Span own{measure.span.from - overshoot, measure.span.to + overshoot};
  if (width + clear < measure.span.length())
    return {own, Anchor::middle, 0.5 * (measure.span.from + measure.span.to)};
  const Span after{measure.span.to + beside, measure.span.to + beside + width};
  const Span before{measure.span.from - beside - width, measure.span.from - beside};
  const auto crossed = [&](Span text) {
    return std::any_of(ends.begin(), ends.end(), [&](double x) { return x > text.from && x < text.to; });
  };
  const bool room_after = after.to <= limits.to, room_before = before.from >= limits.from;
  if (room_after && (!crossed(after) || !room_before || crossed(before)))
    return {{own.from, after.to}, Anchor::start, after.from};
  return {{before.from, own.to}, Anchor::end, before.to};
}

}  // namespace

Dimensions dimensions_below(std::vector<PaperMeasure> measures, double y, Span limits) {
  shortest_first(measures);
  Dimensions all;
  std::vector<std::vector<Span>> rows;
  std::vector<double> ends;
  for (const PaperMeasure& measure : measures) ends.insert(ends.end(), {measure.span.from, measure.span.to});
  for (const PaperMeasure& measure : measures) {
    const LaidRow level = laid_level(measure, ends, limits);
    auto row = std::find_if(rows.begin(), rows.end(), [&](const std::vector<Span>& taken) {
      return std::none_of(taken.begin(), taken.end(), [&](Span other) { return touch(other, level.line); });
    });
    if (row == rows.end()) row = rows.emplace(row);
    row->push_back(level.line);
    const double at = y + first_row + row_pitch * static_cast<double>(row - rows.begin());
    all.path += line({level.line.from, at}, {level.line.to, at});
    for (const double x : {measure.span.from, measure.span.to})
      all.path += line({x, measure.begins}, {x, at + overshoot}) + oblique({x, at});
    all.texts.push_back({{level.text, at - above_line}, level.anchor, measure.text});
  }
  if (!rows.empty()) all.first_row = rows.front();
  for (const double x : ends) all.first_row.push_back({x, x});
  if (!rows.empty()) all.reach = first_row + row_pitch * static_cast<double>(rows.size() - 1) + overshoot;
  return all;
}

Dimensions dimensions_beside(std::vector<PaperMeasure> measures, double x, bool leftwards) {
  shortest_first(measures);
  const double away = leftwards ? -1.0 : 1.0;
  Dimensions all;
  for (const PaperMeasure& measure : measures) {
    const double width = lettering_width(measure.text);
    const double middle = 0.5 * (measure.span.from + measure.span.to);
    const bool upwards = width + clear < measure.span.length();
    // A text read from the right stands left of its line: on the way out on one side, beyond it on the other.
    const double gap = upwards && !leftwards ? above_line + lettering_mm + 0.6 : 2.2;
    const double at = x + away * (all.reach + gap);
    all.path += line({at, measure.span.from - overshoot}, {at, measure.span.to + overshoot});
    for (const double y : {measure.span.from, measure.span.to})
      all.path += line({measure.begins, y}, {at + away * overshoot, y}) + oblique({at, y});
    if (upwards) {
      all.texts.push_back({{at - above_line, middle}, Anchor::middle, measure.text, {}, true});
      all.reach += gap + (leftwards ? above_line + lettering_mm : overshoot);
    } else {
      all.texts.push_back({{at + away * (overshoot + 0.4), middle + 0.36 * lettering_mm},
                           leftwards ? Anchor::end : Anchor::start,
                           measure.text});
      all.reach += gap + overshoot + 0.4 + width;
    }
  }
  return all;
}

}  // namespace coldbay
