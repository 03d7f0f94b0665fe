#include "geometry/section.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <vector>

namespace coldbay {
namespace {

bool contains(const Rectangle& r, Point p) {
  return p.across >= r.across.from && p.across <= r.across.to && p.depth >= r.depth.from &&
         p.depth <= r.depth.to;
}

bool contains(const Circle& c, Point p) {
  return std::hypot(p.across - c.centre.across, p.depth - c.centre.depth) <= c.radius;
}

bool on_segment(Point a, Point b, Point p) {
  const double cross =
      (b.across - a.across) * (p.depth - a.depth) - (b.depth - a.depth) * (p.across - a.across);
  if (cross != 0.0) return false;
  const auto [lo_x, hi_x] = std::minmax(a.across, b.across);
  const auto [lo_y, hi_y] = std::minmax(a.depth, b.depth);
  return p.across >= lo_x && p.across <= hi_x && p.depth >= lo_y && p.depth <= hi_y;
}

// Even-odd rule: a ray to the right crosses the outline an odd number of times.
bool contains(const Polygon& polygon, Point p) {
  bool inside = false;
  const auto& corners = polygon.corners;
  for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
    const Point a = corners[i], b = corners[j];
    if (on_segment(a, b, p)) return true;
    if ((a.depth > p.depth) != (b.depth > p.depth) &&
        p.across < (b.across - a.across) * (p.depth - a.depth) / (b.depth - a.depth) + a.across)
      inside = !inside;
  }
  return inside;
}

double signed_area(const Polygon& polygon) {
  double twice = 0.0;
  const auto& c = polygon.corners;
  for (std::size_t i = 0, j = c.size() - 1; i < c.size(); j = i++)
    twice += c[j].across * c[i].depth - c[i].across * c[j].depth;
  return 0.5 * twice;
}

}  // namespace

bool contains(const Outline& outline, Point at) {
  return std::visit([&](const auto& o) { return contains(o, at); }, outline);
}

Rectangle bounding_box(const Outline& outline) {
  if (const auto* r = std::get_if<Rectangle>(&outline)) return *r;
  if (const auto* c = std::get_if<Circle>(&outline))
    return {{c->centre.across - c->radius, c->centre.across + c->radius},
            {c->centre.depth - c->radius, c->centre.depth + c->radius}};
  const auto& corners = std::get<Polygon>(outline).corners;
  Rectangle box{{corners.front().across, corners.front().across},
                {corners.front().depth, corners.front().depth}};
  for (const Point& p : corners) {
    box.across = {std::min(box.across.from, p.across), std::max(box.across.to, p.across)};
    box.depth = {std::min(box.depth.from, p.depth), std::max(box.depth.to, p.depth)};
  }
  return box;
}

double area(const Outline& outline) {
  if (const auto* r = std::get_if<Rectangle>(&outline)) return r->across.length() * r->depth.length();
  if (const auto* c = std::get_if<Circle>(&outline)) return std::numbers::pi * c->radius * c->radius;
  return std::abs(signed_area(std::get<Polygon>(outline)));
}

std::optional<std::size_t> material_at(const Section& section, Point at) {
  for (auto shape = section.shapes.rbegin(); shape != section.shapes.rend(); ++shape)
    if (contains(shape->outline, at)) return shape->material;
  return std::nullopt;
}

Surroundings air_of(const Section& section, Surroundings air) {
  air.height_runs = Direction::across;
  if (section.cut != CutKind::vertical) air.by_height.clear();
  return air;
}

double room_temperature(const Surroundings& air, double up) {
  const auto& levels = air.by_height;
  if (levels.empty()) return air.inside.temperature;
  const auto above =
      std::find_if(levels.begin(), levels.end(), [up](const AirLevel& level) { return level.up > up; });
  if (above == levels.begin()) return above->celsius;
  const AirLevel& below = *std::prev(above);
  if (above == levels.end()) return below.celsius;
  return std::lerp(below.celsius, above->celsius, (up - below.up) / (above->up - below.up));
}

double mean_room_temperature(const Surroundings& air, Span up) {
  std::vector<double> bends{up.from};  // between them it changes evenly, so the middle is the mean
  for (const AirLevel& level : air.by_height)
    if (level.up > up.from && level.up < up.to) bends.push_back(level.up);
  bends.push_back(up.to);
  double sum = 0.0;
  for (std::size_t i = 1; i < bends.size(); ++i)
    sum += (bends[i] - bends[i - 1]) * room_temperature(air, 0.5 * (bends[i - 1] + bends[i]));
  return sum / up.length();
}

}  // namespace coldbay
