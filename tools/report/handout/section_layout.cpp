#include "tools/report/handout/section_layout.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "tools/report/handout/as_drawn.hpp"
#include "tools/report/handout/borders.hpp"

namespace coldbay {
namespace {

/// A break line from one face of the wall to the other, as offsets: along it from 0 to 1 between the faces,
/// and across it in mm. It goes on beyond the faces for a bit.
struct BreakPoint {
  double share, beyond_mm, aside_mm;
};
constexpr std::array<BreakPoint, 6> break_line{{{0.0, -1.0, 0.0},
                                                {0.42, 0.0, 0.0},
                                                {0.47, 0.0, -0.9},
                                                {0.53, 0.0, 0.9},
                                                {0.58, 0.0, 0.0},
                                                {1.0, 1.0, 0.0}}};

/// One of its points, at the end of what is shown; depth counts from the outside.
PaperPoint on_break(const SectionLayout& layout, const BreakPoint& point, bool at_to, bool beyond) {
  const PaperBox& box = layout.box;
  const double past = beyond ? point.beyond_mm : 0.0;
  if (layout.upright)
    return {box.left + point.share * (box.right - box.left) + past,
            (at_to ? box.top : box.bottom) + point.aside_mm};
  return {(at_to ? box.right : box.left) + point.aside_mm,
          box.top + point.share * (box.bottom - box.top) + past};
}

std::string step(std::string_view letter, PaperPoint at) {
  return fmt::format("{}{} {}", letter, mm(at.x), mm(at.y));
}

double distance(PaperPoint p, PaperPoint a, PaperPoint b) {
  const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
  const double share =
      square > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
  return std::hypot(p.x - a.x - share * dx, p.y - a.y - share * dy);
}

/// Middles of the stretches between places, long ones parted.
std::vector<double> middles(std::vector<double> places, double longest) {
  std::sort(places.begin(), places.end());
  std::vector<double> all;
  for (std::size_t i = 1; i < places.size(); ++i) {
    const double length = places[i] - places[i - 1];
    if (length < touching) continue;
    const double n = std::ceil(length / longest);
    for (double k = 0.5; k < n; k += 1.0) all.push_back(places[i - 1] + length * k / n);
  }
  return all;
}

/// True where a section goes on beyond its end as it is there: a plan that ends within a post. One that ends
/// in the middle of a sheet does not, nor does a vertical cut.
bool goes_on(const Section& section, double end, double inward) {
  constexpr double into = 5e-3;  // [m]
  if (section.cut == CutKind::vertical) return false;
  const double middle = 0.5 * section.depth;
  const auto here = material_at(section, {end, middle});
  return here && here == material_at(section, {end + inward * into, middle});
}

}  // namespace

Section drawn_on(const Section& section, double by) {
  Section longer = section;
  if (section.cut == CutKind::vertical) return longer;
  for (Shape& shape : longer.shapes)
    if (auto* r = std::get_if<Rectangle>(&shape.outline)) {
      if (r->across.from < touching) r->across.from -= by;
      if (r->across.to > section.width - touching) r->across.to += by;
    }
  return longer;
}

bool breaks_below(const Section& section, Span shown) {
  return shown.from > touching || goes_on(section, 0.0, 1.0);
}

bool breaks_above(const Section& section, Span shown) {
  return shown.to < section.width - touching || goes_on(section, section.width, -1.0);
}

std::string outline_path(const SectionLayout& layout, const Section& section) {
  // Half of the thickest line shows beyond the faces.
  constexpr double line = 0.5;
  std::string path;
  const auto end = [&](bool at_to, bool broken) {
    for (std::size_t i = 0; i < break_line.size(); ++i) {
      BreakPoint point = break_line[at_to ? i : break_line.size() - 1 - i];
      point.beyond_mm = point.beyond_mm < 0.0 ? -line : point.beyond_mm > 0.0 ? line : 0.0;
      if (!broken) point.aside_mm = at_to == layout.upright ? -line : line;
      path += step(path.empty() ? "M" : "L", on_break(layout, point, at_to, true));
    }
  };
  end(true, breaks_above(section, layout.shown));
  end(false, breaks_below(section, layout.shown));
  return path + "z";
}

std::string break_lines(const SectionLayout& layout, const Section& section) {
  std::string path;
  const auto end = [&](bool at_to) {
    for (std::size_t i = 0; i < break_line.size(); ++i)
      path += step(i == 0 ? "M" : "L", on_break(layout, break_line[i], at_to, true));
  };
  if (breaks_above(section, layout.shown)) end(true);
  if (breaks_below(section, layout.shown)) end(false);
  return path;
}

std::vector<Shown> shown_materials(const SectionLayout& layout, const Section& drawn) {
  constexpr double along_mm = 2.5, depth_mm = 1.0, from_end = 1.2;
  const Span shown{layout.shown.from + from_end / layout.scale, layout.shown.to - from_end / layout.scale};
  std::vector<double> along{shown.from, shown.to}, depth{0.0, layout.depth};
  for (const Shape& shape : drawn.shapes) {
    const Rectangle box = bounding_box(shape.outline);
    for (const double at : {box.across.from, box.across.to})
      if (at > shown.from && at < shown.to) along.push_back(at);
    for (const double at : {box.depth.from, box.depth.to}) depth.push_back(at);
  }
  const std::vector<Border> lines = borders(drawn, layout.shown);
  std::vector<Shown> all;
  for (const double a : middles(along, along_mm / layout.scale))
    for (const double d : middles(depth, depth_mm / layout.scale)) {
      const auto material = material_at(drawn, {a, d});
      if (!material) continue;
      const std::string& name = drawn.materials[*material].name;
      auto found = std::find_if(all.begin(), all.end(), [&](const Shown& s) { return s.material == name; });
      if (found == all.end()) found = all.insert(found, {name, {}});
      DotPlace place{layout.paper({a, d}), 100.0};
      for (const Border& line : lines)
        place.clear =
            std::min(place.clear, distance(place.at, layout.paper(line.from), layout.paper(line.to)));
      found->places.push_back(place);
    }
  return all;
}

}  // namespace coldbay
