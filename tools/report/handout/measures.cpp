#include "tools/report/handout/measures.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <optional>
#include <string_view>

#include "tools/report/handout/as_drawn.hpp"

namespace coldbay {
namespace {

std::vector<double> in_order(std::vector<double> places) {
  std::sort(places.begin(), places.end());
  const auto close = [](double a, double b) { return b - a < touching; };
  places.erase(std::unique(places.begin(), places.end(), close), places.end());
  return places;
}

/// The lines on which two cuts change, and so the cells in which they do not.
struct Cells {
  std::vector<double> along, depth;
  std::size_t n_along() const { return along.empty() ? 0 : along.size() - 1; }
  std::size_t n_depth() const { return depth.empty() ? 0 : depth.size() - 1; }
  Point middle(std::size_t i, std::size_t j) const {
    return {0.5 * (along[i] + along[i + 1]), 0.5 * (depth[j] + depth[j + 1])};
  }
};

Cells cells_of(const Section& one, const Section& other, Span shown, Span depth) {
  std::vector<double> along{shown.from, shown.to}, deep{depth.from, depth.to};
  const auto add = [](std::vector<double>& places, double place, Span within) {
    if (place > within.from && place < within.to) places.push_back(place);
  };
  for (const Section* section : {&one, &other})
    for (const Shape& shape : section->shapes) {
      const Rectangle box = bounding_box(shape.outline);
      for (const double place : {box.across.from, box.across.to}) add(along, place, shown);
      for (const double place : {box.depth.from, box.depth.to}) add(deep, place, depth);
    }
  return {in_order(along), in_order(deep)};
}

const Material* material_there(const Section& section, Point at) {
  const auto index = material_at(section, at);
  return index ? &section.materials[*index] : nullptr;
}

bool is_air(const Section& section, Point at) {
  const Material* material = material_there(section, at);
  return material && material->is_air_space;
}

/// Depth of the frame: that of the layer which ends at the plane of the sheathing, or at the outside.
std::optional<Span> frame_of(const Section& section) {
  const double outer = section.sheathing.value_or(section.depth);
  for (const Shape& shape : section.shapes) {
    const auto* r = std::get_if<Rectangle>(&shape.outline);
    if (r && std::abs(r->depth.to - outer) < touching && r->across.from < touching &&
        r->across.to > section.width - touching)
      return r->depth;
  }
  return std::nullopt;
}

/// Air of `wrong` that `right` has not got there: patches of cells that touch, and whether each is a plain
/// rectangle.
struct Patch {
  Span along, depth;
  bool rectangle = true;
};

std::vector<Patch> new_air(const Section& wrong, const Section& right, Span shown, Span depth) {
  const Cells cells = cells_of(wrong, right, shown, depth);
  const std::size_t n = cells.n_along(), m = cells.n_depth();
  if (n == 0 || m == 0) return {};
  std::vector<char> left(n * m, 0);
  for (std::size_t j = 0; j < m; ++j)
    for (std::size_t i = 0; i < n; ++i) {
      const Point middle = cells.middle(i, j);
      left[i + n * j] = is_air(wrong, middle) && !is_air(right, middle) ? 1 : 0;
    }
  std::vector<Patch> patches;
  for (std::size_t start = 0; start < left.size(); ++start) {
    if (!left[start]) continue;
    std::size_t i0 = n, i1 = 0, j0 = m, j1 = 0, count = 0;
    std::vector<std::size_t> open{start};
    left[start] = 0;
    const auto visit = [&](std::size_t cell) {
      if (!left[cell]) return;
      left[cell] = 0;
      open.push_back(cell);
    };
    while (!open.empty()) {
      const std::size_t cell = open.back(), i = cell % n, j = cell / n;
      open.pop_back();
      ++count;
      i0 = std::min(i0, i), i1 = std::max(i1, i), j0 = std::min(j0, j), j1 = std::max(j1, j);
      if (i > 0) visit(cell - 1);
      if (i + 1 < n) visit(cell + 1);
      if (j > 0) visit(cell - n);
      if (j + 1 < m) visit(cell + n);
    }
    patches.push_back({{cells.along[i0], cells.along[i1 + 1]},
                       {cells.depth[j0], cells.depth[j1 + 1]},
                       count == (i1 - i0 + 1) * (j1 - j0 + 1)});
  }
  return patches;
}

bool within(Span span, Span shown) {
  return span.from > shown.from - touching && span.to < shown.to + touching;
}

/// Pockets between scraps lie by chance: their sizes say nothing.
bool has_scraps(const Section& section, Span bay) {
  return std::any_of(section.shapes.begin(), section.shapes.end(), [&](const Shape& shape) {
    const Span across = bounding_box(shape.outline).across;
    return across.from < bay.to && across.to > bay.from &&
           std::string_view(section.materials[shape.material].name).ends_with(", scraps");
  });
}

bool same(Span a, Span b) { return std::abs(a.from - b.from) < touching && std::abs(a.to - b.to) < touching; }

}  // namespace

std::string tape_text(double metres, UnitSystem units) {
  if (units == UnitSystem::metric) {
    const double mm = 1e3 * metres;
    const bool whole = mm >= 20.0 || std::abs(mm - std::round(mm)) < 0.05;
    return whole ? fmt::format("{:.0f} mm", mm) : fmt::format("{:.1f} mm", mm);
  }
  const double inches = metres / 0.0254;
  const auto sixteenths = std::lround(16.0 * inches);
  constexpr double read = 3e-4;  // what a tape is read to, common practice, no source [m]
  if (sixteenths < 1 || std::abs(inches - static_cast<double>(sixteenths) / 16.0) * 0.0254 > read)
    return fmt::format("{:.2f} in", inches);
  const long whole = sixteenths / 16, rest = sixteenths % 16, common = std::gcd(rest, 16L);
  if (rest == 0) return fmt::format("{} in", whole);
  const std::string fraction = fmt::format("{}/{} in", rest / common, 16 / common);
  return whole == 0 ? fraction : fmt::format("{}-{}", whole, fraction);
}

std::vector<Measure> measures_of(const Section& section, const Section& right, Span shown, UnitSystem units) {
  std::vector<Measure> measures;
  const auto add = [&](bool in_depth, Span span, Span beside) {
    measures.push_back({in_depth, span, beside, tape_text(span.length(), units)});
  };
  const std::optional<Span> frame = frame_of(section);
  const Span whole{0.0, section.depth};
  for (const FacePart& part : section.parts)
    if (within(part.clear, shown)) add(false, part.clear, frame.value_or(whole));
  if (!frame) return measures;
  add(true, *frame, shown);
  std::vector<Span> bays;
  for (const FacePart& part : section.parts)
    if (within(part.clear, shown)) bays.push_back(part.clear);
  if (section.cut == CutKind::vertical) bays.push_back(shown);
  for (const Span& bay : bays) {
    if (has_scraps(section, bay)) continue;
    for (const Patch& patch : new_air(section, right, bay, *frame)) {
      const bool all_depth = same(patch.depth, *frame), all_bay = same(patch.along, bay);
      if (!patch.rectangle || (all_depth && all_bay)) continue;
      add(!all_depth, all_depth ? patch.along : patch.depth, all_depth ? patch.depth : patch.along);
    }
  }
  return measures;
}

Span difference_of(const Section& wrong, const Section& right) {
  const Cells cells = cells_of(wrong, right, {0.0, std::min(wrong.width, right.width)},
                               {0.0, std::min(wrong.depth, right.depth)});
  Span all{};
  bool found = false;
  for (std::size_t i = 0; i < cells.n_along(); ++i) {
    bool differ = false;
    for (std::size_t j = 0; j < cells.n_depth() && !differ; ++j) {
      const Material* one = material_there(wrong, cells.middle(i, j));
      const Material* other = material_there(right, cells.middle(i, j));
      differ =
          one && other ? one->name != other->name || one->conductivity != other->conductivity : one != other;
    }
    if (!differ) continue;
    if (!found) all.from = cells.along[i];
    all.to = cells.along[i + 1];
    found = true;
  }
  return all;
}

namespace {

/// How far the frame reaches at the end of a bay, with its flanges where it is of sheet.
Span frame_at(const Section& section, double end) {
  constexpr double sheet = 2e-3;  // [m]
  Span reach{end, end};
  for (const Shape& shape : section.shapes) {
    const Span across = bounding_box(shape.outline).across;
    if (shape.path != "wall.frame" || across.from > end + sheet || across.to < end - sheet) continue;
    reach.from = std::min(reach.from, across.from);
    reach.to = std::max(reach.to, across.to);
  }
  return reach;
}

/// A bay with its posts, as the next bays tell where those end.
Span with_posts(const Section& section, Span bay) {
  // Cut off within a post, so that nothing of the next bay shows; beyond one of sheet, with its flanges. More
  // than the widest is not a post: a corner, say. [m]
  constexpr double thin = 0.01, beyond = 0.01, none = 0.001, widest = 0.06, part_of_post = 0.75;
  double left = 0.0, right = section.width;
  for (const FacePart& part : section.parts) {
    if (part.clear.to < bay.from + touching) left = std::max(left, part.clear.to);
    if (part.clear.from > bay.to - touching) right = std::min(right, part.clear.from);
  }
  const auto beside = [&](double post, double flange, bool at_end) {
    if (post < thin) return flange < thin ? none : flange + beyond;
    return std::min(at_end ? post : part_of_post * post, widest);
  };
  const double before = beside(bay.from - left, bay.from - frame_at(section, bay.from).from, left == 0.0);
  const double after = beside(right - bay.to, frame_at(section, bay.to).to - bay.to, right == section.width);
  return {std::max(0.0, bay.from - before), std::min(section.width, bay.to + after)};
}

}  // namespace

Span window_for(const Section& wrong, const Section& right, Span bay) {
  if (wrong.cut != CutKind::vertical) return with_posts(wrong, bay);
  constexpr double around = 0.25, longest = 0.6, snap = 0.1;  // [m]
  const Span differs = difference_of(wrong, right);
  Span shown{std::max(0.0, differs.from - around), std::min(wrong.width, differs.to + around)};
  if (shown.from < snap) shown.from = 0.0;
  if (shown.to > wrong.width - snap) shown.to = wrong.width;
  // Of a fault as long as the bay its lower end, unless it ends at the top and not at the floor.
  const bool upper_end = shown.from > 0.0 && shown.to >= wrong.width;
  if (shown.length() > longest && upper_end) shown.from = shown.to - longest;
  if (shown.length() > longest) shown.to = shown.from + longest;
  return shown;
}

}  // namespace coldbay
