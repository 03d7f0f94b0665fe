#include "solver/block/windows.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "geometry/axis.hpp"
#include "materials/alike.hpp"
#include "solver/block/block_face.hpp"

namespace coldbay {
namespace {

constexpr double same_place = 1e-7;  ///< rounding of sums of metres, below merge_distance [m]

/// What a ray through the wall meets, an air space as its usual resistance has it.
void add_ray(const std::vector<const Piece*>& pieces, double across, double up, double share,
             std::vector<double>& conductivity, double depth) {
  const double cell = depth / static_cast<double>(conductivity.size());
  constexpr double usual_resistance = 0.18;  // of a wide one, [ISO6946]
  for (const Met& m : met_at(pieces, across, up)) {
    const Material& material = m.piece->material;
    const double k =
        material.is_air_space ? m.depth.length() / usual_resistance : conductivity_at(material, 10.0);
    for (std::size_t n = 0; n < conductivity.size(); ++n) {
      const double from = std::max(m.depth.from, cell * static_cast<double>(n)),
                   to = std::min(m.depth.to, cell * static_cast<double>(n + 1));
      if (to > from) conductivity[n] += share * k * (to - from) / cell;
    }
  }
}

/// `gaps`: there are some that may drive air through fibre, so what fibre does to it matters.
bool alike(const Piece& p, const Piece& q, bool gaps) {
  return p.role == q.role && conduct_alike(p.material, q.material) && p.held == q.held &&
         p.slightly_ventilated == q.slightly_ventilated && p.grain == q.grain &&
         (!gaps || nearly(p.material.airflow_resistivity, q.material.airflow_resistivity));
}

bool near(double x, double y) { return std::abs(x - y) < same_place; }

/// Round pieces at the same place, but for `moved` across.
bool lie_alike(const Piece& p, const Piece& q, double moved) {
  if (p.along != q.along || p.outline.index() != q.outline.index()) return false;
  if (std::holds_alternative<Polygon>(p.outline)) return false;  // of which there are too few to compare
  const bool up = p.along == Direction::up;
  const Rectangle x = bounding_box(p.outline), y = bounding_box(q.outline);
  const double by_outline = up ? moved : 0.0, by_reach = up ? 0.0 : moved;
  return near(x.across.from + by_outline, y.across.from) && near(x.across.to + by_outline, y.across.to) &&
         near(x.depth.from, y.depth.from) && near(x.depth.to, y.depth.to) &&
         near(p.reach.from + by_reach, q.reach.from) && near(p.reach.to + by_reach, q.reach.to);
}

/// Where to cut a bay so that a window from its left reaches `reach` at least: in its middle, or further
/// right up to 50 mm before its far post, which stands in the window as a whole or not at all.
std::optional<double> cut_in(Span clear, double reach) {
  constexpr double from_post = 0.05;
  const double at = std::max(reach, 0.5 * (clear.from + clear.to));
  if (at > clear.to - from_post) return std::nullopt;
  return at;
}

/// Its own part and so much beside it, or the end of the wall, that what lies beyond comes through as
/// exp(-lengths) of itself: each bay on the way lets it die by its own length.
Span cut_round(const BuiltWall& wall, const std::vector<Decay>& decays, std::size_t bay, double lengths) {
  Span cut{0.0, wall.width};
  // Seen in a mirror, where the way leads to the left.
  const auto on_way = [](Span s, bool left) { return left ? Span{-s.to, -s.from} : s; };
  for (const bool left : {false, true}) {
    double to_go = lengths;
    std::optional<double> at;
    for (std::size_t b = bay; !at && (left ? b > 0 : b + 1 < wall.bays.size());) {
      b = left ? b - 1 : b + 1;
      const Span across = on_way(wall.bays[b].across, left), clear = on_way(wall.bays[b].clear, left);
      at = cut_in(clear, across.from + to_go * decays[b].length);
      to_go = std::max(0.0, to_go - across.length() / decays[b].length);
    }
    if (at) (left ? cut.from : cut.to) = left ? -*at : *at;
  }
  return cut;
}

double cells_of(const Window& window) {
  double cells = 1.0;
  for (const Axis& axis : first_lines(window.block, window.own)) cells *= static_cast<double>(axis.cells());
  return cells;
}

}  // namespace

Decay decay_along(const std::vector<Slab>& stack, double film_inside, double film_outside) {
  // Conductances between cells, per area, and k times their size.
  std::vector<double> k, h;
  for (const Slab& s : stack) {
    const int n = std::max(1, static_cast<int>(std::ceil(s.thickness / 0.003)));
    for (int i = 0; i < n; ++i) {
      k.push_back(s.conductivity);
      h.push_back(s.thickness / n);
    }
  }
  const std::size_t n = k.size();
  std::vector<double> G(n + 1);
  G[0] = 1.0 / (0.5 * h[0] / k[0] + film_inside);
  G[n] = 1.0 / (0.5 * h[n - 1] / k[n - 1] + film_outside);
  for (std::size_t i = 1; i < n; ++i) G[i] = 1.0 / (0.5 * h[i - 1] / k[i - 1] + 0.5 * h[i] / k[i]);
  std::vector<double> T(n, 1.0), c(n), d(n);
  double squared = 0.0;
  for (int iteration = 0; iteration < 40; ++iteration) {
    for (std::size_t i = 0; i < n; ++i) {  // A T = k h T of before, tridiagonal
      const double below = i > 0 ? G[i] : 0.0, pivot = G[i] + G[i + 1] - (i > 0 ? below * c[i - 1] : 0.0);
      c[i] = i + 1 < n ? G[i + 1] / pivot : 0.0;
      d[i] = (k[i] * h[i] * T[i] + (i > 0 ? below * d[i - 1] : 0.0)) / pivot;
    }
    for (std::size_t i = n - 1; i-- > 0;) d[i] += c[i] * d[i + 1];
    const double largest = *std::max_element(d.begin(), d.end());
    squared = largest;  // T was at most 1
    for (std::size_t i = 0; i < n; ++i) T[i] = d[i] / largest;
  }
  return {std::sqrt(squared), T[0] * G[0] * film_inside};
}

std::vector<Decay> decays_of(const BuiltWall& wall, const Surroundings& air) {
  constexpr double rays = 0.02;
  constexpr std::size_t together = 5, cells = 60;
  const auto at_heights = static_cast<int>(wall.height / rays);
  std::vector<Decay> slowest;
  slowest.reserve(wall.bays.size());
  for (const BayPlace& bay : wall.bays) {
    const double middle = 0.5 * (bay.clear.from + bay.clear.to);
    const std::vector<const Piece*> pieces =
        pieces_within(wall, {middle - 1e-6, middle + 1e-6}, {0.0, wall.height});
    Decay most{0.0, 0.0};
    std::vector<double> conductivity(cells, 0.0);
    std::vector<std::vector<double>> seen;
    std::size_t in = 0;
    for (int n = 0; n < at_heights; ++n) {
      add_ray(pieces, middle, (n + 0.5) * rays, 1.0 / together, conductivity, wall.depth);
      if (++in < together) continue;
      if (std::find(seen.begin(), seen.end(), conductivity) == seen.end()) {
        std::vector<Slab> stack;
        stack.reserve(conductivity.size());
        for (const double k : conductivity) stack.push_back({wall.depth / cells, k});
        const Decay d = decay_along(stack, air.inside.film, air.outside.film);
        most = {std::max(most.length, d.length), std::max(most.on_face, d.on_face)};
        seen.push_back(conductivity);
      }
      conductivity.assign(cells, 0.0);
      in = 0;
    }
    slowest.push_back(most);
  }
  return slowest;
}

bool show_the_same(const Window& a, const Window& b) {
  const double moved = b.own.from - a.own.from;
  if (a.block.outside_film != b.block.outside_film) return false;
  if (!near(a.own.length(), b.own.length()) || a.block.shows.size() != b.block.shows.size()) return false;
  for (std::size_t d = 0; d < 3; ++d) {
    const auto &x = a.block.lines[d], &y = b.block.lines[d];
    const double by = d == 0 ? moved : 0.0;
    if (!std::equal(x.begin(), x.end(), y.begin(), y.end(),
                    [&](double p, double q) { return near(p + by, q); }))
      return false;
  }
  const bool gaps = std::any_of(a.block.pieces.begin(), a.block.pieces.end(),
                                [](const Piece& p) { return p.material.is_air_space; });
  std::vector<std::pair<std::uint32_t, std::uint32_t>> known;
  for (std::size_t s = 0; s < a.block.shows.size(); ++s) {
    const std::pair pair(a.block.shows[s], b.block.shows[s]);
    if (std::find(known.begin(), known.end(), pair) != known.end()) continue;
    if (!alike(a.block.pieces[pair.first], b.block.pieces[pair.second], gaps)) return false;
    known.push_back(pair);
  }
  // Round pieces are few; two windows with any are the same where all of theirs are.
  if (a.block.round.size() != b.block.round.size()) return false;
  for (std::size_t r = 0; r < a.block.round.size(); ++r) {
    const Piece &p = a.block.pieces[a.block.round[r]], &q = b.block.pieces[b.block.round[r]];
    if (!alike(p, q, gaps) || !lie_alike(p, q, moved)) return false;
  }
  return true;
}

Windows windows(const BuiltWall& wall, const Surroundings& air, double allowed) {
  Windows whole;
  whole.all.push_back({{0.0, wall.width}, block_of(wall), 0});
  const std::size_t n = wall.bays.size();
  if (n < 2) return whole;

  constexpr double whole_grows = 1.5;  // what one bay needs, all bays are given
  constexpr double at_most = 0.25;     // of the difference between the two airs
  const double difference = at_most * std::abs(air.inside.temperature - air.outside.temperature);
  const std::vector<Decay> decays = decays_of(wall, air);
  double on_face = 0.0;
  for (const Decay& d : decays) on_face = std::max(on_face, d.on_face);
  const double lengths = std::log(std::max(1.0, on_face * difference / allowed));
  Windows parts;
  parts.uncertainty = allowed;
  double cells = 0.0;
  const double too_many = whole_grows * cells_of(whole.all[0]);
  for (std::size_t b = 0; b < n; ++b) {
    Span own = wall.bays[b].across;
    if (b == 0) own.from = 0.0;
    if (b + 1 == n) own.to = wall.width;
    parts.all.push_back({own, cut_out(wall, cut_round(wall, decays, b, lengths)), b});
    Window& window = parts.all.back();
    const auto same = std::find_if(parts.all.begin(), parts.all.end() - 1, [&](const Window& w) {
      return w.like == static_cast<std::size_t>(&w - parts.all.data()) && show_the_same(w, window);
    });
    window.like = static_cast<std::size_t>(same - parts.all.begin());
    if (window.like == b) cells += cells_of(window);
    if (cells > too_many) return whole;
  }
  return parts;
}

}  // namespace coldbay
