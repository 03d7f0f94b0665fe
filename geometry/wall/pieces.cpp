#include "geometry/wall/pieces.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include "geometry/wall/lengths.hpp"

namespace coldbay {
namespace {

bool meet(Span a, Span b) { return a.from < b.to && b.from < a.to; }

bool holds(Span s, double at) { return at >= s.from && at < s.to; }

/// The stretches of depth in which the line at `first` (across or up) lies in an outline.
std::vector<Span> chords(const Outline& outline, double first) {
  if (const auto* r = std::get_if<Rectangle>(&outline))
    return holds(r->across, first) ? std::vector<Span>{r->depth} : std::vector<Span>{};
  if (const auto* c = std::get_if<Circle>(&outline)) {
    const double h2 = c->radius * c->radius - (first - c->centre.across) * (first - c->centre.across);
    if (!(h2 > 0.0)) return {};
    return {{c->centre.depth - std::sqrt(h2), c->centre.depth + std::sqrt(h2)}};
  }
  const auto& corners = std::get<Polygon>(outline).corners;
  std::vector<double> crossings;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Point a = corners[i], b = corners[(i + 1) % corners.size()];
    if ((a.across <= first) == (b.across <= first)) continue;  // upright edges and corners count once
    crossings.push_back(a.depth + (b.depth - a.depth) * (first - a.across) / (b.across - a.across));
  }
  std::sort(crossings.begin(), crossings.end());
  std::vector<Span> spans;
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
    if (crossings[i + 1] > crossings[i]) spans.push_back({crossings[i], crossings[i + 1]});
  return spans;
}

/// First coordinates at which the chords of an outline change their kind.
void add_changes(const Outline& outline, std::vector<double>& to) {
  if (const auto* polygon = std::get_if<Polygon>(&outline)) {
    for (const Point& p : polygon->corners) to.push_back(p.across);
    return;
  }
  const Span s = bounding_box(outline).across;
  to.push_back(s.from);
  to.push_back(s.to);
}

}  // namespace

Piece block(const Material& material, Piece::Role role, Span across, Span up, Span depth) {
  return {material, role, Direction::up, Rectangle{across, depth}, up};
}

std::vector<Outline> cut(const Piece& piece, Direction normal, double at) {
  if (piece.along == normal)
    return holds(piece.reach, at) ? std::vector<Outline>{piece.outline} : std::vector<Outline>{};
  std::vector<Outline> shown;
  for (const Span& depth : chords(piece.outline, at)) shown.emplace_back(Rectangle{piece.reach, depth});
  return shown;
}

Span extent(const Piece& piece, Direction direction) {
  const Rectangle box = bounding_box(piece.outline);
  if (direction == Direction::depth) return box.depth;
  return direction == piece.along ? piece.reach : box.across;
}

std::vector<double> cut_changes(const BuiltWall& wall, Direction normal) {
  std::vector<double> all{0.0, normal == Direction::up ? wall.height : wall.width};
  for (const Piece& p : wall.pieces)
    if (p.along == normal)
      all.insert(all.end(), {p.reach.from, p.reach.to});
    else
      add_changes(p.outline, all);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end(), [](double a, double b) { return b - a < same_place; }),
            all.end());
  return all;
}

std::vector<const Piece*> pieces_within(const std::vector<const Piece*>& pieces, Span across) {
  std::vector<const Piece*> some;
  std::copy_if(pieces.begin(), pieces.end(), std::back_inserter(some),
               [&](const Piece* p) { return meet(extent(*p, Direction::across), across); });
  return some;
}

std::vector<const Piece*> pieces_within(const BuiltWall& wall, Span across, Span up) {
  std::vector<const Piece*> some;
  for (const Piece& p : wall.pieces)
    if (meet(extent(p, Direction::across), across) && meet(extent(p, Direction::up), up)) some.push_back(&p);
  return some;
}

std::vector<Met> met_at(const std::vector<const Piece*>& pieces, double across, double up) {
  std::vector<Met> painted;
  std::vector<double> edges;
  for (const Piece* p : pieces) {
    const bool runs_up = p->along == Direction::up;
    if (!holds(p->reach, runs_up ? up : across)) continue;
    for (const Span& depth : chords(p->outline, runs_up ? across : up)) {
      painted.push_back({depth, p});
      edges.insert(edges.end(), {depth.from, depth.to});
    }
  }
  std::sort(edges.begin(), edges.end());
  edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
  std::vector<Met> met;
  for (std::size_t e = 0; e + 1 < edges.size(); ++e) {
    const double middle = 0.5 * (edges[e] + edges[e + 1]);
    const auto top =
        std::find_if(painted.rbegin(), painted.rend(), [&](const Met& m) { return holds(m.depth, middle); });
    if (top != painted.rend()) met.push_back({{edges[e], edges[e + 1]}, top->piece});
  }
  return met;
}

}  // namespace coldbay
