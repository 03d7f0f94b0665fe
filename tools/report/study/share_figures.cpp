#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tools/report/labels.hpp"
#include "tools/report/study/bar_rows.hpp"
#include "tools/report/study/figures.hpp"

namespace coldbay {
namespace {

/// What parts explain one by one; NaN where one is unknown. Their errors are taken as independent.
FirstOrder sum_of(const std::vector<VarianceShare>& shares, std::size_t from) {
  FirstOrder sum;
  for (std::size_t i = from; i < shares.size(); ++i) {
    sum.index += shares[i].first_order.index;
    sum.error = std::hypot(sum.error, shares[i].first_order.error);
  }
  return sum;
}

std::string share_value(const FirstOrder& f) {
  return fixed_number(f.index, 3) + (f.error > 0.0 ? fmt::format(" ± {:.3f}", 2.0 * f.error) : "");
}

/// What is left is none where less than nothing is left: by rounding, by chance, or because parameters do not
/// vary independently, so that what they explain is counted twice.
std::string rest_value(const FirstOrder& rest) {
  constexpr double rounding = 1e-9;
  if (rest.index >= 0.0) return share_value(rest);
  if (rest.index >= -rounding || rest.index >= -2.0 * rest.error) return share_value({0.0, rest.error, 0});
  return "none: shares overlap";
}

/// From 0 to 1, and on to where the lines of the errors end, a half at most.
PaperAxis axis_of_shares(const std::vector<VarianceShare>& shares, const FirstOrder& rest, double width) {
  constexpr double most = 0.5;
  double low = 0.0, high = 1.0;
  const auto widen = [&](const FirstOrder& f) {
    if (!std::isfinite(f.index) || !(f.error > 0.0)) return;
    low = std::min(low, f.index - 2.0 * f.error);
    high = std::max(high, f.index + 2.0 * f.error);
  };
  for (const VarianceShare& s : shares) widen(s.first_order);
  widen({std::max(0.0, rest.index), rest.error, 0});
  low = std::max(low, -most);
  high = std::min(high, 1.0 + most);
  return {low, high, 1.0, width - 4.0, round_ticks(low, high, 5, 6)};
}

void draw_share(Figure& figure, const PaperAxis& x, const FirstOrder& f, std::string_view css, double top) {
  const double index = std::clamp(f.index, x.low, x.high);
  draw_box(figure, css, {x.at(std::min(0.0, index)), top, x.at(std::max(0.0, index)), top + bar_height});
  if (f.error > 0.0)
    draw_whisker(figure, x, f.index - 2.0 * f.error, f.index + 2.0 * f.error, top + 0.5 * bar_height);
}

}  // namespace

StudyFigure shares_figure(const StudyColumn& result, const std::vector<VarianceShare>& shares) {
  StudyFigure out{fmt::format("{}: whose variance it is", result.name)};
  Figure& figure = out.figure;
  FirstOrder rest = sum_of(shares, 0);
  const bool exact = rest.error == 0.0;
  rest.index = 1.0 - rest.index;
  const PaperAxis x = axis_of_shares(shares, rest, figure.width);
  Figure rows{figure.width};
  double y = 0.0;
  const auto add = [&](const std::string& name, const std::string& value, const FirstOrder& f,
                       std::string_view css) {
    y = write_row(rows, y, name, value);
    draw_share(rows, x, f, css, y + 0.9);
    y += 0.9 + bar_height + row_gap;
  };
  std::size_t n = 0;
  for (; n < std::min(most_bar_rows, shares.size()) && y < tallest_rows; ++n)
    add(shares[n].name, share_value(shares[n].first_order), shares[n].first_order, "bar");
  if (n < shares.size()) {
    const FirstOrder others = sum_of(shares, n);
    add(fmt::format("the other {} by themselves", shares.size() - n), share_value(others), others, "bar");
  }
  if (std::isfinite(rest.index))
    add("left for what they do together", rest_value(rest), {std::max(0.0, rest.index), rest.error, 0},
        "open");
  draw_axis_below(figure, x, 0.0, y, "share of the variance, first order");
  if (x.low < 0.0) draw_line(figure, "edge", {x.at(0.0), 0.0}, {x.at(0.0), y});
  figure.body += rows.body;
  figure.height = y + paper_axis_below;
  out.note = exact
                 ? "Of every combination of the values, each counted once: no draws, no error."
                 : "From the variants as they are, two standard errors either way; what lies within them of "
                   "0 may be nothing. A line without a stroke at its end goes on.";
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
