#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "tools/report/study/figures.hpp"

namespace coldbay {
namespace {

constexpr double right_margin = 3.0;

/// How many of the values fall into each of `n` cells of equal width from the least to the greatest.
struct Histogram {
  double least = 0.0, width = 1.0;
  std::vector<std::size_t> counts;
};

/// Rice's rule, 2 n^(1/3) cells, from memory: 4 to 40.
Histogram histogram_of(const std::vector<double>& sorted) {
  const double n = static_cast<double>(sorted.size());
  const auto cells = static_cast<std::size_t>(std::clamp(std::ceil(2.0 * std::cbrt(n)), 4.0, 40.0));
  const double size = std::max(std::abs(sorted.front()), std::abs(sorted.back()));
  if (!(sorted.back() - sorted.front() > 1e-9 * size)) {
    const double width = size > 0.0 ? 0.02 * size : 0.1;
    return {sorted.front() - 0.5 * width, width, {sorted.size()}};
  }
  Histogram h{sorted.front(), (sorted.back() - sorted.front()) / static_cast<double>(cells), {}};
  h.counts.assign(cells, 0);
  for (const double v : sorted) {
    const auto cell = static_cast<std::size_t>((v - h.least) / h.width);
    ++h.counts[std::min(cell, cells - 1)];
  }
  return h;
}

/// A line of the distribution, and where its words stand.
struct Mark {
  double at = 0.0;
  std::string text;
  double left = 0.0, right = 0.0;
  std::size_t line = 0;
};

/// The words of the three marks in one line where they keep apart, else one below the other. Returns how many
/// lines that takes.
std::size_t place_marks(std::array<Mark, 3>& marks, const PaperAxis& x, double width) {
  bool apart = true;
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const double text = figure_text_width(marks[i].text);
    marks[i].left = std::clamp(x.at(marks[i].at) - 0.5 * text, 0.0, std::max(0.0, width - text));
    marks[i].right = marks[i].left + text;
    if (i > 0 && marks[i].left < marks[i - 1].right + 2.0) apart = false;
  }
  for (std::size_t i = 0; i < marks.size() && !apart; ++i) marks[i].line = i;
  return apart ? 1 : marks.size();
}

/// Grey levels of counts: from 1 on, and from every sixth of the greatest on.
std::vector<std::size_t> count_steps(std::size_t greatest) {
  std::vector<std::size_t> steps{1};
  for (std::size_t k = 1; k < 6; ++k)
    if (const std::size_t from = (k * greatest + 5) / 6; from > steps.back()) steps.push_back(from);
  return steps;
}

std::string tenths(double value) { return fmt::format("{}", std::round(10.0 * value) / 10.0); }

void draw_points(Figure& figure, const PaperAxis& ax, const PaperAxis& ay, const std::vector<double>& x,
                 const std::vector<double>& y) {
  std::string path;
  for (std::size_t i = 0; i < x.size(); ++i)
    path += fmt::format("M{} {}h0", tenths(ax.at(x[i])), tenths(ay.at(y[i])));
  draw_path(figure, x.size() > 300 ? "points many" : "points", path);
}

constexpr std::size_t cells_across = 32, cells_up = 24;

std::size_t cell_of(double value, double low, double high, std::size_t cells) {
  const double place = (value - low) / (high - low) * static_cast<double>(cells);
  return std::min(cells - 1, static_cast<std::size_t>(std::max(0.0, place)));
}

/// Cells by count, dark where many variants lie; their numbers go into `data`.
void draw_cells(Figure& figure, const PaperAxis& ax, const PaperAxis& ay, const std::vector<double>& x,
                const std::vector<double>& y, FigureData& data) {
  std::vector<std::size_t> counts(cells_across * cells_up, 0);
  for (std::size_t i = 0; i < x.size(); ++i)
    ++counts[cell_of(y[i], ay.low, ay.high, cells_up) * cells_across +
             cell_of(x[i], ax.low, ax.high, cells_across)];
  const std::vector<std::size_t> steps = count_steps(*std::max_element(counts.begin(), counts.end()));
  std::vector<std::string> paths(steps.size());
  const double w = (ax.end - ax.start) / cells_across, h = (ay.end - ay.start) / cells_up;
  const auto middle = [](const PaperAxis& a, std::size_t i, std::size_t cells) {
    return a.low + (a.high - a.low) * (static_cast<double>(i) + 0.5) / static_cast<double>(cells);
  };
  for (std::size_t j = 0; j < cells_up; ++j)
    for (std::size_t i = 0; i < cells_across; ++i) {
      const std::size_t n = counts[j * cells_across + i];
      if (n == 0) continue;
      std::size_t step = 0;
      while (step + 1 < steps.size() && n >= steps[step + 1]) ++step;
      paths[step] += fmt::format("M{} {}h{}v{}h{}z", mm(ax.start + static_cast<double>(i) * w),
                                 mm(ay.start + static_cast<double>(j) * h), mm(w), mm(h), mm(-w));
      data.rows.push_back({fmt::format("{:.6g}", middle(ax, i, cells_across)),
                           fmt::format("{:.6g}", middle(ay, j, cells_up)), fmt::format("{}", n)});
    }
  for (std::size_t step = 0; step < paths.size(); ++step)
    draw_path(figure, fmt::format("c{}", step), paths[step]);
}

/// What the greys stand for, below the figure.
std::string steps_text(std::size_t n) {
  return fmt::format("{} variants, counted in cells: the darker, the more.", grouped(n));
}

}  // namespace

StudyFigure distribution_figure(const StudyColumn& result, const std::vector<double>& values) {
  constexpr double height = 36.0;
  std::vector<double> sorted = values;
  std::sort(sorted.begin(), sorted.end());
  StudyFigure out{fmt::format("{}: all variants", result.name)};
  Figure& figure = out.figure;
  const Histogram h = histogram_of(sorted);
  const double right = h.least + h.width * static_cast<double>(h.counts.size());
  const Spread band = spread_of(sorted);
  std::array<Mark, 3> marks{Mark{band.low, fmt::format("5 %: {}", shown_number(band.low))},
                            Mark{band.median, fmt::format("median {}", shown_number(band.median))},
                            Mark{band.high, fmt::format("95 %: {}", shown_number(band.high))}};
  const PaperAxis about = axis_over(h.least, right, false, 10.0, figure.width - right_margin, 7);
  const std::size_t lines = place_marks(marks, about, figure.width);
  const double top = 2.0 + figure_line_height * static_cast<double>(lines);
  const auto most = static_cast<double>(*std::max_element(h.counts.begin(), h.counts.end()));
  PaperAxis y = axis_over(0.0, most, true, top + height, top, 5);
  std::erase_if(y.ticks.values, [](double v) { return v != std::floor(v); });  // nothing counts by halves
  y.ticks.decimals = 0;
  const double left = std::max(10.0, axis_left_width(y));
  const PaperAxis x = axis_over(h.least, right, false, left, figure.width - right_margin, 7);
  draw_axis_left(figure, y, left, x.end);
  draw_axis_below(figure, x, top, top + height, name_with_unit(result));
  const std::string name = name_with_unit(result);
  out.data.heads = {name + " from", name + " to", "variants"};
  for (std::size_t i = 0; i < h.counts.size(); ++i) {
    const double from = h.least + h.width * static_cast<double>(i), to = from + h.width;
    draw_box(figure, "bar", {x.at(from), y.at(static_cast<double>(h.counts[i])), x.at(to), top + height});
    out.data.rows.push_back({full_number(from), full_number(to), fmt::format("{}", h.counts[i])});
  }
  for (std::size_t i = 0; i < marks.size(); ++i) {
    draw_line(figure, i == 1 ? "mark" : "mark dashed", {x.at(marks[i].at), top - 0.8},
              {x.at(marks[i].at), top + height});
    write(figure,
          {0.5 * (marks[i].left + marks[i].right),
           3.2 + figure_line_height * static_cast<double>(marks[i].line)},
          Anchor::middle, marks[i].text, "value");
  }
  figure.height = top + height + paper_axis_below;
  out.note = fmt::format("How many of {} variants. Nine in ten lie between the dashed lines.",
                         grouped(sorted.size()));
  return out;
}

StudyFigure pair_figure(const StudyColumn& across, const StudyColumn& up, const std::vector<double>& x,
                        const std::vector<double>& y) {
  constexpr double top = 6.2, height = 36.0;
  StudyFigure out{fmt::format("{} and {}", up.name, across.name)};
  Figure& figure = out.figure;
  figure.width = 58.0;
  const auto [y_least, y_greatest] = std::minmax_element(y.begin(), y.end());
  const auto [x_least, x_greatest] = std::minmax_element(x.begin(), x.end());
  const PaperAxis ay = axis_over(*y_least, *y_greatest, false, top + height, top, 6);
  const double left = axis_left_width(ay);
  const PaperAxis ax = axis_over(*x_least, *x_greatest, false, left, figure.width - right_margin, 5);
  draw_axis_left(figure, ay, left, ax.end);
  draw_axis_below(figure, ax, top, top + height, name_with_unit(across));
  out.data.heads = {name_with_unit(across), name_with_unit(up)};
  if (x.size() > most_points) {
    out.data.heads = {name_with_unit(across) + " middle of cell", name_with_unit(up) + " middle of cell",
                      "variants"};
    draw_cells(figure, ax, ay, x, y, out.data);
    out.note = steps_text(x.size());
  } else {
    draw_points(figure, ax, ay, x, y);
    for (std::size_t i = 0; i < x.size(); ++i)
      out.data.rows.push_back({full_number(x[i]), full_number(y[i])});
  }
  write_name(figure, {0.0, 3.2}, Anchor::start, name_with_unit(up), figure.width);
  figure.height = top + height + paper_axis_below;
  return out;
}

}  // namespace coldbay
