#include "geometry/wall/measured.hpp"

#include <algorithm>
#include <cmath>

namespace coldbay {
namespace {

/// A fill this much denser than its label is compressed.
constexpr double compressed_from = 1.05;

constexpr double widest_field = 0.005;  ///< along slanted and curved edges [m]

/// Lines of the net along one direction, within a stretch.
std::vector<double> lines(const std::vector<const Piece*>& pieces, Direction direction, Span within) {
  std::vector<double> at{within.from, within.to};
  const auto add = [&](double x) {
    if (x > within.from && x < within.to) at.push_back(x);
  };
  for (const Piece* p : pieces) {
    const Span s = extent(*p, direction);
    add(s.from);
    add(s.to);
    if (direction == p->along || std::holds_alternative<Rectangle>(p->outline)) continue;
    const int n = static_cast<int>(std::ceil(s.length() / widest_field));
    for (int i = 1; i < n; ++i) add(s.from + s.length() * i / n);
  }
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end(), [](double a, double b) { return b - a < 1e-9; }), at.end());
  return at;
}

enum class Seen { framing, opening, nothing, incomplete, compressed, filled };

/// What stands between lining and sheathing.
Seen seen_at(const std::vector<const Piece*>& pieces, Span frame, double across, double up) {
  double fill = 0.0, air = 0.0, member = 0.0;
  bool compressed = false;
  for (const Met& m : met_at(pieces, across, up)) {
    const double depth = std::min(m.depth.to, frame.to) - std::max(m.depth.from, frame.from);
    if (depth <= 1e-9) continue;
    switch (m.piece->role) {
      case Piece::Role::opening:
        return Seen::opening;
      case Piece::Role::frame:
        member += depth;
        break;
      case Piece::Role::fill:
        fill += depth;
        compressed = compressed || m.piece->squeezed > compressed_from;
        break;
      case Piece::Role::air:
        air += depth;
        break;
      case Piece::Role::layer:
      case Piece::Role::service:
        break;
    }
  }
  // A flat stud, or the flange of a steel one, leaves most of the depth to the fill.
  if (member > 0.5 * frame.length()) return Seen::framing;
  if (fill == 0.0) return Seen::nothing;
  if (air > slack) return Seen::incomplete;
  return compressed ? Seen::compressed : Seen::filled;
}

struct Areas {
  double framing = 0.0, opening = 0.0;
  Filling filling;
};

Areas areas_within(const BuiltWall& built, Span across, Span up) {
  const std::vector<const Piece*> all = pieces_within(built, across, up);
  const std::vector<double> x = lines(all, Direction::across, across);
  Areas areas;
  for (std::size_t i = 0; i + 1 < x.size(); ++i) {
    const std::vector<const Piece*> column = pieces_within(all, {x[i], x[i + 1]});
    const std::vector<double> z = lines(column, Direction::up, up);
    for (std::size_t k = 0; k + 1 < z.size(); ++k) {
      const double area = (x[i + 1] - x[i]) * (z[k + 1] - z[k]);
      const Seen seen = seen_at(column, built.frame, 0.5 * (x[i] + x[i + 1]), 0.5 * (z[k] + z[k + 1]));
      if (seen == Seen::framing) areas.framing += area;
      if (seen == Seen::opening) areas.opening += area;
      if (seen == Seen::framing || seen == Seen::opening) continue;
      areas.filling.area += area;
      if (seen == Seen::nothing) areas.filling.nothing += area;
      if (seen == Seen::incomplete) areas.filling.incomplete += area;
      if (seen == Seen::compressed) areas.filling.compressed += area;
    }
  }
  return areas;
}

void make_shares(Filling& f) {
  if (!(f.area > 0.0)) return;
  f.nothing /= f.area;
  f.incomplete /= f.area;
  f.compressed /= f.area;
}

}  // namespace

Measured measured(const Wall& wall, const BuiltWall& built) {
  Measured m;
  double framing = 0.0;
  for (std::size_t b = 0; b < built.bays.size(); ++b) {
    const Areas areas = areas_within(built, built.bays[b].across, {0.0, wall.height});
    framing += areas.framing;
    m.area += areas.framing + areas.filling.area;
    Filling bay = areas.filling;
    m.all.area += bay.area;
    m.all.nothing += bay.nothing;
    m.all.incomplete += bay.incomplete;
    m.all.compressed += bay.compressed;
    make_shares(bay);
    m.bays.push_back(bay);
  }
  make_shares(m.all);
  m.framing = m.area > 0.0 ? framing / m.area : 0.0;
  return m;
}

double framing_of_plan(const BuiltWall& built, double height) {
  const std::vector<const Piece*> all = pieces_within(built, {0.0, built.width}, {height, height + 1e-9});
  const std::vector<double> x = lines(all, Direction::across, {0.0, built.width});
  double framing = 0.0, opaque = 0.0;
  for (std::size_t i = 0; i + 1 < x.size(); ++i) {
    const Seen seen = seen_at(all, built.frame, 0.5 * (x[i] + x[i + 1]), height);
    if (seen == Seen::framing) framing += x[i + 1] - x[i];
    if (seen != Seen::opening) opaque += x[i + 1] - x[i];
  }
  return opaque > 0.0 ? framing / opaque : 0.0;
}

Section framing_section(const Wall& wall) {
  const Depths depths = depths_of(wall);
  Section s;
  s.name = "framing alone";
  s.width = 0.1;
  s.depth = depths.total;
  for (std::size_t i = 0; i < wall.layers.size(); ++i) {
    const Layer& layer = wall.layers[i];
    if (layer.well_ventilated) {  // outside air: the wall ends there
      s.depth = depths.layers[i].from;
      break;
    }
    s.materials.push_back(layer.is_frame ? wall.frame.material : layer.material);
    Shape shape{Rectangle{{0.0, s.width}, depths.layers[i]}, i, ""};
    shape.slightly_ventilated = layer.slightly_ventilated;
    s.shapes.push_back(shape);
  }
  return s;
}

}  // namespace coldbay
