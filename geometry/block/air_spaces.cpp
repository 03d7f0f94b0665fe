#include "geometry/block/air_spaces.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include "materials/air_space.hpp"

namespace coldbay {
namespace {

constexpr double smallest_step = 0.002 * (1.0 + 1e-9);  ///< as geometry/air_pieces.cpp has it [m]
constexpr double endless = std::numeric_limits<double>::infinity();

/// Air stretches of one place of the elevation that follow each other in depth.
struct Stack {
  Index i, j, from, to;           // stretches [from, to) in depth
  std::array<double, 2> reach{};  // how far the air goes on from it, left to right and bottom to top
  double narrow() const { return std::min(reach[0], reach[1]); }
};

bool differ(double a, double b) { return a != b && std::abs(a - b) > smallest_step; }  // inf - inf is NaN

class Stacks {
 public:
  explicit Stacks(const Block& block) : b_(block), first_(at(columns()) + 1) {
    for (Index c = 0; c < columns(); ++c) {
      first_[at(c)] = all.size();
      const Index i = c % b_.stretches(Direction::across), j = c / b_.stretches(Direction::across);
      for (Index k = 0; k < b_.stretches(Direction::depth); ++k) {
        if (!is_air(i, j, k)) continue;
        if (all.size() > first_[at(c)] && all.back().to == k)
          ++all.back().to;
        else
          all.push_back({i, j, k, k + 1});
      }
    }
    first_[at(columns())] = all.size();
    root_.resize(all.size());
  }

  std::vector<Stack> all;

  bool is_air(Index i, Index j, Index k) const {
    const Piece& p = b_.pieces[b_.shows[at(b_.stretch(i, j, k))]];
    return p.material.is_air_space && !p.held;
  }
  double line(Direction d, Index n) const { return b_.lines[static_cast<std::size_t>(d)][at(n)]; }
  double depth(const Stack& s) const { return line(Direction::depth, s.to) - line(Direction::depth, s.from); }
  double width(const Stack& s, Direction d) const {
    const Index n = d == Direction::across ? s.i : s.j;
    return line(d, n + 1) - line(d, n);
  }

  /// Stacks beside one in the next place of a direction that touch it.
  template <class F>
  void for_each_beside(std::size_t s, Direction d, int step, F f) const {
    const Index i = all[s].i + (d == Direction::across ? step : 0),
                j = all[s].j + (d == Direction::up ? step : 0);
    if (i < 0 || j < 0 || i >= b_.stretches(Direction::across) || j >= b_.stretches(Direction::up)) return;
    const Index c = i + b_.stretches(Direction::across) * j;
    for (std::size_t t = first_[at(c)]; t < first_[at(c + 1)]; ++t)
      if (all[t].from < all[s].to && all[s].from < all[t].to) f(t);
  }
  bool level(std::size_t s, std::size_t t) const {
    return !differ(line(Direction::depth, all[s].from), line(Direction::depth, all[t].from)) &&
           !differ(line(Direction::depth, all[s].to), line(Direction::depth, all[t].to));
  }

  /// Joins neighbours for which `joins` holds; numbers what is joined from 0 up.
  template <class Joins>
  std::vector<std::size_t> joined(Joins joins) {
    std::iota(root_.begin(), root_.end(), std::size_t{0});
    for (std::size_t s = 0; s < all.size(); ++s)
      for (const Direction d : {Direction::across, Direction::up})
        for_each_beside(s, d, 1, [&](std::size_t t) {
          if (!joins(s, t)) return;
          const std::size_t one = root(s), other = root(t);
          root_[std::max(one, other)] = std::min(one, other);
        });
    std::vector<std::size_t> number(all.size(), all.size()), label(all.size());
    std::size_t n = 0;
    for (std::size_t s = 0; s < all.size(); ++s) {
      std::size_t& named = number[root(s)];
      if (named == all.size()) named = n++;
      label[s] = named;
    }
    return label;
  }

  /// Share of the end of a stack that is open to other air, or cut by the block.
  double open(std::size_t s, Direction d, int step) const {
    const Index n = d == Direction::across ? all[s].i : all[s].j;
    if (n + step < 0 || n + step >= b_.stretches(d)) return 1.0;
    double beside = 0.0;
    for_each_beside(s, d, step, [&](std::size_t t) {
      beside += line(Direction::depth, std::min(all[s].to, all[t].to)) -
                line(Direction::depth, std::max(all[s].from, all[t].from));
    });
    return beside / depth(all[s]);
  }

  /// How far every stack's level air reaches along d, with what goes on beyond its ends.
  void find_reach(Direction d) {
    const std::size_t a = d == Direction::across ? 0 : 1;
    for (std::size_t s = 0; s < all.size(); ++s) {
      if (all[s].reach[a] > 0.0) continue;
      std::vector<std::size_t> run{s};
      const auto follow = [&](int step) {
        for (bool more = true; more;) {
          more = false;
          const std::size_t end = run.back();
          for_each_beside(end, d, step, [&](std::size_t t) {
            if (more || !level(end, t)) return;
            more = true;
            run.push_back(t);
          });
        }
      };
      follow(-1);
      const double low = open(run.back(), d, -1);
      std::reverse(run.begin(), run.end());
      follow(1);
      const double closed = 1.0 - 0.5 * (low + open(run.back(), d, 1));
      double length = 0.0;
      for (const std::size_t r : run) length += width(all[r], d);
      for (const std::size_t r : run) all[r].reach[a] = closed > 1e-6 ? length / closed : endless;
    }
  }

 private:
  Index columns() const { return b_.stretches(Direction::across) * b_.stretches(Direction::up); }
  std::size_t root(std::size_t s) {
    while (root_[s] != s) s = root_[s] = root_[root_[s]];
    return s;
  }
  const Block& b_;
  std::vector<std::size_t> first_, root_;
};

/// Means over the stacks of a space, weighted by their area in the elevation.
struct Sums {
  double area = 0.0, volume = 0.0, narrow = 0.0;
  double from = endless, to = -endless;
  std::array<double, 2> reach{}, endless_area{};
  std::array<std::array<double, 2>, 3> emissivity{}, area_of_ends{};
};

/// Adds the emissivity of the solid faces round one stretch of air.
void add_faces(const Block& b, const std::vector<int>& of_stretch, const std::array<Index, 3>& ijk,
               Sums& sums) {
  const auto length = [&](std::size_t d) { return b.lines[d][at(ijk[d] + 1)] - b.lines[d][at(ijk[d])]; };
  for (std::size_t d = 0; d < 3; ++d)
    for (const int end : {0, 1}) {
      std::array<Index, 3> next = ijk;
      next[d] += end == 0 ? -1 : 1;
      if (next[d] < 0 || next[d] >= b.stretches(static_cast<Direction>(d))) continue;
      const auto s = at(b.stretch(next[0], next[1], next[2]));
      if (of_stretch[s] >= 0) continue;
      const double face = length((d + 1) % 3) * length((d + 2) % 3);
      sums.emissivity[d][at(end)] += face * b.pieces[b.shows[s]].material.emissivity;
      sums.area_of_ends[d][at(end)] += face;
    }
}

BlockAirSpace space_of(const Sums& sums) {
  BlockAirSpace space;
  const double deep = sums.to - sums.from;
  // Equal area and the proportions of what encloses it: both sides shrink alike.
  const double shrink = std::sqrt(std::min(1.0, sums.volume / (sums.area * deep)));
  space.depth = shrink * deep;
  space.narrow = shrink * sums.narrow / sums.area;
  for (std::size_t a = 0; a < 2; ++a)
    space.reach[a] = 2.0 * sums.endless_area[a] > sums.area
                         ? endless
                         : shrink * sums.reach[a] / (sums.area - sums.endless_area[a]);
  for (std::size_t d = 0; d < 3; ++d) {
    const auto& [low, high] = sums.area_of_ends[d];
    if (low > 0.0) space.state[d].emissivity_low = sums.emissivity[d][0] / low;
    if (high > 0.0) space.state[d].emissivity_high = sums.emissivity[d][1] / high;
  }
  return space;
}

/// A round void, reckoned as [ISO10077] does: a rectangle of equal area and of the proportions of the
/// smallest one round it.
BlockAirSpace round_space(const Piece& p) {
  const Rectangle box = bounding_box(p.outline);
  const double shrink = std::sqrt(area(p.outline) / (box.across.length() * box.depth.length()));
  BlockAirSpace space;
  space.depth = shrink * box.depth.length();
  space.reach[p.along == Direction::up ? 0 : 1] = shrink * box.across.length();
  space.reach[p.along == Direction::up ? 1 : 0] = p.reach.length();
  space.narrow = std::min(space.reach[0], space.reach[1]);
  space.slightly_ventilated = p.slightly_ventilated;
  return space;
}

}  // namespace

BlockAir find_air_spaces(const Block& block) {
  BlockAir air;
  air.of_stretch.assign(block.shows.size(), -1);
  air.of_piece.assign(block.pieces.size(), -1);
  Stacks stacks(block);
  for (const Direction d : {Direction::across, Direction::up}) stacks.find_reach(d);
  const std::vector<std::size_t> label = stacks.joined([&](std::size_t s, std::size_t t) {
    return stacks.level(s, t) && !differ(stacks.all[s].narrow(), stacks.all[t].narrow());
  });
  // What is ventilated is so as far as its air is joined.
  const std::vector<std::size_t> whole = stacks.joined([](std::size_t, std::size_t) { return true; });
  std::vector<Sums> sums(stacks.all.size());
  std::vector<bool> ventilated(stacks.all.size(), false);
  for (std::size_t n = 0; n < stacks.all.size(); ++n) {
    const Stack& s = stacks.all[n];
    Sums& sum = sums[label[n]];
    const double area = stacks.width(s, Direction::across) * stacks.width(s, Direction::up);
    sum.area += area;
    sum.volume += area * stacks.depth(s);
    sum.narrow += area * s.narrow();
    sum.from = std::min(sum.from, stacks.line(Direction::depth, s.from));
    sum.to = std::max(sum.to, stacks.line(Direction::depth, s.to));
    for (std::size_t a = 0; a < 2; ++a)
      if (s.reach[a] == endless)
        sum.endless_area[a] += area;
      else
        sum.reach[a] += area * s.reach[a];
    for (Index k = s.from; k < s.to; ++k) {
      const auto stretch = at(block.stretch(s.i, s.j, k));
      air.of_stretch[stretch] = static_cast<int>(label[n]);
      if (block.pieces[block.shows[stretch]].slightly_ventilated) ventilated[whole[n]] = true;
    }
  }
  for (std::size_t n = 0; n < stacks.all.size(); ++n)
    for (Index k = stacks.all[n].from; k < stacks.all[n].to; ++k)
      add_faces(block, air.of_stretch, {stacks.all[n].i, stacks.all[n].j, k}, sums[label[n]]);
  for (const Sums& sum : sums) {
    if (!(sum.area > 0.0)) break;  // labels run from 0 up
    air.spaces.push_back(space_of(sum));
  }
  for (std::size_t n = 0; n < stacks.all.size(); ++n)
    if (ventilated[whole[n]]) air.spaces[label[n]].slightly_ventilated = true;
  for (const std::uint32_t p : block.round)
    if (block.pieces[p].material.is_air_space && !block.pieces[p].held) {
      air.of_piece[p] = static_cast<int>(air.spaces.size());
      air.spaces.push_back(round_space(block.pieces[p]));
    }
  for (BlockAirSpace& space : air.spaces) apply_rule(space);
  return air;
}

namespace {

/// What a thickness is that is crossed by heat along d, `width` wide.
AirSpace crossed(const BlockAirSpace& s, std::size_t d, double thickness, double width) {
  AirSpace space;
  space.thickness = thickness;
  space.width = width;
  space.emissivity_warm = s.state[d].emissivity_low;
  space.emissivity_cold = s.state[d].emissivity_high;
  space.mean_temperature = s.state[d].mean_temperature;
  space.difference = s.state[d].difference;
  return space;
}

}  // namespace

void apply_rule(BlockAirSpace& s) {
  const auto conducts = [&](std::size_t d, double thickness, double width) {
    return thickness / air_space_resistance(crossed(s, d, thickness, width)) *
           (s.slightly_ventilated ? 2.0 : 1.0);
  };
  const double outward = conducts(2, s.depth, s.narrow);
  s.conductivity = {outward, outward, outward};
  for (std::size_t a = 0; a < 2; ++a)
    if (s.reach[a] != endless)
      s.conductivity[a] = std::min(outward, conducts(a, s.reach[a], std::min(s.depth, s.reach[1 - a])));
}

double radiative_coefficient(const BlockAirSpace& s, Direction direction) {
  if (direction == Direction::depth) return radiative_coefficient(crossed(s, 2, s.depth, s.narrow));
  const std::size_t a = direction == Direction::across ? 0 : 1;
  return radiative_coefficient(crossed(s, a, s.reach[a], std::min(s.depth, s.reach[1 - a])));
}

}  // namespace coldbay
