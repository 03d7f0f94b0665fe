#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tools/report/study/figures.hpp"

namespace coldbay {
namespace {

constexpr double right_room = 3.0, plot_top = 6.2, plot_height = 44.0;

std::vector<std::string> band_heads(const StudyColumn& result) {
  const std::string unit = result.unit.empty() ? "" : fmt::format(" [{}]", result.unit);
  std::vector<std::string> heads{"variants"};
  for (const char* what : {"mean", "5 %", "25 %", "median", "75 %", "95 %"})
    heads.push_back(fmt::format("{} {}{}", result.name, what, unit));
  return heads;
}

void append_band(std::vector<std::string>& row, const Spread& b) {
  row.push_back(fmt::format("{}", b.n));
  for (const double x : {b.mean, b.low, b.quarter, b.median, b.three_quarters, b.high})
    row.push_back(full_number(x));
}

/// Two standard errors of the mean of few draws; 0 where there is none.
double sureness(const EffectLevel& level) { return std::isfinite(level.unsure) ? 2.0 * level.unsure : 0.0; }

/// Least and greatest of the bands.
struct Extent {
  double least, greatest;
};
Extent extent_of(const std::vector<EffectLevel>& levels) {
  Extent e{levels.front().result.low, levels.front().result.high};
  for (const EffectLevel& level : levels) {
    const double unsure = sureness(level);
    e.least = std::min({e.least, level.result.low, level.result.mean - unsure});
    e.greatest = std::max({e.greatest, level.result.high, level.result.mean + unsure});
  }
  return e;
}

std::string path_of(const std::vector<PaperPoint>& points, bool closed) {
  std::string path;
  for (const PaperPoint& p : points)
    path += fmt::format("{}{} {}", path.empty() ? 'M' : 'L', mm(p.x), mm(p.y));
  if (closed) path += 'z';
  return path;
}

/// The 5 to 95 % band as an area with edges, or where there is one level alone as a line.
void draw_band(Figure& figure, const ParameterEffect& effect, const PaperAxis& x, const PaperAxis& y) {
  std::vector<PaperPoint> high, low;
  for (const EffectLevel& level : effect.levels) {
    high.push_back({x.at(level.middle), y.at(level.result.high)});
    low.push_back({x.at(level.middle), y.at(level.result.low)});
  }
  std::vector<PaperPoint> round = high;
  round.insert(round.end(), low.rbegin(), low.rend());
  draw_path(figure, "band", path_of(round, true));
  draw_path(figure, "edge", path_of(high, false));
  draw_path(figure, "edge", path_of(low, false));
}

FigureData effect_data(const StudyColumn& parameter, const StudyColumn& result,
                       const ParameterEffect& effect) {
  FigureData data;
  data.heads = band_heads(result);
  std::vector<std::string> along{name_with_unit(parameter)};
  if (effect.by_stretches) along = {along[0] + " mean", along[0] + " from", along[0] + " to"};
  if (parameter.is_text) data.is_text = {true};
  data.heads.insert(data.heads.begin(), along.begin(), along.end());
  for (const EffectLevel& level : effect.levels) {
    std::vector<std::string> row{parameter.is_text ? level.text : full_number(level.middle)};
    if (effect.by_stretches) {
      row.push_back(full_number(level.from));
      row.push_back(full_number(level.to));
    }
    append_band(row, level.result);
    data.rows.push_back(std::move(row));
  }
  return data;
}

/// One row of boxes_figure below its label.
void draw_box_row(Figure& figure, const Spread& b, const PaperAxis& x, double middle) {
  draw_line(figure, "whisker", {x.at(b.low), middle}, {x.at(b.high), middle});
  for (const double end : {b.low, b.high})
    draw_line(figure, "whisker", {x.at(end), middle - 1.0}, {x.at(end), middle + 1.0});
  if (b.n > 1) draw_box(figure, "bar", {x.at(b.quarter), middle - 1.5, x.at(b.three_quarters), middle + 1.5});
  draw_dot(figure, "dot", {x.at(b.mean), middle}, 0.7);
  draw_line(figure, "median", {x.at(b.median), middle - 1.9}, {x.at(b.median), middle + 1.9});
}

}  // namespace

StudyFigure effect_figure(const StudyColumn& parameter, const StudyColumn& result,
                          const ParameterEffect& effect) {
  StudyFigure out{fmt::format("{} over {}", result.name, parameter.name)};
  Figure& figure = out.figure;
  const auto& levels = effect.levels;
  const Extent e = extent_of(levels);
  const PaperAxis y = axis_over(e.least, e.greatest, false, plot_top + plot_height, plot_top, 6);
  const double left = axis_left_width(y);
  const PaperAxis x =
      axis_over(levels.front().middle, levels.back().middle, false, left, figure.width - right_room, 7);
  draw_axis_left(figure, y, left, x.end);
  draw_axis_below(figure, x, plot_top, plot_top + plot_height, name_with_unit(parameter));
  const bool banded =
      std::any_of(levels.begin(), levels.end(), [](const EffectLevel& level) { return level.result.n > 1; });
  if (banded) draw_band(figure, effect, x, y);
  std::vector<PaperPoint> means;
  means.reserve(levels.size());
  for (const EffectLevel& level : levels) means.push_back({x.at(level.middle), y.at(level.result.mean)});
  draw_path(figure, "line", path_of(means, false));
  bool has_errors = false;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    const double unsure = sureness(levels[i]), mean = levels[i].result.mean;
    if (unsure > 0.0)
      draw_line(figure, "whisker", {means[i].x, y.at(mean - unsure)}, {means[i].x, y.at(mean + unsure)});
    has_errors = has_errors || unsure > 0.0;
    draw_dot(figure, "dot", means[i], 0.75);
  }
  write_name(figure, {0.0, 3.2}, Anchor::start, name_with_unit(result), figure.width);
  figure.height = plot_top + plot_height + paper_axis_below;
  if (banded)
    out.note =
        effect.by_stretches
            ? fmt::format("Line: mean of {} stretches of about as many variants; grey: 5 to 95 % of them.",
                          levels.size())
            : "Line: mean over all else that was varied; grey: 5 to 95 % of the variants.";
  if (has_errors)
    out.note += " Strokes: what few draws leave unsure of a mean, two standard errors either way.";
  out.data = effect_data(parameter, result, effect);
  return out;
}

StudyFigure boxes_figure(const StudyColumn& parameter, const StudyColumn& result,
                         const ParameterEffect& effect) {
  constexpr std::size_t most_rows = 24;
  constexpr double row_height = 5.6;
  StudyFigure out{fmt::format("{} by {}", result.name, parameter.name)};
  Figure& figure = out.figure;
  const std::vector<EffectLevel> first(
      effect.levels.begin(),
      effect.levels.begin() + static_cast<std::ptrdiff_t>(std::min(most_rows, effect.levels.size())));
  const Extent e = extent_of(first);
  const PaperAxis x = axis_over(e.least, e.greatest, false, 1.0, figure.width - 1.0, 7);
  Figure rows{figure.width};
  double y = 0.0;
  std::size_t shown = 0;
  for (const EffectLevel& level : first) {
    if (y > tallest_rows) break;
    ++shown;
    const std::string label = level.text.empty() ? "(empty)" : level.text;
    for (const std::string& line : figure_lines(label, figure.width, 2))
      write(rows, {0.0, y += 3.3}, Anchor::start, line);
    draw_box_row(rows, level.result, x, y + 0.9 + 0.5 * 3.8);
    y += row_height + 0.6;
  }
  draw_axis_below(figure, x, 0.0, y, name_with_unit(result));
  figure.body += rows.body;
  figure.height = y + paper_axis_below;
  out.note = "Line: 5 to 95 % of the variants; box: the middle half; stroke: median; dot: mean.";
  if (shown < effect.levels.size())
    out.note += fmt::format(" The first {} of {}; all are in the data.", shown, effect.levels.size());
  out.data = effect_data(parameter, result, effect);
  return out;
}

}  // namespace coldbay
