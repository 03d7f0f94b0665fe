#include "geometry/wall/cuts.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

#include "geometry/wall/faults.hpp"
#include "geometry/wall/lengths.hpp"
#include "geometry/wall/services.hpp"

namespace coldbay {
namespace {

/// A rectangle cut off at the ends of the section; nothing where none of it is left.
std::optional<Outline> within(Outline outline, double width) {
  auto* r = std::get_if<Rectangle>(&outline);
  if (!r) return outline;
  r->across = {std::max(0.0, r->across.from), std::min(width, r->across.to)};
  if (!(r->across.length() > 0.0)) return std::nullopt;
  return outline;
}

/// The grain as the section's own axes call it: in a vertical cut its first axis runs up.
Direction grain_in(Direction grain, Direction normal) {
  if (normal == Direction::up || grain == Direction::depth) return grain;
  return grain == Direction::up ? Direction::across : Direction::up;
}

std::size_t index_of(const Material& m, std::vector<Material>& all) {
  const auto same = std::find(all.begin(), all.end(), m);
  if (same != all.end()) return static_cast<std::size_t>(same - all.begin());
  all.push_back(m);
  return all.size() - 1;
}

/// Coordinates that differ by less are equal: rounding of sums of metres [m].

/// What a plane cuts out of a piece.
struct Cutout {
  const Piece* piece;
  Outline outline;
};

bool covers(const Outline& over, const Outline& under) {
  const auto* r = std::get_if<Rectangle>(&over);
  if (!r) return false;
  const Rectangle u = bounding_box(under);
  const auto holds = [](Span a, Span b) { return a.from < b.from + same_place && a.to > b.to - same_place; };
  return holds(r->across, u.across) && holds(r->depth, u.depth);
}

/// Leaves out what the next pieces of the same bay cover, such as the air beside a narrow batt where the
/// plane goes through the batt: else two planes that show the same would not be the same.
std::vector<Cutout> without_hidden(std::vector<Cutout> all) {
  const auto bay = [](const Cutout& c) {
    return std::string_view(c.piece->path).substr(0, c.piece->path.find(']'));
  };
  std::vector<Cutout> seen;
  for (std::size_t i = 0; i < all.size(); ++i) {
    bool hidden = false;
    const bool of_bay = all[i].piece->role == Piece::Role::fill || all[i].piece->role == Piece::Role::air;
    for (std::size_t j = i + 1; of_bay && j < all.size() && !hidden && bay(all[j]) == bay(all[i]); ++j)
      hidden = covers(all[j].outline, all[i].outline);
    if (!hidden) seen.push_back(std::move(all[i]));
  }
  return seen;
}

/// What a plane shows, in painting order; without what lies by chance, to tell which planes show the same.
Section shown(const BuiltWall& built, Direction normal, double at, bool with_chance = true) {
  Section s;
  s.depth = built.depth;
  s.width = normal == Direction::up ? built.width : built.height;
  s.stands_of = normal == Direction::up ? built.height : built.width;
  s.cut = normal == Direction::up ? CutKind::plan : CutKind::vertical;
  if (built.frame.to < built.depth) s.sheathing = built.frame.to;
  std::vector<Cutout> all;
  for (const Piece& p : built.pieces) {
    if (p.by_chance && !with_chance) continue;
    for (const Outline& whole : cut(p, normal, at))
      if (const auto outline = within(whole, s.width)) all.push_back({&p, *outline});
  }
  for (const Cutout& c : without_hidden(std::move(all))) {
    const Piece& p = *c.piece;
    Shape shape{c.outline, index_of(p.material, s.materials), p.path};
    shape.grain = grain_in(p.grain, normal);
    shape.slightly_ventilated = p.slightly_ventilated;
    shape.well_ventilated = p.well_ventilated;
    shape.held = p.held;
    s.shapes.push_back(std::move(shape));
  }
  return s;
}

bool same_outline(const Outline& a, const Outline& b) {
  if (a.index() != b.index()) return false;
  const Rectangle x = bounding_box(a), y = bounding_box(b);
  const auto near = [](double p, double q) { return std::abs(p - q) < same_place; };
  if (!near(x.across.from, y.across.from) || !near(x.across.to, y.across.to) ||
      !near(x.depth.from, y.depth.from) || !near(x.depth.to, y.depth.to))
    return false;
  const auto *p = std::get_if<Polygon>(&a), *q = std::get_if<Polygon>(&b);
  if (!p) return true;
  return std::equal(p->corners.begin(), p->corners.end(), q->corners.begin(), q->corners.end(),
                    [&](Point m, Point n) { return near(m.across, n.across) && near(m.depth, n.depth); });
}

}  // namespace

Section cut_of(const BuiltWall& built, Direction normal, double at) { return shown(built, normal, at); }

bool looks_like(const Section& a, const Section& b) {
  return std::equal(a.shapes.begin(), a.shapes.end(), b.shapes.begin(), b.shapes.end(),
                    [&](const Shape& p, const Shape& q) {
                      return a.materials[p.material] == b.materials[q.material] && p.held == q.held &&
                             same_outline(p.outline, q.outline);
                    });
}

namespace {

/// The stretches along the normal in which a cut shows the same.
std::vector<Span> stretches(const BuiltWall& built, Direction normal, double at) {
  const Section section = shown(built, normal, at, false);
  const std::vector<double> changes = cut_changes(built, normal);
  std::vector<Span> all;
  for (std::size_t i = 0; i + 1 < changes.size(); ++i) {
    const Span s{changes[i], changes[i + 1]};
    const bool here = at >= s.from && at < s.to;
    if (!here && !looks_like(section, shown(built, normal, 0.5 * (s.from + s.to), false))) continue;
    if (!all.empty() && s.from - all.back().to < same_place)
      all.back().to = s.to;
    else
      all.push_back(s);
  }
  return all;
}

void refuse_unknown_opening(const Wall& wall, const Section& section, const std::string& path) {
  for (const Shape& shape : section.shapes)
    for (const Bay& bay : wall.bays)
      if (bay.opening && !bay.opening->u_value && shape.path == bay.opening->path &&
          section.materials[shape.material].conductivity == 0.0)
        throw ModelError(path, "this cut goes through an opening, and nothing is known of what that holds",
                         "give the opening its U: 1.4 W/m2K, or cut where the wall is whole");
}

/// What a probe in the middle of each pipe that the plane cuts is called.
void add_pipe_probes(const Wall& wall, const BuiltWall& built, Direction normal, double at, Section& s) {
  for (std::size_t b = 0; b < wall.bays.size(); ++b) {
    const Bay& bay = wall.bays[b];
    const BayPlace& place = built.bays[b];
    int n = 0;
    for (const ServiceRun& run : bay.runs) {
      const RunPlace p = passage_of(run, {place.clear, place.up, built.frame});
      if (run.kind != ServiceRun::Kind::pipe || p.along != normal || at < p.reach.from || at >= p.reach.to)
        continue;
      ++n;
      s.probes.push_back(
          {fmt::format("pipe{} in {}", n > 1 ? fmt::format(" {}", n) : "", place.name), p.middle, run.path});
    }
  }
}

/// The edges of what a section draws for one bay, along both of its axes.
void add_edges(const Section& section, const Bay& bay, std::vector<double>& across,
               std::vector<double>& depth) {
  for (const Shape& s : section.shapes) {
    const bool of_bay =
        s.path.starts_with(bay.path) && (s.path.size() == bay.path.size() || s.path[bay.path.size()] == '.');
    if (!of_bay) continue;
    const Rectangle box = bounding_box(s.outline);
    across.insert(across.end(), {box.across.from, box.across.to});
    depth.insert(depth.end(), {box.depth.from, box.depth.to});
  }
}

std::vector<double> middles(std::vector<double> edges) {
  std::sort(edges.begin(), edges.end());
  std::vector<double> middle;
  for (std::size_t i = 0; i + 1 < edges.size(); ++i)
    if (edges[i + 1] - edges[i] > same_place) middle.push_back(0.5 * (edges[i] + edges[i + 1]));
  return middle;
}

}  // namespace

bool differ(const Section& a, const Section& b, const Bay& bay) {
  std::vector<double> across, depth;
  add_edges(a, bay, across, depth);
  add_edges(b, bay, across, depth);
  const std::vector<double> deep = middles(std::move(depth));
  for (const double x : middles(std::move(across)))
    for (const double y : deep) {
      const auto m = material_at(a, {x, y}), n = material_at(b, {x, y});
      if (m.has_value() != n.has_value() || (m && !(a.materials[*m] == b.materials[*n]))) return true;
    }
  return false;
}

Section plan_section(const Wall& wall, const BuiltWall& built, double height, const std::string& name,
                     const std::string& path) {
  if (!(height > built.up.from && height < built.up.to))
    throw ModelError(
        path, fmt::format("a plan section at {} does not cut the bays of this wall", mm(height)),
        fmt::format("the bays reach from {} to {} above the floor", mm(built.up.from), mm(built.up.to)));
  Section s = shown(built, Direction::up, height);
  refuse_unknown_opening(wall, s, path);
  s.name = name;
  s.stands_for = stretches(built, Direction::up, height);
  for (std::size_t b = 0; b < built.bays.size(); ++b) {
    const Bay& bay = wall.bays[b];
    const BayPlace& place = built.bays[b];
    const Region space{place.clear, place.up, built.frame};
    FacePart part{place.name, place.label, place.across, place.clear};
    bool dented = false;
    for (const Enclosure& box : bay.enclosures) {
      const Span up = space_of(box, space).up;
      if (height < up.from || height >= up.to) continue;
      part.label += fmt::format(", {}", box.label);
      dented = true;
    }
    for (const ServiceRun& run : bay.runs) {
      if (!run.runs_up && std::abs(height - run.at) > 0.5 * run.diameter) continue;
      part.label += fmt::format(", {}", run.label);
      dented = true;
    }
    part.sound = !dented && !bay.opening && !bay.fills.empty() && faults_of(bay, space).empty();
    part.air_on_both_faces = air_on_both_faces(bay, space);
    s.parts.push_back(std::move(part));
  }
  add_pipe_probes(wall, built, Direction::up, height, s);
  return s;
}

Section vertical_section(const Wall& wall, const BuiltWall& built, double across, const std::string& name,
                         const std::string& path) {
  if (!(across > 0.0 && across < built.width))
    throw ModelError(path, fmt::format("a vertical section at {} across misses this wall", mm(across)),
                     fmt::format("the wall is described from 0 to {} across", mm(built.width)));
  Section s = shown(built, Direction::across, across);
  refuse_unknown_opening(wall, s, path);
  s.name = name;
  s.stands_for = stretches(built, Direction::across, across);
  for (std::size_t b = 0; b < built.bays.size(); ++b) {
    const Span clear = built.bays[b].clear;
    if (across > clear.from && across < clear.to &&
        air_on_both_faces(wall.bays[b], {clear, built.up, built.frame}))
      s.loops_round.push_back(built.bays[b].name);
  }
  add_pipe_probes(wall, built, Direction::across, across, s);
  return s;
}

Section plan_section(const Wall& wall, double height, const std::string& name, const std::string& path) {
  return plan_section(wall, build(wall), height, name, path);
}
Section vertical_section(const Wall& wall, double across, const std::string& name, const std::string& path) {
  return vertical_section(wall, build(wall), across, name, path);
}

}  // namespace coldbay
