#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tools/report/labels.hpp"
#include "tools/report/study/bar_rows.hpp"
#include "tools/report/study/figures.hpp"

namespace coldbay {
namespace {

/// Degrees have no zero to begin a bar at.
bool is_degrees(const std::string& unit) {
  return unit == "C" || unit == "F" || unit == "degC" || unit == "degF" || unit == "°C" || unit == "°F";
}

/// A number with its unit, which no line break parts.
std::string with_unit(std::string number, const std::string& unit) {
  if (unit.empty()) return number;
  number += "\u00A0";
  for (const char c : unit)
    if (c == ' ')
      number += "\u00A0";
    else
      number += c;
  return number;
}

/// The unit of a difference: kelvin of degrees, points of per cent.
std::string unit_of_change(const StudyColumn& result) {
  if (result.unit == "C" || result.unit == "degC" || result.unit == "°C") return "K";
  return result.unit == "%" ? "points" : result.unit;
}

std::string signed_text(double value, const std::string& unit) {
  return with_unit(fmt::format("{}{}", value > 0.0 ? "+" : "", shown_number(value)), unit);
}

/// "0.412 W/m2K", and of those that are not equal to the first "0.431 W/m2K, +4.6 %".
std::string rank_value(const Combination& one, const Combination& first, const StudyColumn& result,
                       bool as_share) {
  const double mean = one.result.mean, least = first.result.mean;
  std::string text = with_unit(shown_number(mean), result.unit);
  if (one.rank == first.rank) return text;
  if (!as_share || !(least > 0.0) || result.unit == "%")
    return fmt::format("{}, {}", text, signed_text(mean - least, unit_of_change(result)));
  const double percent = 100.0 * (mean / least - 1.0);
  return fmt::format("{}, {}{}\u00A0%", text, percent > 0.0 ? "+" : "",
                     fixed_number(percent, std::abs(percent) < 10.0 ? 1 : 0));
}

std::string stand_text(const Swing& swing, const StudyColumn& column, bool end) {
  if (column.is_text) return end ? swing.to_text : swing.from_text;
  return shown_number(end ? swing.to : swing.from);
}

/// What a swing comes to, as far as it can be told from what draws and grids leave unsure.
std::string change_text(const Swing& s, const StudyColumn& result, const ResultReading& reading) {
  if (!std::isfinite(s.at_from)) return "too few draws to tell";
  const double change = s.at_to - s.at_from, unsure = 2.0 * s.error;
  const bool seen = std::abs(change) > std::max(unsure, reading.within(s.at_from, s.at_to));
  const std::string unit = unit_of_change(result);
  if (!(unsure > 0.0)) return seen ? signed_text(change, unit) : "none seen";
  const int decimals = std::clamp(1 - static_cast<int>(std::floor(std::log10(unsure))), 0, 9);
  const std::string error = with_unit(fmt::format("± {}", fixed_number(unsure, decimals)), unit);
  return seen ? fmt::format("{}{} {}", change > 0.0 ? "+" : "", fixed_number(change, decimals), error)
              : fmt::format("none seen, {}", error);
}

/// "fill: foam to fibre", "spacing: 400 to 600 mm".
std::string swing_label(const Swing& s, const StudyColumn& column) {
  if (!std::isfinite(s.at_from)) return column.name;
  return fmt::format("{}: {} to {}", column.name, stand_text(s, column, false),
                     with_unit(stand_text(s, column, true), column.unit));
}

/// What the figure counts as the same; nothing where all differences count.
std::string equal_note(const ResultReading& reading, std::string_view what) {
  return reading.equal.empty() ? "" : fmt::format(" {} {}.", what, reading.equal);
}

FigureData swings_data(const std::vector<VariedPart>& parts, const StudyColumn& result,
                       const std::vector<Swing>& swings) {
  const std::string name = name_with_unit(result);
  FigureData data{"",
                  {"parameter", "from", "to", name + " at from", name + " at to", name + " change",
                   "standard error", "all else"},
                  {},
                  {true, true, true, false, false, false, false, true}};
  for (const Swing& s : swings) {
    const StudyColumn& column = parts[s.part].column;
    data.rows.push_back({name_with_unit(column), column.is_text ? s.from_text : full_number(s.from),
                         column.is_text ? s.to_text : full_number(s.to), full_number(s.at_from),
                         full_number(s.at_to), full_number(s.at_to - s.at_from), full_number(s.error),
                         s.all_else_still ? "at its middle" : "averaged"});
  }
  return data;
}

}  // namespace

StudyFigure ranked_figure(const std::vector<StudyColumn>& texts, const StudyColumn& result,
                          const std::vector<Combination>& ranked, const ResultReading& reading) {
  std::vector<std::string> names;
  names.reserve(texts.size());
  for (const StudyColumn& column : texts) names.push_back(column.name);
  StudyFigure out{fmt::format("{}, ranked by {}, the {} (better) first", result.name, joined_texts(names),
                              reading.higher_is_better ? "highest" : "lowest")};
  Figure& figure = out.figure;
  std::size_t n = std::min(most_bar_rows, ranked.size());
  double least = ranked[0].result.low, greatest = ranked[0].result.high;
  for (std::size_t i = 0; i < n; ++i) {
    least = std::min({least, ranked[i].result.low, ranked[i].result.mean});
    greatest = std::max({greatest, ranked[i].result.high, ranked[i].result.mean});
  }
  const bool bars = least >= 0.0 && greatest > 0.0 && !is_degrees(result.unit);
  const PaperAxis x = axis_over(least, greatest, bars, 1.0, figure.width - 1.0, 7);
  Figure rows{figure.width};
  double y = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    if (y > tallest_rows) n = i + 1;
    const Spread& b = ranked[i].result;
    y = write_row(rows, y, fmt::format("{}. {}", ranked[i].rank, joined_texts(ranked[i].texts)),
                  rank_value(ranked[i], ranked[0], result, bars));
    const double top = y + 0.9, middle = top + 0.5 * bar_height;
    if (bars) draw_box(rows, "bar", {x.at(0.0), top, x.at(b.mean), top + bar_height});
    if (b.n > 1) draw_whisker(rows, x, b.low, b.high, middle);
    if (!bars || b.n > 1) draw_dot(rows, "dot", {x.at(b.mean), middle}, bars ? 0.6 : 1.0);
    y = top + bar_height + row_gap;
  }
  draw_axis_below(figure, x, 0.0, y, name_with_unit(result));
  figure.body += rows.body;
  figure.height = y + paper_axis_below;
  const bool banded =
      std::any_of(ranked.begin(), ranked.end(), [](const Combination& c) { return c.result.n > 1; });
  if (banded) out.note = "Mean over all else that was varied; line: 5 to 95 % of the variants.";
  out.note += equal_note(reading, "They share a rank where they are");
  if (n < ranked.size())
    out.note += fmt::format(" The first {} of {}; all are in the data.", n, ranked.size());
  for (const std::string& name : names) out.data.heads.push_back(name);
  out.data.heads.emplace_back("rank");
  for (const char* what : {"variants", "mean", "5 %", "median", "95 %"})
    out.data.heads.push_back(out.data.heads.size() == names.size() + 1
                                 ? what
                                 : fmt::format("{} {}", name_with_unit(result), what));
  out.data.is_text.assign(names.size(), true);
  for (const Combination& c : ranked) {
    std::vector<std::string> row = c.texts;
    row.push_back(fmt::format("{}", c.rank));
    row.push_back(fmt::format("{}", c.result.n));
    for (const double v : {c.result.mean, c.result.low, c.result.median, c.result.high})
      row.push_back(full_number(v));
    out.data.rows.push_back(std::move(row));
  }
  return out;
}

StudyFigure swings_figure(const std::vector<VariedPart>& parts, const StudyColumn& result,
                          const std::vector<Swing>& swings, const ResultReading& reading,
                          std::string_view held) {
  StudyFigure out{fmt::format("{}, one parameter at a time", result.name)};
  Figure& figure = out.figure;
  // An axis that is all of what counts as equal would show large changes where none is seen.
  const double open = 2.0 * reading.within(swings[0].at_from, swings[0].at_to);
  double least = 0.5 * (swings[0].at_from + swings[0].at_to) - open, greatest = least + 2.0 * open;
  bool still = true, averaged = true;
  for (const Swing& s : swings) {
    if (!std::isfinite(s.at_from)) continue;  // they are the last, and the first one is none
    least = std::min({least, s.at_from, s.at_to});
    greatest = std::max({greatest, s.at_from, s.at_to});
    (s.all_else_still ? averaged : still) = false;
  }
  const PaperAxis x = axis_over(least, greatest, false, 1.0, figure.width - 1.0, 7);
  Figure rows{figure.width};
  double y = 0.0;
  std::size_t shown = 0;
  for (const Swing& s : swings) {
    if (y > tallest_rows) break;
    ++shown;
    const bool marked = !still && !averaged && !s.all_else_still && std::isfinite(s.at_from);
    y = write_row(rows, y, swing_label(s, parts[s.part].column) + (marked ? " *" : ""),
                  change_text(s, result, reading));
    if (!std::isfinite(s.at_from)) {
      y += row_gap;
      continue;
    }
    const double top = y + 0.9, middle = top + 0.5 * bar_height, from = x.at(s.at_from), to = x.at(s.at_to);
    draw_box(rows, "bar", {std::min(from, to), top + 0.6, std::max(from, to), top + bar_height - 0.6});
    draw_dot(rows, "ring", {from, middle}, 1.0);
    draw_dot(rows, "dot", {to, middle}, 1.0);
    y = top + bar_height + row_gap;
  }
  draw_axis_below(figure, x, 0.0, y, name_with_unit(result));
  figure.body += rows.body;
  figure.height = y + paper_axis_below;
  const std::string_view meant =
      "a mean over all else, from the lowest to the highest stretch of the parameter";
  out.note = "Ring: from; dot: to";
  if (averaged)
    out.note += fmt::format("; {}.", meant);
  else
    out.note += fmt::format(
        "; all else is held at its commonest value, or where none is commonest at the one nearest to the "
        "median, "
        "of texts at the first{}{}. Held: {}.",
        still ? "" : "; *: ", still ? "" : meant, held);
  if (std::any_of(swings.begin(), swings.end(), [](const Swing& s) { return s.error > 0.0; }))
    out.note += " ±: what few draws leave unsure, two standard errors.";
  out.note += equal_note(reading, "None is seen where both ends are");
  if (shown < swings.size())
    out.note += fmt::format(" The first {} of {}; all are in the data.", shown, swings.size());
  out.data = swings_data(parts, result, swings);
  return out;
}

}  // namespace coldbay
