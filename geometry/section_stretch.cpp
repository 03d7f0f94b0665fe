#include "geometry/section_stretch.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "materials/alike.hpp"
#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr double same_place = 1e-9;  ///< rounding of sums of metres

/// The part of a polygon beyond a line, to its right or left [Sutherland1974]. Where the polygon is not
/// convex its parts may hang together by edges along the line, which enclose nothing.
std::vector<Point> beyond(const std::vector<Point>& corners, double line, bool right) {
  std::vector<Point> out;
  const auto in = [&](const Point& p) { return right ? p.across >= line : p.across <= line; };
  for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
    const Point &a = corners[j], &b = corners[i];
    if (in(a) != in(b))
      out.push_back({line, a.depth + (line - a.across) / (b.across - a.across) * (b.depth - a.depth)});
    if (in(b)) out.push_back(b);
  }
  return out;
}

/// An outline between two places; nothing where it shows nothing there.
std::optional<Outline> between(const Outline& outline, Span across, const std::string& path) {
  const Rectangle box = bounding_box(outline);
  const Span seen{std::max(box.across.from, across.from), std::min(box.across.to, across.to)};
  if (seen.length() <= same_place) return std::nullopt;
  if (std::holds_alternative<Rectangle>(outline)) return Rectangle{seen, box.depth};
  if (box.across.from >= across.from && box.across.to <= across.to) return outline;
  if (const auto* polygon = std::get_if<Polygon>(&outline)) {
    Polygon cut{beyond(beyond(polygon->corners, across.from, true), across.to, false)};
    if (cut.corners.size() < 3) return std::nullopt;
    return cut;
  }
  throw ModelError(path, "a section cannot be cut through a circle", "");
}

Outline moved(Outline outline, double by) {
  if (auto* box = std::get_if<Rectangle>(&outline)) {
    box->across.from += by;
    box->across.to += by;
  } else if (auto* polygon = std::get_if<Polygon>(&outline)) {
    for (Point& p : polygon->corners) p.across += by;
  } else {
    std::get<Circle>(outline).centre.across += by;
  }
  return outline;
}

bool near(double a, double b) { return std::abs(a - b) <= same_place; }
bool near(Point a, Point b) { return near(a.across, b.across) && near(a.depth, b.depth); }
bool near(Span a, Span b) { return near(a.from, b.from) && near(a.to, b.to); }

bool lie_alike(const Outline& a, const Outline& b) {
  if (a.index() != b.index()) return false;
  if (const auto* x = std::get_if<Rectangle>(&a)) {
    const auto& y = std::get<Rectangle>(b);
    return near(x->across, y.across) && near(x->depth, y.depth);
  }
  if (const auto* x = std::get_if<Polygon>(&a)) {
    const auto& y = std::get<Polygon>(b);
    return std::equal(x->corners.begin(), x->corners.end(), y.corners.begin(), y.corners.end(),
                      [](Point p, Point q) { return near(p, q); });
  }
  const auto &x = std::get<Circle>(a), &y = std::get<Circle>(b);
  return near(x.centre, y.centre) && near(x.radius, y.radius);
}

}  // namespace

Section stretch_of(const Section& section, Span across) {
  Section out;
  out.name = section.name;
  out.width = across.length();
  out.depth = section.depth;
  out.materials = section.materials;
  out.air_rule = section.air_rule;
  out.cut = section.cut;
  out.sheathing = section.sheathing;
  for (const Shape& shape : section.shapes) {
    std::optional<Outline> seen = between(shape.outline, across, shape.path);
    if (!seen) continue;
    Shape kept = shape;
    kept.outline = moved(std::move(*seen), -across.from);
    out.shapes.push_back(std::move(kept));
  }
  return out;
}

bool show_the_same(const Section& a, const Section& b) {
  if (!near(a.width, b.width) || !near(a.depth, b.depth) || a.air_rule != b.air_rule || a.cut != b.cut)
    return false;
  return std::equal(a.shapes.begin(), a.shapes.end(), b.shapes.begin(), b.shapes.end(),
                    [&](const Shape& p, const Shape& q) {
                      const Material &m = a.materials[p.material], &n = b.materials[q.material];
                      return p.grain == q.grain && p.held == q.held &&
                             p.slightly_ventilated == q.slightly_ventilated &&
                             p.well_ventilated == q.well_ventilated && lie_alike(p.outline, q.outline) &&
                             conduct_alike(m, n) && nearly(m.airflow_resistivity, n.airflow_resistivity);
                    });
}

}  // namespace coldbay
