#include "tools/report/handout/section_svg.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string_view>
#include <utility>

#include "tools/report/handout/as_drawn.hpp"
#include "tools/report/handout/borders.hpp"
#include "tools/report/handout/label_places.hpp"
#include "tools/report/handout/markup.hpp"
#include "tools/report/handout/section_layout.hpp"
#include "tools/report/handout/section_paper.hpp"

namespace coldbay {
namespace {

/// Widths of lines [mm]: the wall's faces, what is cut, thin lines. ISO 128's series of widths, from memory.
constexpr std::string_view face_line = ".5", cut_line = ".35", thin_line = ".18";

/// Corners as a path, always the same way round: overlapping parts of one path then add up.
std::string path_of(std::vector<PaperPoint> corners) {
  double twice = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const PaperPoint a = corners[i], b = corners[(i + 1) % corners.size()];
    twice += a.x * b.y - b.x * a.y;
  }
  if (twice < 0.0) std::reverse(corners.begin(), corners.end());
  std::string path;
  for (const PaperPoint& corner : corners)
    path += fmt::format("{}{} {}", path.empty() ? "M" : "L", mm(corner.x), mm(corner.y));
  return path + "z";
}

/// What is painted, in order; shapes of one material that follow each other are one path.
struct Painted {
  std::size_t row = 0;  ///< of the hatch table
  std::string path;
  PaperBox box{HUGE_VAL, HUGE_VAL, -HUGE_VAL, -HUGE_VAL};  ///< of as much as can show
};

std::vector<Painted> painted(const SectionView& view, const Section& drawn, const SectionLayout& layout) {
  constexpr double zigzag = 1.0;  // what shows beyond the layout's box [mm]
  const PaperBox all_shown{layout.box.left - zigzag, layout.box.top - zigzag, layout.box.right + zigzag,
                           layout.box.bottom + zigzag};
  std::vector<Painted> all;
  for (const Shape& shape : drawn.shapes) {
    std::vector<PaperPoint> corners;
    PaperBox box{HUGE_VAL, HUGE_VAL, -HUGE_VAL, -HUGE_VAL};
    for (const Point& corner : corners_of(shape.outline)) {
      const PaperPoint p = layout.paper(corner);
      corners.push_back(p);
      box = {std::min(box.left, p.x), std::min(box.top, p.y), std::max(box.right, p.x),
             std::max(box.bottom, p.y)};
    }
    if (!overlap(box, all_shown)) continue;
    const std::size_t row = row_of(*view.hatches, drawn.materials[shape.material].name);
    if (all.empty() || all.back().row != row) all.push_back({row, {}});
    Painted& one = all.back();
    one.path += path_of(std::move(corners));
    one.box = {std::max(all_shown.left, std::min(one.box.left, box.left)),
               std::max(all_shown.top, std::min(one.box.top, box.top)),
               std::min(all_shown.right, std::max(one.box.right, box.right)),
               std::min(all_shown.bottom, std::max(one.box.bottom, box.bottom))};
  }
  return all;
}

/// Every shape is opaque: its tint first, a hair wider so that nothing from below shows in a seam, then its
/// hatch.
std::string fills(const SectionView& view, const std::vector<Painted>& all) {
  std::string svg;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Painted& one = all[i];
    const Hatch hatch =
        one.row < view.hatches->size() ? (*view.hatches)[one.row].hatch : Hatch{HatchKind::air, 0};
    svg += fmt::format("<path class=\"m{0}\" d=\"{1}\" fill=\"{2}\" stroke=\"{2}\" stroke-width=\".1\"/>",
                       one.row, one.path, tint(hatch));
    const std::string lines = hatch_lines(hatch, one.box);
    if (!lines.empty())
      svg +=
          fmt::format("<clipPath id=\"{0}\"><path d=\"{1}\"/></clipPath><g clip-path=\"url(#{0})\">{2}</g>",
                      fmt::format("{}-c{}", escaped(view.id), i), one.path, lines);
  }
  return svg;
}

std::string stroked(std::string_view path, std::string_view width) {
  if (path.empty()) return {};
  return fmt::format(
      "<path d=\"{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{}\" stroke-linecap=\"round\"/>", path,
      width);
}

std::string border_lines(const Section& drawn, const SectionLayout& layout) {
  const double beyond = 2.0 / layout.scale;
  std::array<std::string, 3> paths;
  for (const Border& border : borders(drawn, {layout.shown.from - beyond, layout.shown.to + beyond})) {
    const PaperPoint from = layout.paper(border.from), to = layout.paper(border.to);
    paths[static_cast<std::size_t>(border.kind)] +=
        fmt::format("M{} {}L{} {}", mm(from.x), mm(from.y), mm(to.x), mm(to.y));
  }
  return stroked(paths[2], thin_line) + stroked(paths[1], cut_line) + stroked(paths[0], face_line);
}

/// Lines to the names, with a dot at their end: on white, so that they are told from the hatch.
std::string leaders(const std::vector<PlacedLabel>& labels, bool upright) {
  std::string lines, dots;
  for (const PlacedLabel& label : labels) {
    lines +=
        fmt::format("M{} {}L{} {}", mm(label.dot.x), mm(label.dot.y), mm(label.bend.x), mm(label.bend.y));
    // From there up to the middle of a text that stands in a row.
    if (!upright) lines += fmt::format("V{}", mm(label.text.at.y - 0.36 * lettering_mm));
    dots += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>", mm(label.dot.x), mm(label.dot.y),
                        mm(label.dot_radius));
  }
  return fmt::format(
             "<path d=\"{}\" fill=\"none\" stroke=\"#fff\" stroke-width=\".5\" stroke-opacity=\".8\"/>",
             lines) +
         stroked(lines, thin_line) + dots;
}

SvgDrawing svg_of(const SectionView& view, const SectionPaper& paper) {
  const SectionLayout& layout = paper.layout;
  const Section& drawn = paper.drawn;
  const std::vector<Painted> all = painted(view, drawn, layout);
  const std::string clip = escaped(view.id) + "-c";
  SvgDrawing drawing{svg_opening(view.id, paper.width, paper.height, view.title, view.description),
                     paper.width, paper.height};
  std::string& svg = drawing.svg;
  svg += fmt::format("<clipPath id=\"{}\"><path d=\"{}\"/></clipPath>", clip, outline_path(layout, drawn));
  svg +=
      fmt::format("<g clip-path=\"url(#{})\">{}{}</g>", clip, fills(view, all), border_lines(drawn, layout));
  svg += stroked(break_lines(layout, drawn), thin_line) + stroked(paper.dimension_path, thin_line) +
         leaders(paper.labels, layout.upright);
  for (const PlacedLabel& label : paper.labels) svg += text_element(label.text);
  for (const Lettering& text : paper.texts) svg += text_element(text);
  svg += "</svg>";
  return drawing;
}

}  // namespace

SvgDrawing section_svg(const SectionView& view) { return svg_of(view, section_paper(view)); }

SectionPair section_pair(const SectionView& wrong, const SectionView& right) {
  SectionPaper one = section_paper(wrong), other = section_paper(right);
  // The first round settles the scale; how many rows the names take follows from it.
  for (int round = 0; round < 2; ++round) {
    SpaceRound both{std::max(one.taken.left, other.taken.left), std::max(one.taken.right, other.taken.right)};
    if (round > 0) {
      both.above = std::max(one.taken.above, other.taken.above);
      both.below = std::max(one.taken.below, other.taken.below);
    }
    one = section_paper(wrong, both);
    other = section_paper(right, both);
  }
  return {svg_of(wrong, one), svg_of(right, other)};
}

}  // namespace coldbay
