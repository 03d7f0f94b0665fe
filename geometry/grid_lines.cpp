#include "geometry/grid_lines.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "geometry/graded_axis.hpp"
#include "materials/model_error.hpp"

namespace coldbay {
namespace {

double perimeter(const Outline& outline) {
  if (const auto* c = std::get_if<Circle>(&outline)) return 2.0 * std::numbers::pi * c->radius;
  const auto& p = std::get<Polygon>(outline).corners;
  double sum = 0.0;
  for (std::size_t i = 0, j = p.size() - 1; i < p.size(); j = i++)
    sum += std::hypot(p[i].across - p[j].across, p[i].depth - p[j].depth);
  return sum;
}

/// A polygon all of whose edges are parallel to an axis is drawn exactly by lines alone.
bool has_slant(const Polygon& polygon) {
  const auto& p = polygon.corners;
  for (std::size_t i = 0, j = p.size() - 1; i < p.size(); j = i++)
    if (p[i].across != p[j].across && p[i].depth != p[j].depth) return true;
  return false;
}

void add_shape(const Outline& outline, double near_slants, double factor, LineWishes& across,
               LineWishes& depth) {
  const Rectangle box = bounding_box(outline);
  bool slanted = false;
  if (const auto* polygon = std::get_if<Polygon>(&outline)) {
    slanted = has_slant(*polygon);
    for (const Point& corner : polygon->corners) {
      across.lines.push_back(corner.across);
      depth.lines.push_back(corner.depth);
    }
  } else {
    across.lines.insert(across.lines.end(), {box.across.from, box.across.to});
    depth.lines.insert(depth.lines.end(), {box.depth.from, box.depth.to});
    if (const auto* circle = std::get_if<Circle>(&outline)) {
      slanted = true;
      across.lines.push_back(circle->centre.across);
      depth.lines.push_back(circle->centre.depth);
    }
  }
  if (slanted) {
    const double size = std::min(near_slants, factor * 2.0 * area(outline) / perimeter(outline) / 4.0);
    across.caps.push_back({box.across, size});
    depth.caps.push_back({box.depth, size});
  }
}

struct Both {
  LineWishes across, depth;
};
Both wishes_of(const Section& section, double factor) {
  const double near_slants = factor * std::min(section.width, section.depth) / 64.0;
  Both both;
  for (const Shape& shape : section.shapes)
    add_shape(shape.outline, near_slants, factor, both.across, both.depth);
  for (const FacePart& part : section.parts)
    both.across.lines.insert(both.across.lines.end(), {part.across.from, part.across.to});
  return both;
}

/// How many cells `graded_axis` would make, at least; counted before any memory is taken.
double least_cells(const LineWishes& wishes, double length) {
  double cells = 1.0;
  for (const Cap& c : wishes.caps)
    cells = std::max(cells, (std::min(c.on.to, length) - std::max(c.on.from, 0.0)) / c.size);
  return cells;
}

}  // namespace

GridLines grid_lines(const Section& section, double factor, Index max_cells) {
  const double s = std::min(section.width, section.depth);
  const CellSizes sizes{factor * s / 128.0, factor * s / 16.0};
  const auto [across, depth] = wishes_of(section, factor);

  const auto refuse = [&](double cells) {
    throw ModelError(
        "",
        fmt::format("this section takes at least {:.3g} cells, more than the {:.3g} that are allowed", cells,
                    static_cast<double>(max_cells)),
        "look for a very thin slanted or curved shape, or a very small one in a large section");
  };
  const double allowed = static_cast<double>(max_cells);
  const double longest = std::max(section.width, section.depth) / sizes.largest;
  const double at_least =
      std::max({least_cells(across, section.width), least_cells(depth, section.depth), longest});
  if (!(at_least <= allowed)) refuse(at_least);

  GridLines lines{graded_axis(across, {0.0, section.width}, sizes, max_cells),
                  graded_axis(depth, {0.0, section.depth}, sizes, max_cells)};
  const double cells = static_cast<double>(lines.across.cells()) * static_cast<double>(lines.depth.cells());
  if (!(cells <= allowed)) refuse(cells);
  return lines;
}

Merged merged_edges(const Section& section) {
  const auto merged = [](std::vector<double> lines) {
    constexpr double rounding = 1e-12;  // [m], of sums and differences of lengths
    std::vector<double> out;
    std::sort(lines.begin(), lines.end());
    for (std::size_t i = 1; i < lines.size(); ++i)
      if (lines[i] - lines[i - 1] > rounding && lines[i] - lines[i - 1] <= merge_distance &&
          (out.empty() || lines[i - 1] - out.back() > merge_distance))
        out.push_back(lines[i - 1]);
    return out;
  };
  const auto [across, depth] = wishes_of(section, 1.0);
  return {merged(across.lines), merged(depth.lines)};
}

}  // namespace coldbay
