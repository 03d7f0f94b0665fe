#include "tools/report/study/figure.hpp"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>

#include "tools/report/handout/markup.hpp"
#include "tools/report/labels.hpp"

namespace coldbay {
namespace {

constexpr double generous = 1.04;
constexpr double per_lettering = generous * figure_lettering / lettering_mm;

/// 1.2e-07 as people read it: "1.2e−7".
std::string with_power(double value, int digits) {
  const std::string text = fmt::format("{:.{}e}", std::abs(value), std::max(0, digits - 1));
  const std::size_t e = text.find('e');
  const int power = std::atoi(text.c_str() + e + 1);
  return fmt::format("{}{}e{}{}", value < 0.0 ? "−" : "", text.substr(0, e), power < 0 ? "−" : "",
                     std::abs(power));
}

bool needs_power(double greatest, double step) { return greatest >= 1e6 || greatest < 1e-4 || step < 1e-9; }

/// A number and the stretch it would take.
struct TickLabel {
  std::string text;
  double left = 0.0, right = 0.0;
};

/// The last place before `end` where a line may end: at a space, or after a dot that parts the steps of a
/// path; 0 where there is none.
std::size_t break_before(std::string_view text, std::size_t end) {
  for (std::size_t at = end - 1; at > 1; --at) {
    if (text[at] == ' ') return at;
    if (text[at - 1] == '.' && std::isalpha(static_cast<unsigned char>(text[at])) != 0) return at;
  }
  return 0;
}

bool begins_letter(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }  // of UTF-8

/// Less and less of the middle of what stands before the unit, an ellipsis in its place.
std::string without_middle(std::string_view name, double width_mm) {
  if (figure_text_width(name) <= width_mm) return std::string(name);
  const std::size_t unit = name.ends_with(']') ? name.rfind(" [") : std::string_view::npos;
  const std::string_view before = name.substr(0, unit),
                         after = unit == std::string_view::npos ? "" : name.substr(unit);
  std::size_t head = before.size() / 2, tail = head;
  std::string shown;
  while (head > 0 && tail < before.size()) {
    do --head;
    while (head > 0 && !begins_letter(before[head]));
    do ++tail;
    while (tail < before.size() && !begins_letter(before[tail]));
    shown = fmt::format("{}…{}{}", before.substr(0, head), before.substr(tail), after);
    if (figure_text_width(shown) <= width_mm) return shown;
  }
  return figure_fitted(name, width_mm);
}

}  // namespace

double figure_text_width(std::string_view text) { return lettering_width(text) * per_lettering; }

std::string figure_fitted(std::string_view text, double width_mm) {
  return fitted(text, width_mm / per_lettering);
}

std::vector<std::string> figure_lines(std::string_view text, double width_mm, std::size_t most_lines) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    if (lines.size() + 1 == most_lines) {
      lines.push_back(figure_fitted(text, width_mm));
      break;
    }
    std::size_t end = text.size();
    while (figure_text_width(text.substr(0, end)) > width_mm) {
      const std::size_t before = break_before(text, end);
      if (before == 0) {  // one long word: to its end
        end = std::min(text.find(' ', 1), text.size());
        break;
      }
      end = before;
    }
    lines.push_back(figure_fitted(text.substr(0, end), width_mm));
    text.remove_prefix(end);
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  }
  return lines;
}

void write(Figure& figure, PaperPoint at, Anchor anchor, std::string_view text, std::string_view css) {
  if (text.empty()) return;
  figure.body += fmt::format("<text x=\"{}\" y=\"{}\"", mm(at.x), mm(at.y));
  if (anchor == Anchor::middle) figure.body += " text-anchor=\"middle\"";
  if (anchor == Anchor::end) figure.body += " text-anchor=\"end\"";
  if (!css.empty()) figure.body += fmt::format(" class=\"{}\"", css);
  figure.body += '>' + escaped(text) + "</text>";
}

void write_name(Figure& figure, PaperPoint at, Anchor anchor, std::string_view name, double width_mm) {
  const std::string shown = without_middle(name, width_mm);
  write(figure, at, anchor, shown);
  if (shown == name) return;
  constexpr std::string_view end = "</text>";
  figure.body.insert(figure.body.size() - end.size(), "<title>" + escaped(name) + "</title>");
}

void draw_path(Figure& figure, std::string_view css, std::string_view path) {
  if (!path.empty()) figure.body += fmt::format("<path class=\"{}\" d=\"{}\"/>", css, path);
}

void draw_line(Figure& figure, std::string_view css, PaperPoint from, PaperPoint to) {
  draw_path(figure, css, fmt::format("M{} {}L{} {}", mm(from.x), mm(from.y), mm(to.x), mm(to.y)));
}

void draw_box(Figure& figure, std::string_view css, const PaperBox& box) {
  figure.body += fmt::format("<rect class=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>", css,
                             mm(box.left), mm(box.top), mm(std::max(0.0, box.right - box.left)),
                             mm(std::max(0.0, box.bottom - box.top)));
}

void draw_dot(Figure& figure, std::string_view css, PaperPoint at, double radius) {
  figure.body +=
      fmt::format("<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>", css, mm(at.x), mm(at.y), mm(radius));
}

std::string svg_of(const Figure& figure, std::string_view name) {
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" style=\"--w:{}mm\" role=\"img\" "
      "aria-label=\"{}\">{}</svg>\n",
      mm(figure.width), mm(figure.height), mm(figure.width), escaped(name), figure.body);
}

PaperAxis axis_over(double least, double greatest, bool from_zero, double start, double end, int most_ticks) {
  const double size = std::max(std::abs(least), std::abs(greatest));
  if (!(greatest - least > 1e-9 * size)) {  // opened, so that a single value stands in the middle
    const double open = size > 0.0 ? 0.05 * size : 0.5;
    least -= open;
    greatest += open;
  }
  const double room = 0.04 * (greatest - least);
  PaperAxis axis{least - room, greatest + room, start, end, {}};
  if (from_zero && least >= 0.0) axis = {0.0, greatest * 1.04, start, end, {}};
  axis.ticks = round_ticks(axis.low, axis.high, std::min(3, most_ticks), most_ticks);
  return axis;
}

std::string tick_text(const Ticks& ticks, double value) {
  if (ticks.values.empty()) return shown_number(value);
  const double greatest = std::max(std::abs(ticks.values.front()), std::abs(ticks.values.back()));
  if (!needs_power(greatest, ticks.step)) return fixed_number(value, ticks.decimals);
  if (std::abs(value) < 0.5 * ticks.step) return "0";
  const double digits =
      std::floor(std::log10(std::abs(value)) + 1e-9) - std::floor(std::log10(ticks.step) + 1e-9);
  return with_power(value, 1 + static_cast<int>(std::max(0.0, digits)));
}

std::string shown_number(double value) {
  if (!std::isfinite(value)) return "none";
  if (value == 0.0) return "0";
  const double size = std::abs(value);
  if (size >= 1e6 || size < 1e-4) return with_power(value, 4);
  const int magnitude = static_cast<int>(std::floor(std::log10(size)));
  return short_number(value, std::clamp(3 - magnitude, 0, 7));
}

std::string joined_texts(const std::vector<std::string>& texts) {
  const bool has_comma = std::any_of(texts.begin(), texts.end(), [](const std::string& text) {
    return text.find(',') != std::string::npos;
  });
  return fmt::format("{}", fmt::join(texts, has_comma ? "; " : ", "));
}

std::string grouped(std::size_t n) {
  const std::string digits = fmt::format("{}", n);
  std::string text;
  for (std::size_t i = 0; i < digits.size(); ++i) {
    if (i > 0 && (digits.size() - i) % 3 == 0) text += ',';
    text += digits[i];
  }
  return text;
}

void draw_axis_below(Figure& figure, const PaperAxis& axis, double from, double to, std::string_view name) {
  constexpr double between = 1.6;
  std::vector<TickLabel> labels;
  labels.reserve(axis.ticks.values.size());
  for (const double value : axis.ticks.values) {
    draw_line(figure, "grid", {axis.at(value), from}, {axis.at(value), to});
    const std::string text = tick_text(axis.ticks, value);
    const double width = figure_text_width(text);
    const double left = std::clamp(axis.at(value) - 0.5 * width, 0.0, std::max(0.0, figure.width - width));
    labels.push_back({text, left, left + width});
  }
  std::size_t every = 1;
  const auto touch = [&] {
    for (std::size_t i = every; i < labels.size(); i += every)
      if (labels[i].left < labels[i - every].right + between) return true;
    return false;
  };
  while (every < labels.size() && touch()) ++every;
  for (std::size_t i = 0; i < labels.size(); i += every)
    write(figure, {0.5 * (labels[i].left + labels[i].right), to + 3.9}, Anchor::middle, labels[i].text,
          "tick");
  draw_line(figure, "axis", {axis.start, to}, {axis.end, to});
  const double half = 0.5 * std::min(figure.width, figure_text_width(name));
  const double middle = std::clamp(0.5 * (axis.start + axis.end), half, std::max(half, figure.width - half));
  write_name(figure, {middle, to + 7.9}, Anchor::middle, name, figure.width);
}

double axis_left_width(const PaperAxis& axis) {
  double width = 0.0;
  for (const double value : axis.ticks.values)
    width = std::max(width, figure_text_width(tick_text(axis.ticks, value)));
  return width + 1.2;
}

void draw_axis_left(Figure& figure, const PaperAxis& axis, double from, double to) {
  for (const double value : axis.ticks.values) {
    draw_line(figure, "grid", {from, axis.at(value)}, {to, axis.at(value)});
    write(figure, {from - 1.2, axis.at(value) + 0.36 * figure_lettering}, Anchor::end,
          tick_text(axis.ticks, value), "tick");
  }
}

}  // namespace coldbay
