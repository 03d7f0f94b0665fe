#include "geometry/section_checks.hpp"

#include <fmt/core.h>

#include <cmath>

#include "geometry/grid_lines.hpp"

namespace coldbay {
namespace {

using Problems = std::vector<Problem>;

void check_size(double size, const std::string& path, const std::string& name, Problems& problems) {
  if (!(size < smallest_size || size > largest_size)) return;
  problems.push_back({path, fmt::format("{} is {:.6g} mm", name, 1e3 * size),
                      fmt::format("a size lies between {} mm and {} m", 1e3 * smallest_size, largest_size)});
}

/// Twice the signed area of the triangle a, b, c: its sign says on which side of ab the point c lies.
double side_of(Point a, Point b, Point c) {
  return (b.across - a.across) * (c.depth - a.depth) - (b.depth - a.depth) * (c.across - a.across);
}

bool cross(Point a, Point b, Point c, Point d) {
  return side_of(a, b, c) * side_of(a, b, d) < 0.0 && side_of(c, d, a) * side_of(c, d, b) < 0.0;
}

bool crosses_itself(const Polygon& polygon) {
  const auto& p = polygon.corners;
  const std::size_t n = p.size();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 1; j < n; ++j)
      if (cross(p[i], p[(i + 1) % n], p[j], p[(j + 1) % n])) return true;
  return false;
}

void check_outline(const Rectangle& r, const std::string& path, Problems& problems) {
  check_size(r.across.length(), path + ".across", "its width across", problems);
  check_size(r.depth.length(), path + ".depth", "its depth", problems);
}

void check_outline(const Circle& c, const std::string& path, Problems& problems) {
  check_size(c.radius, path + ".circle.radius", "its radius", problems);
}

void check_outline(const Polygon& polygon, const std::string& path, Problems& problems) {
  const std::string where = path + ".polygon";
  if (polygon.corners.size() < 3) {
    problems.push_back({where, "a polygon needs at least three corners", "write [[across, depth], ...]"});
    return;
  }
  const Rectangle box = bounding_box(polygon);
  check_size(box.across.length(), where, "its width across", problems);
  check_size(box.depth.length(), where, "its depth", problems);
  if (crosses_itself(polygon))
    problems.push_back(
        {where, "two edges of this polygon cross", "list the corners in order, once round the outline"});
  else if (!(area(polygon) >= smallest_size * smallest_size))
    problems.push_back({where, "this polygon encloses no area", "its corners lie on one line, or nearly"});
}

bool outside(const Section& s, const Rectangle& box) {
  return !(box.across.to > merge_distance && box.across.from < s.width - merge_distance &&
           box.depth.to > merge_distance && box.depth.from < s.depth - merge_distance);
}

}  // namespace

void check_outline(const Outline& outline, const std::string& path, Problems& problems) {
  std::visit([&](const auto& o) { check_outline(o, path, problems); }, outline);
}

std::vector<Problem> check(const Section& section) {
  Problems problems;
  check_size(section.width, "section.width", "the width of the section", problems);
  check_size(section.depth, "section.depth", "the depth of the section", problems);
  const bool sized = problems.empty() && std::isfinite(section.width) && std::isfinite(section.depth);
  const std::string extent =
      fmt::format("the section reaches from 0 to {:.6g} mm across and from 0 to {:.6g} mm in depth",
                  1e3 * section.width, 1e3 * section.depth);
  if (section.shapes.empty())
    problems.push_back({"section.shapes", "the section has no shapes", "paint at least one"});
  for (const Shape& shape : section.shapes) {
    const std::size_t before = problems.size();
    check_outline(shape.outline, shape.path, problems);
    if (sized && problems.size() == before && outside(section, bounding_box(shape.outline)))
      problems.push_back({shape.path, "this shape lies outside the section", extent});
  }
  for (const Probe& probe : section.probes)
    if (sized && !(probe.at.across >= 0.0 && probe.at.across <= section.width * (1.0 + 1e-12) &&
                   probe.at.depth >= 0.0 && probe.at.depth <= section.depth * (1.0 + 1e-12)))
      problems.push_back({probe.path, fmt::format("probe {} lies outside the section", probe.name), extent});
  return problems;
}

}  // namespace coldbay
