#include "solver/multigrid/hierarchy.hpp"

#include <algorithm>

#include "solver/multigrid/rows.hpp"
#include "solver/parallel.hpp"

namespace coldbay {
namespace {

/// Which links of a chunk count.
enum class Links { none, to_the_other_sort, to_its_own_sort, all };

/// to += what the links bring to the chunk's places at depth k from u.
template <class Real>
void add_neighbours(const Level<Real>& level, const Chunk& chunk, Index k, Links links, Real* to) {
  if (links == Links::none) return;
  for (const Chunk::Link& l : chunk.links)
    if (links == Links::all || l.same_sort == (links == Links::to_its_own_sort))
      rows::add_product(l.count, to + l.here - chunk.first, level.g.data() + l.link + level.sorting.links * k,
                        level.u.data() + l.there + level.columns() * k);
}

/// Solves the columns of one sort with their neighbours as they are: u = T^-1 (r + links u). On the way down
/// u begins at zero: neighbours that are not solved yet do not count.
template <class Real>
void relax(Level<Real>& level, const std::vector<Chunk>& chunks, Links links) {
  // Where columns of one sort touch, each must see the others as they were.
  const bool aside = level.touching && links == Links::all;
  std::vector<Real>& out = aside ? level.spare : level.u;
  const Index M = level.columns();
  const auto over_chunks = [&](auto f) {
    in_parallel(std::ssize(chunks), M * level.depth,
                [&](Index c) { f(chunks[static_cast<std::size_t>(c)]); });
  };
  over_chunks([&](const Chunk& chunk) {
    const Index n = chunk.count;
    thread_local std::vector<Real> t;
    t.resize(static_cast<std::size_t>(n * level.depth));
    for (Index k = 0; k < level.depth; ++k) {
      std::copy_n(level.r.begin() + chunk.first + M * k, n, t.begin() + n * k);
      add_neighbours(level, chunk, k, links, t.data() + n * k);
    }
    solve_columns(level, chunk.first, n, t.data(), out.data() + chunk.first, M);
  });
  if (aside)
    over_chunks([&](const Chunk& chunk) {
      for (Index k = 0; k < level.depth; ++k)
        std::copy_n(out.begin() + chunk.first + M * k, chunk.count, level.u.begin() + chunk.first + M * k);
    });
}

/// What is over on the left-out columns after their relaxation from zero: only what they did not see of each
/// other.
template <class Real>
void find_left_over(Level<Real>& level) {
  in_parallel(level.depth, level.columns() * level.depth, [&](Index k) {
    Real* row = level.spare.data() + level.columns() * k;
    std::fill_n(row, level.columns(), Real(0));
    for (const Chunk& chunk : level.left_out_chunks)
      add_neighbours(level, chunk, k, Links::to_its_own_sort, row + chunk.first);
  });
}

/// The residual handed to the coarser grid, P^T (r - A u). On the kept columns it is what their neighbours
/// brought since they were solved.
template <class Real>
void restrict_residual(Level<Real>& level, Level<Real>& coarser) {
  if (level.touching) find_left_over(level);
  in_parallel(level.depth, level.columns() * level.depth, [&](Index k) {
    thread_local std::vector<Real> row;
    row.assign(static_cast<std::size_t>(level.sorting.kept), Real(0));
    for (const Chunk& chunk : level.kept_chunks)
      add_neighbours(level, chunk, k, Links::all, row.data() + chunk.first);
    if (level.touching)
      for (const Between& b : level.sorting.between)
        for (std::size_t w = 0; w < 2; ++w)
          if (b.from[w] >= 0)
            rows::add_product(
                b.count, row.data() + b.from[w],
                level.weight[w].data() + b.place - level.sorting.kept + level.sorting.left_out() * k,
                level.spare.data() + b.place + level.columns() * k);
    Real* to = coarser.r.data() + coarser.columns() * k;
    for (Index c = 0; c < level.sorting.kept; ++c)
      to[coarser.sorting.place_of[static_cast<std::size_t>(c)]] = row[static_cast<std::size_t>(c)];
  });
}

/// u += P e. Columns left out that touch kept ones only are solved next, from the kept ones alone.
template <class Real>
void add_correction(Level<Real>& level, const Level<Real>& coarser) {
  in_parallel(level.depth, level.columns() * level.depth, [&](Index k) {
    thread_local std::vector<Real> e;
    e.resize(static_cast<std::size_t>(level.sorting.kept));
    const Real* from = coarser.u.data() + coarser.columns() * k;
    for (Index c = 0; c < level.sorting.kept; ++c)
      e[static_cast<std::size_t>(c)] = from[coarser.sorting.place_of[static_cast<std::size_t>(c)]];
    Real* u = level.u.data() + level.columns() * k;
    rows::add(level.sorting.kept, u, e.data());
    if (level.touching)
      for (const Between& b : level.sorting.between)
        for (std::size_t w = 0; w < 2; ++w)
          if (b.from[w] >= 0)
            rows::add_product(
                b.count, u + b.place,
                level.weight[w].data() + b.place - level.sorting.kept + level.sorting.left_out() * k,
                e.data() + b.from[w]);
  });
}

}  // namespace

template <class Real>
Hierarchy<Real> hierarchy(const Network<double>& finest) {
  Hierarchy<Real> grids;
  Coarsened<Real> next = coarsen<Real>(finest);
  while (true) {
    grids.levels.push_back(std::move(next.level));
    if (grids.levels.back().columns() == 1) return grids;
    next = coarsen<Real>(next.coarser);
  }
}

template <class Real>
void give(Hierarchy<Real>& grids, Index cell, Index n, const double* r, double scale) {
  Level<Real>& finest = grids.levels.front();
  const Index column = cell % finest.columns();
  const std::int32_t* place = finest.sorting.place_of.data() + column;
  Real* to = finest.r.data() + cell - column;
  for (Index i = 0; i < n; ++i) to[place[i]] = static_cast<Real>(scale * r[i]);
}

template <class Real>
void take(const Hierarchy<Real>& grids, Index cell, Index n, double* z, double scale) {
  const Level<Real>& finest = grids.levels.front();
  const Index column = cell % finest.columns();
  const std::int32_t* place = finest.sorting.place_of.data() + column;
  const Real* from = finest.u.data() + cell - column;
  for (Index i = 0; i < n; ++i) z[i] = static_cast<double>(from[place[i]]) / scale;
}

template <class Real>
void cycle(Hierarchy<Real>& grids) {
  auto& levels = grids.levels;
  for (std::size_t l = 0; l < levels.size(); ++l) {
    relax(levels[l], levels[l].kept_chunks, Links::none);
    if (l + 1 == levels.size()) break;
    relax(levels[l], levels[l].left_out_chunks, Links::to_the_other_sort);
    restrict_residual(levels[l], levels[l + 1]);
  }
  for (std::size_t l = levels.size() - 1; l-- > 0;) {
    add_correction(levels[l], levels[l + 1]);
    relax(levels[l], levels[l].left_out_chunks, Links::all);
    relax(levels[l], levels[l].kept_chunks, Links::all);
  }
}

template Hierarchy<float> hierarchy(const Network<double>&);
template void give(Hierarchy<float>&, Index, Index, const double*, double);
template void take(const Hierarchy<float>&, Index, Index, double*, double);
template void cycle(Hierarchy<float>&);
template Hierarchy<double> hierarchy(const Network<double>&);
template void give(Hierarchy<double>&, Index, Index, const double*, double);
template void take(const Hierarchy<double>&, Index, Index, double*, double);
template void cycle(Hierarchy<double>&);

}  // namespace coldbay
