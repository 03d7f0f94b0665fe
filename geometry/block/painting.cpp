#include "geometry/block/painting.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <tuple>
#include <utility>

#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr int S = Pattern::samples;
constexpr std::size_t D = static_cast<std::size_t>(Direction::depth);

/// A quarter of the mean thickness of a round piece, 2 area / perimeter.
double quarter_thickness(const Outline& outline) {
  if (const auto* c = std::get_if<Circle>(&outline)) return 0.25 * c->radius;
  const auto& p = std::get<Polygon>(outline).corners;
  double perimeter = 0.0;
  for (std::size_t i = 0, j = p.size() - 1; i < p.size(); j = i++)
    perimeter += std::hypot(p[i].across - p[j].across, p[i].depth - p[j].depth);
  return 0.5 * area(outline) / perimeter;
}

/// The axis of an outline's first direction.
std::size_t first_axis(const Piece& p) { return p.along == Direction::up ? 0 : 1; }

/// Cells of an axis within a span whose ends may lie anywhere.
std::pair<Index, Index> cells_within(const Axis& axis, Span s) {
  return {axis.cell_at(s.from + merge_distance), axis.cell_at(s.to - merge_distance) + 1};
}

/// Paints the round pieces over what planes bound.
class RoundPainter {
 public:
  RoundPainter(const Block& block, BlockPainting& painting) : b_(block), p_(painting) {}

  void add(std::uint32_t id) {
    const Piece& piece = b_.pieces[id];
    const Rectangle box = bounding_box(piece.outline);
    const std::size_t a = first_axis(piece), along = 1 - a;
    const Span reach{std::max(piece.reach.from, p_.axis[along].edges().front()),
                     std::min(piece.reach.to, p_.axis[along].edges().back())};
    if (!(reach.length() > merge_distance)) return;
    const auto [i0, i1] = cells_within(p_.axis[a], box.across);
    const auto [k0, k1] = cells_within(p_.axis[D], box.depth);
    const auto [j0, j1] = cells_within(p_.axis[along], reach);
    for (Index k = k0; k < k1; ++k)
      for (Index i = i0; i < i1; ++i) {
        const std::vector<bool> in = sampled(piece.outline, p_.axis[a], i, k);
        const auto covered = std::count(in.begin(), in.end(), true);
        if (covered == 0) continue;
        std::map<std::uint32_t, std::uint32_t> made;  // patterns, by what was there before
        for (Index j = j0; j < j1; ++j) {
          std::uint32_t& shows = p_.shows[at(a == 0 ? cell(i, j, k) : cell(j, i, k))];
          if (shows < b_.pieces.size() && shows > id) continue;  // later pieces show over it
          if (covered == std::ssize(in)) {
            shows = id;
            continue;
          }
          const auto known = made.find(shows);
          if (known != made.end()) {
            shows = known->second;
            continue;
          }
          const auto next = static_cast<std::uint32_t>(b_.pieces.size() + p_.patterns.size());
          p_.patterns.push_back(pattern(shows, piece.along, in, id));
          made[shows] = next;
          shows = next;
        }
      }
  }

 private:
  Index cell(Index i, Index j, Index k) const {
    return i + p_.axis[0].cells() * (j + p_.axis[1].cells() * k);
  }
  std::vector<bool> sampled(const Outline& outline, const Axis& axis, Index i, Index k) const {
    std::vector<bool> in;
    in.reserve(std::size_t{S} * S);
    for (int row = 0; row < S; ++row)
      for (int column = 0; column < S; ++column)
        in.push_back(contains(outline, {axis.edge(i) + axis.width(i) * (column + 0.5) / S,
                                        p_.axis[D].edge(k) + p_.axis[D].width(k) * (row + 0.5) / S}));
    return in;
  }
  /// Where two round pieces that run in different directions share a cell, the one before counts as what most
  /// of the cell shows.
  Pattern pattern(std::uint32_t before, Direction along, const std::vector<bool>& in,
                  std::uint32_t id) const {
    Pattern next{along, {}};
    if (before < b_.pieces.size()) {
      next.pieces.assign(in.size(), before);
    } else {
      const Pattern& old = p_.patterns[before - b_.pieces.size()];
      next.pieces = old.pieces;
      if (old.along != along) {
        std::map<std::uint32_t, int> count;
        for (const std::uint32_t piece : old.pieces) ++count[piece];
        const auto most =
            std::max_element(count.begin(), count.end(), [](auto x, auto y) { return x.second < y.second; });
        next.pieces.assign(in.size(), most->first);
      }
    }
    for (std::size_t s = 0; s < in.size(); ++s)
      if (in[s]) next.pieces[s] = id;
    return next;
  }

  const Block& b_;
  BlockPainting& p_;
};

/// Conductivity of what is held [W/(m K)]: no heat is reckoned in there, so any will do.
constexpr double no_matter = 1.0;

/// What pieces conduct in one cell.
struct Conducts {
  const Block& block;
  const BlockAir& air;
  std::array<double, 3> operator()(std::uint32_t id, std::size_t stretch, double celsius) const {
    const Piece& p = block.pieces[id];
    if (p.held) return {no_matter, no_matter, no_matter};
    if (p.material.is_air_space) {
      const int space = air.of_piece[id] >= 0 ? air.of_piece[id] : air.of_stretch[stretch];
      if (space < 0) return {0.025, 0.025, 0.025};  // of a pattern at the edge of air: still
      return air.spaces[static_cast<std::size_t>(space)].conductivity;
    }
    const double k = conductivity_at(p.material, celsius);
    std::array<double, 3> all{k, k, k};
    if (p.material.along_grain) all[static_cast<std::size_t>(p.grain)] = *p.material.along_grain;
    return all;
  }
};

struct MixedValue {
  std::array<double, 3> conductivity{};
  std::optional<double> held;
};

MixedValue mixed_value(const Conducts& conducts, const Pattern& pattern, std::size_t stretch,
                       double celsius) {
  std::vector<std::pair<std::uint32_t, std::array<double, 3>>> known;  // few pieces in a cell
  std::array<std::array<double, 3>, std::size_t{S} * S> k{};
  std::size_t n_held = 0;
  double held = 0.0;
  for (std::size_t s = 0; s < k.size(); ++s) {
    const std::uint32_t id = pattern.pieces[s];
    auto same = std::find_if(known.begin(), known.end(), [&](const auto& n) { return n.first == id; });
    if (same == known.end()) same = known.insert(same, {id, conducts(id, stretch, celsius)});
    k[s] = same->second;
    if (const auto& at_temperature = conducts.block.pieces[id].held) {
      ++n_held;
      held += *at_temperature;
    }
  }
  const std::size_t a = pattern.along == Direction::up ? 0 : 1;
  const auto sample = [](int row, int column) {
    return static_cast<std::size_t>(row) * S + static_cast<std::size_t>(column);
  };
  MixedValue value;
  value.conductivity[a] = bounds_of(S, [&](int r, int q) { return k[sample(r, q)][a]; }).mean();
  value.conductivity[D] = bounds_of(S, [&](int r, int q) { return k[sample(q, r)][D]; }).mean();
  for (const auto& one : k) value.conductivity[1 - a] += one[1 - a] / (S * S);
  if (2 * n_held >= k.size()) value.held = held / static_cast<double>(n_held);
  return value;
}

/// Fills so much alike that heat hardly turns between them: lumps of scraps, and the steps in which a batt is
/// squeezed.
bool nearly_alike(const Piece& a, const Piece& b) {
  constexpr double hardly = 1.25;
  if (a.role != Piece::Role::fill || b.role != Piece::Role::fill) return false;
  const double k = conductivity_at(a.material, 10.0), other = conductivity_at(b.material, 10.0);
  return std::max(k, other) <= hardly * std::min(k, other);
}

/// Where materials meet in the room face its temperature bends within millimetres; where they meet behind it,
/// within the cells that sizes at a line are for; where nearly nothing changes within `near`, not at all.
void sort_lines(const Block& block, Span near, std::array<LineWishes, 3>& wishes) {
  const std::array<Index, 3> n{block.stretches(Direction::across), block.stretches(Direction::up),
                               block.stretches(Direction::depth)};
  const std::array<Index, 3> step{1, n[0], n[0] * n[1]};
  std::array<std::vector<bool>, 3> turns, in_face;
  for (std::size_t d = 0; d < 3; ++d) {
    turns[d].assign(at(n[d] + 1), false);
    in_face[d] = turns[d];
    turns[d].front() = turns[d].back() = true;
  }
  // Neighbours are few pairs of pieces, stretches are many.
  std::map<std::pair<std::uint32_t, std::uint32_t>, bool> known;
  const auto differ = [&](std::uint32_t a, std::uint32_t b) {
    if (block.look[a] == block.look[b]) return false;
    const auto [pair, is_new] = known.try_emplace({a, b}, false);
    if (is_new) pair->second = !nearly_alike(block.pieces[a], block.pieces[b]);
    return pair->second;
  };
  for (Index i = 0; i < n[0]; ++i) {
    if (block.lines[0][at(i + 1)] < near.from || block.lines[0][at(i)] > near.to) continue;
    for (Index k = 0; k < n[2]; ++k)
      for (Index j = 0; j < n[1]; ++j) {
        const std::array<Index, 3> ijk{i, j, k};
        const Index stretch = block.stretch(i, j, k);
        for (std::size_t d = 0; d < 3; ++d) {
          if (ijk[d] + 1 == n[d]) continue;
          const std::uint32_t one = block.shows[at(stretch)], other = block.shows[at(stretch + step[d])];
          if (!differ(one, other)) continue;
          turns[d][at(ijk[d] + 1)] = true;
          if (k == 0 && d < 2) in_face[d][at(ijk[d] + 1)] = true;
        }
      }
  }
  for (std::size_t d = 0; d < 3; ++d)
    for (std::size_t l = 0; l < turns[d].size(); ++l) {
      if (in_face[d][l]) {
        wishes[d].fine.push_back(block.lines[d][l]);
        wishes[2].fine = {block.lines[2].front()};
      } else if (!turns[d][l]) {
        wishes[d].plain.push_back(block.lines[d][l]);
      }
    }
}

}  // namespace

std::array<Axis, 3> block_lines(const Block& block, Span near, const std::array<CellSizes, 3>& sizes,
                                const std::array<std::vector<Cap>, 3>& caps) {
  std::array<LineWishes, 3> wishes;
  for (std::size_t d = 0; d < 3; ++d) {
    wishes[d].lines = block.lines[d];
    wishes[d].caps = caps[d];
  }
  sort_lines(block, near, wishes);
  for (const std::uint32_t r : block.round) {
    const Piece& p = block.pieces[r];
    const Span across = extent(p, Direction::across);
    if (across.to < near.from || across.from > near.to) continue;
    const double size = quarter_thickness(p.outline);
    for (const std::size_t d : {first_axis(p), D})
      wishes[d].caps.push_back(
          {extent(p, static_cast<Direction>(d)), std::max(size, 0.25 * sizes[d].at_line)});
  }
  const auto axis = [&](std::size_t d) {
    constexpr Index many = 20'000;
    return graded_axis(wishes[d], block.span(static_cast<Direction>(d)), sizes[d], many);
  };
  return {axis(0), axis(1), axis(2)};
}

BlockPainting paint(const Block& block, std::array<Axis, 3> axis) {
  BlockPainting p{std::move(axis), {}, {}, {}};
  for (std::size_t d = 0; d < 3; ++d) {
    const auto& lines = block.lines[d];
    for (Index i = 0; i < p.axis[d].cells(); ++i) {
      const auto above = std::upper_bound(lines.begin(), lines.end(), p.axis[d].centre(i));
      p.stretch[d].push_back(
          std::clamp<Index>(above - lines.begin() - 1, 0, block.stretches(static_cast<Direction>(d)) - 1));
    }
  }
  p.shows.reserve(p.stretch[0].size() * p.stretch[1].size() * p.stretch[2].size());
  for (const Index k : p.stretch[2])
    for (const Index j : p.stretch[1])
      for (const Index i : p.stretch[0]) p.shows.push_back(block.shows[at(block.stretch(i, j, k))]);
  RoundPainter painter(block, p);
  for (const std::uint32_t r : block.round) painter.add(r);
  return p;
}

ConductivityGrid conductivity_grid(const Block& block, const BlockPainting& p, const BlockAir& air,
                                   const std::vector<double>& celsius) {
  ConductivityGrid grid{p.axis, {}, {}, {}};
  for (auto& k : grid.conductivity) k.resize(p.shows.size());
  const Conducts conducts{block, air};
  // What does not depend on the cell: all but air, and materials with a law in temperature.
  std::vector<std::optional<std::array<double, 3>>> fixed(block.pieces.size());
  for (std::size_t id = 0; id < fixed.size(); ++id)
    if (const Piece& piece = block.pieces[id];
        !piece.material.is_air_space && !piece.material.law && !piece.held)
      fixed[id] = conducts(static_cast<std::uint32_t>(id), 0, 10.0);
  std::size_t c = 0;
  for (const Index k : p.stretch[2])
    for (const Index j : p.stretch[1])
      for (const Index i : p.stretch[0]) {
        const std::uint32_t id = p.shows[c];
        std::array<double, 3> value{};
        const double T = celsius.empty() ? 10.0 : celsius[c];
        if (id < fixed.size() && fixed[id]) {
          value = *fixed[id];
        } else if (id < fixed.size()) {
          value = conducts(id, at(block.stretch(i, j, k)), T);
          if (const auto& held = block.pieces[id].held) grid.held.push_back({static_cast<Index>(c), *held});
        } else {
          const MixedValue mixed =
              mixed_value(conducts, p.patterns[id - fixed.size()], at(block.stretch(i, j, k)), T);
          value = mixed.conductivity;
          if (mixed.held) grid.held.push_back({static_cast<Index>(c), *mixed.held});
        }
        for (std::size_t d = 0; d < 3; ++d) grid.conductivity[d][c] = value[d];
        ++c;
      }
  return grid;
}

}  // namespace coldbay
