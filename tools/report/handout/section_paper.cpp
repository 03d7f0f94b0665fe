#include "tools/report/handout/section_paper.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

#include "tools/report/handout/as_drawn.hpp"
#include "tools/report/handout/dimension_lines.hpp"

namespace coldbay {
namespace {

constexpr double margin = 0.6;  ///< of the paper [mm]

/// The measures by the side of the section that they stand at.
struct Around {
  std::vector<PaperMeasure> below, left, right;
};

Around around(const SectionView& view, const SectionLayout& layout) {
  constexpr double off = 0.7;  // from a line to the beginning of one that leads out [mm]
  const PaperBox& box = layout.box;
  Around all;
  for (const Measure& measure : view.measures) {
    const PaperPoint p = layout.paper(measure.in_depth ? Point{measure.beside.from, measure.span.from}
                                                       : Point{measure.span.from, measure.beside.from});
    const PaperPoint q = layout.paper(measure.in_depth ? Point{measure.beside.to, measure.span.to}
                                                       : Point{measure.span.to, measure.beside.to});
    if (measure.in_depth == layout.upright) {
      all.below.push_back({{std::min(p.x, q.x), std::max(p.x, q.x)}, box.bottom + off, measure.text});
      continue;
    }
    const Span span{std::min(p.y, q.y), std::max(p.y, q.y)};
    const double near = std::max(std::min(p.x, q.x), box.left), far = std::min(std::max(p.x, q.x), box.right);
    // The depth of something in a plan is written on the side that it is closer to; else on the right.
    if (!layout.upright && near - box.left + 1.0 < box.right - far) {
      all.left.push_back({span, near - off, measure.text});
    } else {
      all.right.push_back({span, (layout.upright ? box.right : far) + off, measure.text});
    }
  }
  return all;
}

void add(SectionPaper& paper, Dimensions dimensions) {
  paper.dimension_path += dimensions.path;
  for (Lettering& text : dimensions.texts) paper.texts.push_back(std::move(text));
}

std::vector<LabelWish> wishes(const SectionView& view, const std::vector<Shown>& shown) {
  std::vector<LabelWish> all;
  all.reserve(shown.size());
  for (const Shown& s : shown)
    all.push_back({view.material ? view.material(s.material) : s.material, s.places});
  return all;
}

Lettering word_of(const std::string& word, double widest) {
  const std::string text = fitted(word, widest);
  return {{}, Anchor::start, text, text == word ? std::string{} : word};
}

/// A word below the section: in the row of the first dimensions where they leave it room, else below them
/// all.
Lettering word_below(const std::string& word, const Dimensions& below, double y, PaperBox across) {
  constexpr std::array<double, 3> shares{0.0, 1.0, 0.5};
  constexpr double between = 2.0;
  Lettering text = word_of(word, 0.3 * (across.right - across.left));
  const double width = lettering_width(text.text), room = across.right - across.left - width;
  for (const double share : shares) {
    const double x = across.left + share * room;
    const bool free = std::none_of(below.first_row.begin(), below.first_row.end(), [&](Span taken) {
      return x < taken.to + between && x + width > taken.from - between;
    });
    if (!free) continue;
    text.at = {x, y + 3.8};
    return text;
  }
  text.at = {across.left, y + below.reach + lettering_mm + 0.5};
  return text;
}

/// A plan: names above, where the outside is; dimensions below and at the sides.
void lay_out_plan(const SectionView& view, const SpaceRound& least, SectionPaper& paper) {
  constexpr double highest = 34.0, above = 2.6,
                   broken = 1.0;  // the section itself; to the lowest baseline; a zigzag [mm]
  SectionLayout& layout = paper.layout;
  const double depth = paper.drawn.depth;
  SpaceRound& taken = paper.taken;
  taken = {std::max(least.left, broken), std::max(least.right, broken), least.above, least.below};
  // What stands beside the section takes of its width, and whether a text fits along its line depends on
  // that: settled after one round, or else the wider of two ways is kept.
  for (int round = 0; round < 3; ++round) {
    const double width = view.width_mm - taken.left - taken.right - 2.0 * margin;
    layout.scale = std::min(width / view.shown.length(), highest / depth);
    const double wide = layout.scale * view.shown.length(), left = margin + taken.left + 0.5 * (width - wide);
    layout.box = {left, 0.0, left + wide, layout.scale * depth};
    const Around measures = around(view, layout);
    taken.left = std::max(taken.left, broken + dimensions_beside(measures.left, 0.0, true).reach);
    taken.right = std::max(taken.right, broken + dimensions_beside(measures.right, 0.0, false).reach);
  }
  const PaperBox across{margin, 0.0, view.width_mm - margin, 0.0};
  const std::vector<Shown> shown = shown_materials(layout, paper.drawn);
  RowsOfLabels rows = labels_above(wishes(view, shown), {view.outside}, across, -above);
  taken.above = std::max(taken.above, rows.height + above);
  const double down = margin + taken.above;
  layout.box.top += down, layout.box.bottom += down;
  for (PlacedLabel& label : rows.labels) label.text.at.y += down, label.dot.y += down, label.bend.y += down;
  for (Lettering& text : rows.unled) text.at.y += down;
  paper.labels = std::move(rows.labels);
  paper.texts = std::move(rows.unled);
  const Around measures = around(view, layout);
  Dimensions below = dimensions_below(measures.below, layout.box.bottom, {across.left, across.right});
  Lettering room = word_below(view.room, below, layout.box.bottom, across);
  paper.width = view.width_mm;
  taken.below = std::max({taken.below, below.reach, box_of(room).bottom - layout.box.bottom});
  paper.height = layout.box.bottom + taken.below + margin;
  paper.texts.push_back(std::move(room));
  add(paper, std::move(below));
  add(paper, dimensions_beside(measures.left, layout.box.left - broken, true));
  add(paper, dimensions_beside(measures.right, layout.box.right + broken, false));
}

/// A vertical cut: names on the left, where the outside is; dimensions on the right and below.
void lay_out_upright(const SectionView& view, const SpaceRound& least, SectionPaper& paper) {
  constexpr double height = 46.0, widest = 30.0, leaders = 4.0;  // [mm]
  constexpr double above = 1.6;  // a break line's ends, and half a letter [mm]
  SectionLayout& layout = paper.layout;
  layout.scale = std::min(height / view.shown.length(), widest / paper.drawn.depth);
  const double wide = layout.scale * paper.drawn.depth, high = layout.scale * view.shown.length();
  layout.box = {0.0, margin + above, wide, margin + above + high};
  const std::vector<Shown> shown = shown_materials(layout, paper.drawn);
  const std::vector<LabelWish> names = wishes(view, shown);
  Around measures = around(view, layout);
  const Lettering outside = word_of(view.outside, 0.3 * view.width_mm),
                  room = word_of(view.room, 0.3 * view.width_mm);
  const double right = std::max(
      {least.right, dimensions_beside(measures.right, 0.0, false).reach, lettering_width(room.text) + 1.5});
  const double most = view.width_mm - wide - right - leaders - 2.0 * margin - 1.0;
  double left = std::max(least.left - leaders, lettering_width(outside.text));
  for (const LabelWish& name : names) left = std::max(left, std::min(lettering_width(name.name) + 1.0, most));
  const double over = margin + left + leaders;
  layout.box.left += over, layout.box.right += over;
  std::vector<LabelWish> moved = names;
  for (LabelWish& name : moved)
    for (DotPlace& place : name.places) place.at.x += over;
  double lowest = layout.box.bottom;
  paper.labels = labels_beside(moved, margin + left, left - 1.0, margin, lowest);
  measures = around(view, layout);
  Dimensions below =
      dimensions_below(measures.below, layout.box.bottom, {layout.box.left - 1.0, layout.box.right + right});
  double baseline = std::max(layout.box.bottom + 3.4, lowest + lettering_mm);
  if (!below.first_row.empty()) baseline = std::max(baseline, layout.box.bottom + below.reach + 3.0);
  paper.texts.push_back(outside);
  paper.texts.back().anchor = Anchor::end;
  paper.texts.back().at = {layout.box.left + 0.4 * wide, baseline};
  paper.texts.push_back(room);
  paper.texts.back().at = {layout.box.left + 0.7 * wide, baseline};
  paper.width = layout.box.right + right + margin;
  paper.taken = {left + leaders, right, 0.0,
                 std::max({least.below, baseline + 0.3 * lettering_mm - layout.box.bottom, below.reach})};
  paper.height = layout.box.bottom + paper.taken.below + margin;
  add(paper, std::move(below));
  add(paper, dimensions_beside(measures.right, layout.box.right, false));
}

}  // namespace

SectionPaper section_paper(const SectionView& view, const SpaceRound& least) {
  constexpr double beyond = 0.03;  // more than a zigzag takes at any scale in use [m]
  SectionPaper paper;
  paper.drawn = drawn_on(as_drawn(*view.section), beyond);
  paper.layout.upright = view.section->cut == CutKind::vertical;
  paper.layout.shown = view.shown;
  paper.layout.depth = paper.drawn.depth;
  if (paper.layout.upright) {
    lay_out_upright(view, least, paper);
  } else {
    lay_out_plan(view, least, paper);
  }
  return paper;
}

}  // namespace coldbay
