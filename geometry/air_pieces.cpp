#include "geometry/air_pieces.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace coldbay {
namespace {

constexpr double smallest_step = 0.002;  ///< [m]; no more than what [ISO10077] lets pass for a throat

/// Air cells of one column that follow each other in depth: rows [from, to).
struct Stack {
  Index column, from, to;
};

std::vector<Stack> stacks_of(const Painting& p, std::vector<Index>& region) {
  const Index na = p.across.cells();
  std::sort(region.begin(), region.end(),
            [na](Index a, Index b) { return std::pair(a % na, a / na) < std::pair(b % na, b / na); });
  std::vector<Stack> stacks;
  for (const Index cell : region) {
    const Index i = cell % na, k = cell / na;
    if (!stacks.empty() && stacks.back().column == i && stacks.back().to == k)
      ++stacks.back().to;
    else
      stacks.push_back({i, k, k + 1});
  }
  return stacks;
}

/// True where the ends a and b (rows) of two neighbouring stacks are a step apart, and not a slant: a slanted
/// edge between them crosses the cells of one column or the other.
bool is_step(const Painting& p, Index column, Index a, Index b) {
  if (std::abs(p.depth.edge(a) - p.depth.edge(b)) <= smallest_step * (1.0 + 1e-9)) return false;
  Index plain = 0;
  for (Index k = std::min(a, b); k < std::max(a, b); ++k) {
    const auto mixed = [&](Index i) {
      return p.shape[static_cast<std::size_t>(i + p.across.cells() * k)] == Painting::mixed;
    };
    plain += mixed(column) || mixed(column + 1) ? 0 : 1;
  }
  return 2 * plain > std::abs(a - b);
}

}  // namespace

std::vector<std::vector<Index>> pieces_of(const Painting& p, std::vector<Index> region) {
  const std::vector<Stack> stacks = stacks_of(p, region);
  // Each stack belongs to the piece of the first one that it is joined to.
  std::vector<std::size_t> first(stacks.size());
  std::iota(first.begin(), first.end(), std::size_t{0});
  const auto root = [&](std::size_t s) {
    while (first[s] != s) s = first[s] = first[first[s]];
    return s;
  };
  std::size_t begin = 0;  // of the stacks in the column before
  for (std::size_t s = 0; s < stacks.size(); ++s) {
    while (stacks[begin].column + 1 < stacks[s].column) ++begin;
    for (std::size_t b = begin; b < s && stacks[b].column + 1 == stacks[s].column; ++b) {
      const Stack &left = stacks[b], &right = stacks[s];
      const bool touch = left.from < right.to && right.from < left.to;
      if (touch && !is_step(p, left.column, left.from, right.from) &&
          !is_step(p, left.column, left.to, right.to)) {
        const std::size_t one = root(b), other = root(s);
        first[std::max(one, other)] = std::min(one, other);
      }
    }
  }
  std::map<std::size_t, std::vector<Index>> cells;
  for (std::size_t s = 0; s < stacks.size(); ++s)
    for (Index k = stacks[s].from; k < stacks[s].to; ++k)
      cells[root(s)].push_back(stacks[s].column + p.across.cells() * k);
  std::vector<std::vector<Index>> pieces;
  pieces.reserve(cells.size());
  for (auto& [_, piece] : cells) pieces.push_back(std::move(piece));
  return pieces;
}

}  // namespace coldbay
