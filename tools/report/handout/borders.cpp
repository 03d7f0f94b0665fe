#include "tools/report/handout/borders.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <optional>
#include <string_view>
#include <tuple>
#include <utility>

#include "tools/report/handout/as_drawn.hpp"

namespace coldbay {
namespace {

constexpr double aside = 1e-6;  ///< how far beside a line its materials are asked for [m]

struct Edge {
  Point from, to;
  double length() const { return std::hypot(to.across - from.across, to.depth - from.depth); }
  Point at(double share) const {
    return {from.across + share * (to.across - from.across), from.depth + share * (to.depth - from.depth)};
  }
};

/// The part of an edge within the stretch.
std::optional<Edge> clipped(const Edge& edge, Span shown) {
  double first = 0.0, last = 1.0;
  const double run = edge.to.across - edge.from.across;
  if (std::abs(run) < touching) {
    if (edge.from.across < shown.from - touching || edge.from.across > shown.to + touching) return {};
    return edge;
  }
  const double enter = (shown.from - edge.from.across) / run, leave = (shown.to - edge.from.across) / run;
  first = std::max(first, std::min(enter, leave));
  last = std::min(last, std::max(enter, leave));
  if (!(first < last)) return {};
  return Edge{edge.at(first), edge.at(last)};
}

std::vector<Edge> edges_of(const Section& section, Span shown) {
  std::vector<Edge> edges;
  for (const Shape& shape : section.shapes) {
    const std::vector<Point> corners = corners_of(shape.outline);
    for (std::size_t i = 0; i < corners.size(); ++i)
      if (const auto edge = clipped({corners[i], corners[(i + 1) % corners.size()]}, shown))
        if (edge->length() > touching) edges.push_back(*edge);
  }
  return edges;
}

/// Where along `edge` something may change because of `other`, as shares of its length.
void add_crossings(const Edge& edge, const Edge& other, std::vector<double>& shares) {
  const double length = edge.length();
  const double a = (edge.to.across - edge.from.across) / length,
               d = (edge.to.depth - edge.from.depth) / length;
  const auto along = [&](Point p) {
    return ((p.across - edge.from.across) * a + (p.depth - edge.from.depth) * d) / length;
  };
  const auto off = [&](Point p) {
    return (p.depth - edge.from.depth) * a - (p.across - edge.from.across) * d;
  };
  const double begin = off(other.from), end = off(other.to);
  if (std::abs(begin) < touching) shares.push_back(along(other.from));
  if (std::abs(end) < touching) shares.push_back(along(other.to));
  if (begin * end < 0.0) shares.push_back(along(other.at(begin / (begin - end))));
}

std::optional<BorderKind> kind_of(const Section& section, const Edge& piece) {
  const double length = piece.length();
  const Point middle = piece.at(0.5);
  const double a = aside * (piece.to.depth - piece.from.depth) / length,
               d = -aside * (piece.to.across - piece.from.across) / length;
  const auto one = material_at(section, {middle.across + a, middle.depth + d});
  const auto other = material_at(section, {middle.across - a, middle.depth - d});
  if (!one && !other) return {};
  if (!one || !other) return BorderKind::face;
  const Material &first = section.materials[*one], &second = section.materials[*other];
  if (first.name != second.name) return BorderKind::cut;
  // As geometry/wall names lumps: they are pieces of one material, and seen as pieces.
  if (*one != *other && std::string_view(first.name).ends_with(", scraps")) return BorderKind::joint;
  return {};
}

using Stretches = std::vector<Span>;

/// Stretches of one line, joined where they touch.
Stretches joined(Stretches all) {
  std::sort(all.begin(), all.end(), [](Span a, Span b) { return a.from < b.from; });
  Stretches one;
  for (const Span& s : all) {
    if (!one.empty() && s.from < one.back().to + touching) {
      one.back().to = std::max(one.back().to, s.to);
    } else {
      one.push_back(s);
    }
  }
  return one;
}

/// Gathers pieces: those along an axis by their line, the others one by one.
class Gathered {
 public:
  void add(const Edge& piece, BorderKind kind) {
    const auto [low, high] = std::minmax(piece.from.across, piece.to.across);
    const auto [near, far] = std::minmax(piece.from.depth, piece.to.depth);
    if (far - near < touching) {
      level_[{kind, key(near)}].push_back({low, high});
    } else if (high - low < touching) {
      upright_[{kind, key(low)}].push_back({near, far});
    } else {
      const bool turned = piece.from.across > piece.to.across;
      const Edge e = turned ? Edge{piece.to, piece.from} : piece;
      askew_.emplace(std::tuple{key(e.from.across), key(e.from.depth), key(e.to.across), key(e.to.depth)},
                     Border{e.from, e.to, kind});
    }
  }

  std::vector<Border> borders() const {
    std::vector<Border> all;
    for (const auto& [line, stretches] : level_)
      for (const Span& s : joined(stretches))
        all.push_back({{s.from, place(line.second)}, {s.to, place(line.second)}, line.first});
    for (const auto& [line, stretches] : upright_)
      for (const Span& s : joined(stretches))
        all.push_back({{place(line.second), s.from}, {place(line.second), s.to}, line.first});
    for (const auto& [ends, border] : askew_) all.push_back(border);
    return all;
  }

 private:
  using Line = std::pair<BorderKind, long long>;
  static long long key(double metres) { return std::llround(metres / touching); }
  static double place(long long key) { return static_cast<double>(key) * touching; }
  std::map<Line, Stretches> level_, upright_;
  std::map<std::tuple<long long, long long, long long, long long>, Border> askew_;
};

}  // namespace

std::vector<Border> borders(const Section& section, Span shown) {
  // Beside a chord of a circle both sides would lie within it.
  Section angular = section;
  for (Shape& shape : angular.shapes)
    if (std::holds_alternative<Circle>(shape.outline)) shape.outline = Polygon{corners_of(shape.outline)};
  const std::vector<Edge> edges = edges_of(angular, shown);
  Gathered gathered;
  for (const Edge& edge : edges) {
    std::vector<double> shares{0.0, 1.0};
    for (const Edge& other : edges) add_crossings(edge, other, shares);
    std::sort(shares.begin(), shares.end());
    for (std::size_t i = 1; i < shares.size(); ++i) {
      const double from = std::max(shares[i - 1], 0.0), to = std::min(shares[i], 1.0);
      if (!((to - from) * edge.length() > touching)) continue;
      const Edge piece{edge.at(from), edge.at(to)};
      if (const auto kind = kind_of(angular, piece)) gathered.add(piece, *kind);
    }
  }
  return gathered.borders();
}

}  // namespace coldbay
