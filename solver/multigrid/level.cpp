#include "solver/multigrid/level.hpp"

#include <algorithm>

#include "solver/multigrid/coarser_network.hpp"
#include "solver/multigrid/rows.hpp"
#include "solver/parallel.hpp"

namespace coldbay {
namespace {

/// Cells that one thread relaxes at a time, at most: what it comes back to, three numbers a cell, stays in
/// its cache, and rows are long enough to stream. (16384 took half as long again on three million cells.)
constexpr Index cells_per_chunk = 65536;
constexpr Index chunks_to_share = 8;  ///< at least, so that threads end together

std::vector<Chunk> chunks(const Sorting& s, Index first, Index last, Index depth) {
  std::vector<Chunk> out;
  const Index share = ((last - first) / chunks_to_share / 16 + 1) * 16;
  const Index width = std::max<Index>(64, std::min(share, cells_per_chunk / depth / 16 * 16));
  for (Index at = first; at < last; at += width) {
    Chunk chunk{at, std::min(width, last - at), {}};
    for (const Run& run : s.runs)
      for (const bool from_q : {false, true}) {
        const Index here = from_q ? run.q : run.p, there = from_q ? run.p : run.q;
        const Index begin = std::max(here, at), end = std::min(here + run.count, at + chunk.count);
        if (begin < end)
          chunk.links.push_back({begin, there + begin - here, end - begin, run.link + begin - here,
                                 (here < s.kept) == (there < s.kept), run.q_first ? 0 : 1});
      }
    out.push_back(std::move(chunk));
  }
  return out;
}

template <class Real, class From>
void copy_links(Level<Real>& level, const Network<From>& net) {
  const Sorting& s = level.sorting;
  level.g.resize(static_cast<std::size_t>(s.links * level.depth));
  in_parallel(level.depth, s.links * level.depth, [&](Index k) {
    for (const Run& run : s.runs) {
      const From* from = net.sideways[run.way].data() + s.columns() * k;
      const std::int32_t* column = s.column_at.data() + (run.q_first ? run.q : run.p);
      Real* to = level.g.data() + run.link + s.links * k;
      for (Index i = 0; i < run.count; ++i) to[i] = static_cast<Real>(from[column[i]]);
    }
  });
}

/// row += the conductances at depth k of the chunk's links that are wanted.
template <class Real, class Wanted>
void add_links(const Level<Real>& level, const Chunk& chunk, Index k, Real* row, Wanted wanted) {
  for (const Chunk::Link& l : chunk.links)
    if (wanted(l))
      rows::add(l.count, row + l.here - chunk.first, level.g.data() + l.link + level.sorting.links * k);
}

/// row += what leads to the air from the chunk's cells at depth k.
template <class Real, class From>
void add_air(const Level<Real>& level, const Network<From>& net, const Chunk& chunk, Index k, Real* row) {
  const std::vector<From>& air = net.to_air[static_cast<std::size_t>(k)];
  if (air.empty()) return;
  const std::int32_t* column = level.sorting.column_at.data() + chunk.first;
  for (Index i = 0; i < chunk.count; ++i)
    row[i] += static_cast<Real>(air[static_cast<std::size_t>(column[i])]);
}

/// Factors the columns of a chunk, L D L^T, without a subtraction: a pivot is what leads on outward and
/// what leads away in any other manner, and the latter passes on to the next row in its share.
template <class Real, class From, class Wanted>
void factor(Level<Real>& level, const Network<From>& net, const Chunk& chunk, Wanted wanted) {
  const Index M = level.columns(), n = chunk.count;
  std::vector<Real> away(static_cast<std::size_t>(n), Real(0));
  const std::int32_t* column = level.sorting.column_at.data() + chunk.first;
  for (Index k = 0; k < level.depth; ++k) {
    Real* multiplier = level.multiplier.data() + chunk.first + M * k;
    Real* inverse = level.inverse.data() + chunk.first + M * k;
    const From* outward = net.outward.data() + M * k;
    for (Index i = 0; i < n; ++i) away[static_cast<std::size_t>(i)] *= multiplier[i];
    add_air(level, net, chunk, k, away.data());
    add_links(level, chunk, k, away.data(), wanted);
    for (Index i = 0; i < n; ++i) {
      const Real on = static_cast<Real>(outward[column[i]]);
      inverse[i] = Real(1) / (on + away[static_cast<std::size_t>(i)]);
      multiplier[i + M] = on * inverse[i];
    }
  }
}

/// Weights of the columns on either side, and what is missing to 1: what leads to the air.
template <class Real, class From>
Weights<Real> find_weights(const Level<Real>& level, const Network<From>& net) {
  const Index N = level.sorting.left_out(), kept = level.sorting.kept;
  Weights<Real> w;
  for (auto* to : {&w.before, &w.after, &w.missing}) to->resize(static_cast<std::size_t>(N * level.depth));
  in_parallel(std::ssize(level.left_out_chunks), N * level.depth, [&](Index c) {
    const Chunk& chunk = level.left_out_chunks[static_cast<std::size_t>(c)];
    const Index n = chunk.count;
    std::vector<Real> t(static_cast<std::size_t>(n * level.depth));
    const auto solve_for = [&](std::vector<Real>& to, auto add_row) {
      std::fill(t.begin(), t.end(), Real(0));
      for (Index k = 0; k < level.depth; ++k) add_row(k, t.data() + n * k);
      solve_columns(level, chunk.first, n, t.data(), to.data() + chunk.first - kept, N);
    };
    const auto one_at = [&](int side) {
      return [&level, &chunk, side](Index k, Real* row) {
        add_links(level, chunk, k, row, [&](const Chunk::Link& l) { return !l.same_sort && l.side == side; });
      };
    };
    solve_for(w.before, one_at(0));
    solve_for(w.after, one_at(1));
    solve_for(w.missing, [&](Index k, Real* row) { add_air(level, net, chunk, k, row); });
  });
  return w;
}

}  // namespace

template <class Real>
void solve_columns(const Level<Real>& level, Index first, Index n, Real* t, Real* out, Index stride) {
  const Index M = level.columns(), last = level.depth - 1;
  const Real* L = level.multiplier.data() + first;
  const Real* D = level.inverse.data() + first;
  for (Index k = 1; k <= last; ++k) rows::add_product(n, t + n * k, L + M * k, t + n * (k - 1));
  rows::product(n, out + stride * last, t + n * last, D + M * last);
  for (Index k = last; k-- > 0;)
    rows::two_products(n, out + stride * k, t + n * k, D + M * k, L + M * (k + 1), out + stride * (k + 1));
}

template <class Real, class From>
Coarsened<Real> coarsen(const Network<From>& net) {
  Coarsened<Real> out;
  Level<Real>& level = out.level;
  level.sorting = sort_columns(net.at, net.up_fastest);
  level.depth = net.depth;
  const Sorting& s = level.sorting;
  level.kept_chunks = chunks(s, 0, s.kept, level.depth);
  level.left_out_chunks = chunks(s, s.kept, s.columns(), level.depth);
  level.touching = std::any_of(s.runs.begin(), s.runs.end(),
                               [&](const Run& r) { return (r.p < s.kept) == (r.q < s.kept); });
  copy_links(level, net);

  const Index cells = s.columns() * level.depth;
  level.multiplier.assign(static_cast<std::size_t>(cells + s.columns()), Real(0));
  level.inverse.resize(static_cast<std::size_t>(cells));
  const auto factor_all = [&](const std::vector<Chunk>& chunks, auto wanted) {
    in_parallel(std::ssize(chunks), cells,
                [&](Index c) { factor(level, net, chunks[static_cast<std::size_t>(c)], wanted); });
  };
  const auto every = [](const Chunk::Link&) { return true; };
  factor_all(level.kept_chunks, every);
  if (s.left_out() > 0) {
    // The weights take columns beside each other as equal: links between them do not count.
    factor_all(level.left_out_chunks, [](const Chunk::Link& l) { return !l.same_sort; });
    Weights<Real> w = find_weights(level, net);
    out.coarser = coarser_network(net, level, w);
    if (level.touching) {
      level.weight = {std::move(w.before), std::move(w.after)};
      factor_all(level.left_out_chunks, every);
    }
  }
  level.r.resize(static_cast<std::size_t>(cells));
  level.u.resize(static_cast<std::size_t>(cells));
  if (level.touching) level.spare.resize(static_cast<std::size_t>(cells));
  return out;
}

template void solve_columns(const Level<float>&, Index, Index, float*, float*, Index);
template void solve_columns(const Level<double>&, Index, Index, double*, double*, Index);
template Coarsened<float> coarsen(const Network<double>&);
template Coarsened<float> coarsen(const Network<float>&);
template Coarsened<double> coarsen(const Network<double>&);

}  // namespace coldbay
