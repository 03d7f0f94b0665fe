#include "tools/report/section_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "tools/report/colour_scale.hpp"
#include "tools/report/labels.hpp"
#include "tools/report/text.hpp"

namespace coldbay {
namespace {

constexpr double usual_width = 1500.0;
constexpr double greatest_width = 1900.0;
constexpr double greatest_height = 800.0;
constexpr double flat = 150.0;  // below this height a section may grow wider than usual
constexpr double gap = 44.0;    // between section and panel
constexpr double least_panel_width = 460.0;
constexpr double least_width = 900.0;  // of section and panel together, for the sake of the title
constexpr double least_words = 300.0;  // for the lines above and below a narrow section

/// What a section and its own words take from left to right.
double block_width(const SheetPlan& plan) {
  return plan.panel_beside ? std::max<double>(plan.plot_width, least_words) : plan.plot_width;
}

double scale_bar_pixels(const SheetPlan& plan, const PictureStyle& style) {
  const double wanted = std::clamp(0.2 * plan.plot_width, 60.0, 260.0);
  return round_length(wanted / plan.pixels_per_metre, style.length) * plan.pixels_per_metre;
}

std::string scale_bar_label(const SheetPlan& plan, const PictureStyle& style) {
  const double metres = scale_bar_pixels(plan, style) / plan.pixels_per_metre;
  // Round lengths may be fractions: all their digits are wanted, and no others.
  return short_number(in_length_unit(metres, style.length), 6) + " " + std::string(symbol(style.length));
}

constexpr double bar_to_label = 10.0;

double scale_bar_width(const SheetPlan& plan, const PictureStyle& style) {
  return scale_bar_pixels(plan, style) + bar_to_label +
         text_width(scale_bar_label(plan, style), text_size::body);
}

void draw_scale_bar(Picture& picture, const SheetPlan& plan, const PictureStyle& style, Spot left_end) {
  const double left = std::round(left_end.x);
  const double right = left + scale_bar_pixels(plan, style);
  const double y = std::round(left_end.y - 0.35 * text_size::body);
  fill(picture, {left, y - 1.0, right, y + 1.0}, ink::text);
  for (const double x : {left, right - 2.0}) fill(picture, {x, y - 6.0, x + 2.0, y + 6.0}, ink::text);
  draw_text(picture, {right + bar_to_label, left_end.y}, Align::left, scale_bar_label(plan, style),
            text_size::body);
}

}  // namespace

SheetPlan plan_sheet(const Section& section) {
  SheetPlan plan;
  double width = usual_width;
  if (section.depth / section.width * usual_width < flat)
    width = std::clamp(flat * section.width / section.depth, usual_width, greatest_width);
  plan.pixels_per_metre = std::min(width / section.width, greatest_height / section.depth);
  plan.plot_width = std::max(2, static_cast<int>(std::lround(section.width * plan.pixels_per_metre)));
  plan.plot_height = std::max(2, static_cast<int>(std::lround(section.depth * plan.pixels_per_metre)));
  plan.panel_beside = plan.plot_width + gap + least_panel_width <= usual_width;
  plan.panel_width = plan.panel_beside ? std::max(least_panel_width, least_width - gap - block_width(plan))
                                       : static_cast<double>(plan.plot_width);
  return plan;
}

double heading_height(const PictureStyle& style) {
  return (style.title.empty() ? 0.0 : line_height(text_size::title)) +
         (style.cut.empty() ? 0.0 : line_height(text_size::body) + 4.0);
}

double draw_heading(Picture& picture, double left, double right, const PictureStyle& style) {
  double y = sheet_margin;
  if (!style.title.empty()) {
    y += line_height(text_size::title);
    draw_text(picture, {left, y - 8.0}, Align::left, shortened(style.title, text_size::title, right - left),
              text_size::title);
  }
  if (!style.cut.empty()) {
    y += line_height(text_size::body) + 4.0;
    draw_text(picture, {left, y - 6.0}, Align::left, shortened(style.cut, text_size::body, right - left),
              text_size::body, ink::quiet_text);
  }
  return y;
}

void draw_ends(Picture& picture, const Box& box, double y, const EndWords& ends, double size) {
  const double left_end = box.left + text_width(ends.left, size);
  const double right_start =
      std::round(std::max(box.right - text_width(ends.right, size), left_end + bar_to_label));
  draw_text(picture, {box.left, y}, Align::left, ends.left, size);
  draw_text(picture, {right_start, y}, Align::left, ends.right, size);
  const double along = text_width(ends.along, size);
  const double start = std::round(0.5 * (box.left + box.right - along));
  if (start > left_end + bar_to_label && start + along < right_start - bar_to_label)
    draw_text(picture, {start, y}, Align::left, ends.along, size, ink::quiet_text);
}

Sheet draw_sheet(const SheetPlan& plan, const SheetWords& words, double panel_height,
                 const PictureStyle& style) {
  const double row = line_height(text_size::body) + 3.0;
  const double left = sheet_margin;
  const double block = block_width(plan);
  const double content = plan.panel_beside ? block + gap + plan.panel_width : block;
  const double plot_top = std::round(sheet_margin + heading_height(style) + row + 14.0);

  // The scale bar ends the first line below the section where both fit, and has its own otherwise.
  const double first = words.below.empty() ? 0.0 : text_width(words.below.front(), text_size::body);
  const bool shares_row = first + 3.0 * bar_to_label + scale_bar_width(plan, style) <= block;
  const double n_rows =
      static_cast<double>(words.below.size()) + (shares_row ? 0.0 : 1.0) + (words.ends.any() ? 1.0 : 0.0);
  const double plot_bottom = plot_top + plan.plot_height;
  const double words_bottom = plot_bottom + 12.0 + n_rows * row;

  const double panel_left = plan.panel_beside ? left + block + gap : left;
  const double panel_top = plan.panel_beside ? plot_top : words_bottom + 22.0;
  const double bottom = std::max(words_bottom, panel_top + panel_height) + sheet_margin - 12.0;

  Sheet sheet{blank_picture(static_cast<int>(std::ceil(content + 2.0 * sheet_margin)),
                            static_cast<int>(std::ceil(bottom))),
              {left, plot_top, left + plan.plot_width, plot_bottom},
              {panel_left, panel_top, panel_left + plan.panel_width, panel_top + panel_height}};
  draw_heading(sheet.picture, left, left + content, style);

  // Beside a narrow section a line may run on under the panel only where the panel has ended.
  const bool under_panel = plan.panel_beside && panel_top + panel_height > plot_bottom;
  const double line_room = under_panel ? block : content;
  draw_text(sheet.picture, {left, plot_top - 10.0}, Align::left,
            shortened(words.above, text_size::body, content), text_size::body);
  double baseline = plot_bottom + 8.0 + row;
  if (words.ends.any()) {
    draw_ends(sheet.picture, sheet.plot, baseline, words.ends, text_size::body);
    baseline += row;
  }
  for (std::size_t i = 0; i < words.below.size(); ++i) {
    const double space =
        i == 0 && shares_row ? block - scale_bar_width(plan, style) - 2.0 * bar_to_label : line_room;
    draw_text(sheet.picture, {left, baseline}, Align::left, shortened(words.below[i], text_size::body, space),
              text_size::body);
    if (i == 0 && shares_row)
      draw_scale_bar(sheet.picture, plan, style, {left + block - scale_bar_width(plan, style), baseline});
    baseline += row;
  }
  if (!shares_row) draw_scale_bar(sheet.picture, plan, style, {left, baseline});
  return sheet;
}

}  // namespace coldbay
