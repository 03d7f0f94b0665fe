#include "geometry/grid_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr double growth = 0.3;  ///< of the cell size, per length walked away from a line

/// A stretch of an axis on which cells may not exceed `size`.
struct Cap {
  Span on;
  double size;
};

/// What the shapes ask of one axis.
struct Wishes {
  std::vector<double> lines;
  std::vector<Cap> caps;
};

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

void add_shape(const Outline& outline, double near_slants, double factor, Wishes& across, Wishes& depth) {
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
  Wishes across, depth;
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

/// Sorted, clipped to [0, length], near-coincident ones merged; the ends stay where they are.
std::vector<double> tidy(std::vector<double> lines, double length) {
  std::erase_if(lines, [&](double x) { return x <= merge_distance || x >= length - merge_distance; });
  std::sort(lines.begin(), lines.end());
  std::vector<double> out{0.0};
  for (const double x : lines)
    if (x - out.back() > merge_distance) out.push_back(x);
  out.push_back(length);
  return out;
}

/// Edges inside one stretch [a, b]: the wanted size grows from h_a and from h_b inward up to `cap`,
///
///     h(x) = min(h_a + g (x - a), cap, h_b + g (b - x)),
///
/// and cell edges stand at equal steps of the integral of dx / h.
void fill(double a, double b, double h_a, double h_b, double cap, std::vector<double>& edges) {
  const double L = b - a, g = growth;
  // where the left ramp ends and the right ramp begins, measured from a
  double left = (cap - h_a) / g, right = L - (cap - h_b) / g;
  if (left > right) left = right = std::clamp(0.5 * (L + (h_b - h_a) / g), 0.0, L);
  const double top = std::min(cap, h_a + g * left);
  const double I1 = std::log1p(g * left / h_a) / g, I2 = (right - left) / top,
               I3 = std::log1p(g * (L - right) / h_b) / g, total = I1 + I2 + I3;
  const auto n = static_cast<Index>(std::max(1.0, std::ceil(total - 1e-9)));
  edges.push_back(a);
  for (Index i = 1; i < n; ++i) {
    const double s = total * static_cast<double>(i) / static_cast<double>(n);
    double x = 0.0;
    if (s <= I1)
      x = h_a * std::expm1(g * s) / g;
    else if (s <= I1 + I2)
      x = left + (s - I1) * top;
    else
      x = L - h_b * std::expm1(g * (total - s)) / g;
    edges.push_back(a + x);
  }
}

struct Sizes {
  double at_line, largest;
};

/// Throws nothing and takes little: gives up, returning too many edges, once past `most` cells.
Axis graded(const Wishes& wishes, double length, Sizes sizes, Index most) {
  const std::vector<double> lines = tidy(wishes.lines, length);
  const std::size_t n = lines.size();
  std::vector<double> cap(n - 1, sizes.largest), h(n, sizes.at_line);
  for (std::size_t k = 0; k + 1 < n; ++k) {
    for (const Cap& c : wishes.caps)
      if (c.on.from < lines[k + 1] - merge_distance && c.on.to > lines[k] + merge_distance)
        cap[k] = std::min(cap[k], c.size);
    const double room = std::min(cap[k], 0.5 * (lines[k + 1] - lines[k]));
    h[k] = std::min(h[k], room);
    h[k + 1] = std::min(h[k + 1], room);
  }
  // No line may ask for more than its neighbours' sizes grown over the distance between them.
  for (std::size_t k = 1; k < n; ++k) h[k] = std::min(h[k], h[k - 1] + growth * (lines[k] - lines[k - 1]));
  for (std::size_t k = n - 1; k-- > 0;) h[k] = std::min(h[k], h[k + 1] + growth * (lines[k + 1] - lines[k]));

  std::vector<double> edges;
  for (std::size_t k = 0; k + 1 < n && std::ssize(edges) <= most; ++k)
    fill(lines[k], lines[k + 1], h[k], h[k + 1], cap[k], edges);
  edges.push_back(length);
  return Axis(std::move(edges));
}

/// How many cells `graded` would make, at least; counted before any memory is taken.
double least_cells(const Wishes& wishes, double length) {
  double cells = 1.0;
  for (const Cap& c : wishes.caps)
    cells = std::max(cells, (std::min(c.on.to, length) - std::max(c.on.from, 0.0)) / c.size);
  return cells;
}

}  // namespace

GridLines grid_lines(const Section& section, double factor, Index max_cells) {
  const double s = std::min(section.width, section.depth);
  const Sizes sizes{factor * s / 128.0, factor * s / 16.0};
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

  GridLines lines{graded(across, section.width, sizes, max_cells),
                  graded(depth, section.depth, sizes, max_cells)};
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
