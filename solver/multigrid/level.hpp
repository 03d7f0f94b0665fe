#pragma once

#include <array>
#include <vector>

#include "solver/multigrid/columns.hpp"
#include "solver/multigrid/network.hpp"

namespace coldbay {

/// Part of the columns of one sort, few enough that what a relaxation touches stays in the cache, and the
/// links that end on them.
struct Chunk {
  struct Link {
    Index here, there, count;  ///< places
    Index link;                ///< number of the first
    bool same_sort;            ///< as the chunk, so not solved before it
    int side;                  ///< of a column left out: 0 leads to the one before it, 1 after it
  };
  Index first, count;
  std::vector<Link> links;
};

/// One grid of the hierarchy, ready to be relaxed: columns are solved whole, all others fixed, the kept
/// ones first and then those left out.
template <class Real>
struct Level {
  Sorting sorting;
  Index depth = 0;
  bool touching = false;  ///< columns of one sort are neighbours
  std::vector<Real> g;    ///< [link + links k]
  /// [place + columns k]: a column's L and 1/D; L has a row of 0 more.
  std::vector<Real> multiplier, inverse;
  /// [left-out + left_out() k], of the column before and after; if touching.
  std::array<std::vector<Real>, 2> weight;
  std::vector<Chunk> kept_chunks, left_out_chunks;
  std::vector<Real> r, u;   ///< [place + columns k] right-hand side and solution
  std::vector<Real> spare;  ///< as u; if touching

  Index columns() const { return sorting.columns(); }
};

/// A level and the network of the next coarser one, which is empty when the level has one column.
template <class Real>
struct Coarsened {
  Level<Real> level;
  Network<Real> coarser;
};

/// Sorts the columns of a network, factors them, finds how those left out follow from those kept, and
/// makes the network of these.
///
/// A column left out is solved whole with the kept one on one side at 1 and on the other at 0
/// [Schaffer1998]: what conducts well moves as one. With those weights w, w' (w + w' < 1 where the column
/// leads to the air) its conductances pass to the kept ones:
///
///     G before and G' after it    G w'^2 + G' w^2 between the two: in series, where w = G/(G + G')
///     G to its own next cell      its share w between those before, w' between those after
///     G to the air                what it lacks to 1 passes on to its links
///
/// Where the kept columns vary alike this is the Galerkin product of [Schaffer1998]. Where they do not it
/// conducts more, by as much as the columns left out conduct better than those kept: it costs one to three
/// iterations more than the product. But unlike the product it is a network of the same kind: no link leads
/// askew, none is negative, nothing is lost by cancellation, and a coarse cell takes a third of the memory.
template <class Real, class From>
Coarsened<Real> coarsen(const Network<From>& network);

/// out = T^-1 t for n columns from place `first` on, T their own equations; t[i + n k], which is used up, and
/// out[i + stride k].
template <class Real>
void solve_columns(const Level<Real>& level, Index first, Index n, Real* t, Real* out, Index stride);

}  // namespace coldbay
