#include "tools/report/study/bar_rows.hpp"

#include <algorithm>

namespace coldbay {

double write_row(Figure& figure, double y, const std::string& label, const std::string& value) {
  constexpr double label_gap = 3.0;
  const double room = figure.width - (value.empty() ? 0.0 : figure_text_width(value) + label_gap);
  write(figure, {figure.width, y + 3.3}, Anchor::end, value, "value");
  for (const std::string& line : figure_lines(label, room, 3))
    write(figure, {0.0, y += 3.3}, Anchor::start, line);
  return y;
}

void draw_whisker(Figure& figure, const PaperAxis& x, double low, double high, double middle) {
  draw_line(figure, "whisker", {x.at(std::max(low, x.low)), middle}, {x.at(std::min(high, x.high)), middle});
  for (const double end : {low, high})
    if (end >= x.low && end <= x.high)
      draw_line(figure, "whisker", {x.at(end), middle - 0.9}, {x.at(end), middle + 0.9});
}

}  // namespace coldbay
