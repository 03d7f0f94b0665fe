#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "tools/report/labels.hpp"
#include "tools/report/study/figures.hpp"

namespace coldbay {
namespace {

constexpr double bar_height = 3.2, row_gap = 2.0, label_gap = 3.0;
constexpr std::size_t most_rows = 24;  // what a page holds

/// A label and, at the right end of its first line, what it comes to; returns the baseline of the last line.
double write_row(Figure& figure, double y, const std::string& label, const std::string& value) {
  const double room = figure.width - (value.empty() ? 0.0 : figure_text_width(value) + label_gap);
  write(figure, {figure.width, y + 3.3}, Anchor::end, value, "value");
  for (const std::string& line : figure_lines(label, room, 2))
    write(figure, {0.0, y += 3.3}, Anchor::start, line);
  return y;
}

void draw_whisker(Figure& figure, const PaperAxis& x, double low, double high, double middle) {
  draw_line(figure, "whisker", {x.at(low), middle}, {x.at(high), middle});
  for (const double end : {low, high})
    draw_line(figure, "whisker", {x.at(end), middle - 0.9}, {x.at(end), middle + 0.9});
}

/// Degrees have no zero to begin a bar at.
bool is_degrees(const std::string& unit) {
  return unit == "C" || unit == "F" || unit == "degC" || unit == "degF" || unit == "°C" || unit == "°F";
}

std::string signed_text(double value) {
  std::string text = value > 0.0 ? "+" : "";
  text += shown_number(value);
  return text;
}

/// "0.412", and after the first "0.431, +4.6 %".
std::string rank_value(double mean, double first, bool as_share) {
  std::string text = shown_number(mean);
  if (mean == first) return text;
  if (!as_share || !(first > 0.0)) return fmt::format("{}, {}", text, signed_text(mean - first));
  const double percent = 100.0 * (mean / first - 1.0);
  return fmt::format("{}, +{:.{}f} %", text, percent, percent < 10.0 ? 1 : 0);
}

std::string stand_text(const Swing& swing, const StudyColumn& column, bool end) {
  if (column.is_text) return end ? swing.to_text : swing.from_text;
  return shown_number(end ? swing.to : swing.from);
}

FigureData swings_data(const std::vector<StudyColumn>& columns, const StudyColumn& result,
                       const std::vector<Swing>& swings) {
  const std::string name = name_with_unit(result);
  FigureData data{
      "",
      {"parameter", "from", "to", name + " at from", name + " at to", name + " change", "all else"},
      {},
      {true, true, true, false, false, false, true}};
  for (const Swing& s : swings) {
    const StudyColumn& column = columns[s.parameter];
    data.rows.push_back({name_with_unit(column), column.is_text ? s.from_text : full_number(s.from),
                         column.is_text ? s.to_text : full_number(s.to), full_number(s.at_from),
                         full_number(s.at_to), full_number(s.at_to - s.at_from),
                         s.all_else_still ? "at its middle" : "averaged"});
  }
  return data;
}

/// What parameters explain one by one; NaN where one is unknown.
double sum_of(const std::vector<VarianceShare>& shares) {
  double sum = 0.0;
  for (const VarianceShare& s : shares) sum += s.first_order.index;
  return sum;
}

std::string share_value(const FirstOrder& f) {
  if (!std::isfinite(f.index)) return "not known";
  return fixed_number(f.index, 3) + (f.error > 0.0 ? fmt::format(" ± {:.3f}", 2.0 * f.error) : "");
}

}  // namespace

StudyFigure ranked_figure(const std::vector<StudyColumn>& texts, const StudyColumn& result,
                          const std::vector<Combination>& ranked) {
  std::vector<std::string> names;
  names.reserve(texts.size());
  for (const StudyColumn& column : texts) names.push_back(column.name);
  StudyFigure out{fmt::format("{}, ranked by {}", result.name, fmt::join(names, ", "))};
  Figure& figure = out.figure;
  const std::size_t n = std::min(most_rows, ranked.size());
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
    const Spread& b = ranked[i].result;
    y = write_row(rows, y, fmt::format("{}. {}", i + 1, fmt::join(ranked[i].texts, ", ")),
                  rank_value(b.mean, ranked[0].result.mean, bars));
    const double top = y + 0.9, middle = top + 0.5 * bar_height;
    if (bars) draw_box(rows, "bar", {x.at(0.0), top, x.at(b.mean), top + bar_height});
    if (b.n > 1) draw_whisker(rows, x, b.low, b.high, middle);
    if (!bars || b.n > 1) draw_dot(rows, "dot", {x.at(b.mean), middle}, bars ? 0.6 : 1.0);
    y = top + bar_height + row_gap;
  }
  draw_axis_below(figure, x, 0.0, y, name_with_unit(result));
  figure.body += rows.body;
  figure.height = y + axis_below;
  const bool banded =
      std::any_of(ranked.begin(), ranked.end(), [](const Combination& c) { return c.result.n > 1; });
  out.note = banded ? "Mean over all else that was varied, least first; line: 5 to 95 % of the variants."
                    : "The least first.";
  if (n < ranked.size())
    out.note += fmt::format(" The first {} of {}; all are in the data.", n, ranked.size());
  for (const std::string& name : names) out.data.heads.push_back(name);
  for (const char* what : {"variants", "mean", "5 %", "median", "95 %"})
    out.data.heads.push_back(
        out.data.heads.size() == names.size() ? what : fmt::format("{} {}", name_with_unit(result), what));
  out.data.is_text.assign(names.size(), true);
  for (const Combination& c : ranked) {
    std::vector<std::string> row = c.texts;
    row.push_back(fmt::format("{}", c.result.n));
    for (const double v : {c.result.mean, c.result.low, c.result.median, c.result.high})
      row.push_back(full_number(v));
    out.data.rows.push_back(std::move(row));
  }
  return out;
}

StudyFigure swings_figure(const std::vector<StudyColumn>& columns, const StudyColumn& result,
                          const std::vector<Swing>& swings) {
  StudyFigure out{fmt::format("{}, one parameter at a time", result.name)};
  Figure& figure = out.figure;
  double least = swings[0].at_from, greatest = least;
  bool still = true, averaged = true;
  for (const Swing& s : swings) {
    least = std::min({least, s.at_from, s.at_to});
    greatest = std::max({greatest, s.at_from, s.at_to});
    (s.all_else_still ? averaged : still) = false;
  }
  const PaperAxis x = axis_over(least, greatest, false, 1.0, figure.width - 1.0, 7);
  Figure rows{figure.width};
  double y = 0.0;
  for (const Swing& s : swings) {
    const StudyColumn& column = columns[s.parameter];
    std::string unit = column.unit.empty() ? "" : " " + column.unit;
    for (std::size_t at = 0; (at = unit.find(' ', at)) != std::string::npos;) unit.replace(at, 1, "\u00A0");
    y = write_row(
        rows, y,
        fmt::format("{}: {} to {}{}{}", column.name, stand_text(s, column, false),
                    stand_text(s, column, true), unit, still || averaged || s.all_else_still ? "" : " *"),
        signed_text(s.at_to - s.at_from));
    const double top = y + 0.9, middle = top + 0.5 * bar_height, from = x.at(s.at_from), to = x.at(s.at_to);
    draw_box(rows, "bar", {std::min(from, to), top + 0.6, std::max(from, to), top + bar_height - 0.6});
    draw_dot(rows, "ring", {from, middle}, 1.0);
    draw_dot(rows, "dot", {to, middle}, 1.0);
    y = top + bar_height + row_gap;
  }
  draw_axis_below(figure, x, 0.0, y, name_with_unit(result));
  figure.body += rows.body;
  figure.height = y + axis_below;
  const std::string held = "all else at its commonest or middle value",
                    meant = "a mean over all else, from the lowest to the highest stretch of the parameter";
  out.note = fmt::format("Ring: from; dot: to; {}.", still      ? held
                                                     : averaged ? meant
                                                                : held + "; *: " + meant);
  out.data = swings_data(columns, result, swings);
  return out;
}

StudyFigure shares_figure(const StudyColumn& result, const std::vector<VarianceShare>& shares) {
  StudyFigure out{fmt::format("{}: whose variance it is", result.name)};
  Figure& figure = out.figure;
  PaperAxis x{0.0, 1.0, 1.0, figure.width - 4.0, round_ticks(0.0, 1.0, 5, 6)};
  Figure rows{figure.width};
  double y = 0.0;
  const auto on = [](double share) { return std::clamp(share, 0.0, 1.0); };
  const bool exact = std::all_of(shares.begin(), shares.end(),
                                 [](const VarianceShare& s) { return s.first_order.error == 0.0; });
  const std::size_t n = std::min(most_rows, shares.size());
  for (std::size_t i = 0; i < n; ++i) {
    const VarianceShare& s = shares[i];
    const FirstOrder& f = s.first_order;
    y = write_row(rows, y, s.name, share_value(f));
    const double top = y + 0.9;
    if (std::isfinite(f.index)) {
      draw_box(rows, "bar", {x.at(0.0), top, x.at(on(f.index)), top + bar_height});
      if (f.error > 0.0)
        draw_whisker(rows, x, on(f.index - 2.0 * f.error), on(f.index + 2.0 * f.error),
                     top + 0.5 * bar_height);
    }
    y = top + bar_height + row_gap;
  }
  if (n < shares.size()) {
    const double others = sum_of({shares.begin() + static_cast<std::ptrdiff_t>(n), shares.end()});
    y = write_row(rows, y, fmt::format("the other {} by themselves", shares.size() - n),
                  fixed_number(others, 3));
    draw_box(rows, "bar", {x.at(0.0), y + 0.9, x.at(on(others)), y + 0.9 + bar_height});
    y += 0.9 + bar_height + row_gap;
  }
  const double rest = 1.0 - sum_of(shares);
  if (std::isfinite(rest)) {
    y = write_row(rows, y, "left for what parameters do together", fixed_number(rest, 3));
    draw_box(rows, "open", {x.at(0.0), y + 0.9, x.at(on(rest)), y + 0.9 + bar_height});
    y += 0.9 + bar_height + row_gap;
  }
  draw_axis_below(figure, x, 0.0, y, "share of the variance, first order");
  figure.body += rows.body;
  figure.height = y + axis_below;
  out.note = exact ? "Of every combination of the values, each counted once: no draws, no error."
                   : "From the variants as they are, two standard errors either way.";
  out.data = {"",
              {"parameter", "first-order index", "standard error", "classes", "rank correlation"},
              {},
              {true, false, false, false, false}};
  for (const VarianceShare& s : shares)
    out.data.rows.push_back({s.name, full_number(s.first_order.index), full_number(s.first_order.error),
                             fmt::format("{}", s.first_order.classes), full_number(s.rank_correlation)});
  return out;
}

}  // namespace coldbay
