#include "solver/multigrid/coarser_network.hpp"

#include "solver/multigrid/rows.hpp"
#include "solver/parallel.hpp"

namespace coldbay {
namespace {

/// What a link G between two cells left out gives: its shares between the kept cells before and between those
/// after; and, where the weights differ from one cell to the other, as much between before and after at
/// either cell as an even difference of theirs would drive through it.
template <class Real>
struct Shares {
  Real before, after, between;
};
template <class Real>
Shares<Real> shares(Real G, Real w1, Real v1, Real w2, Real v2) {
  const Real dw = w1 - w2, dv = v1 - v2;
  return {Real(0.5) * G * (w1 + w2), Real(0.5) * G * (v1 + v2), Real(0.25) * G * (dw * dw + dv * dv)};
}

/// The links of the coarser network at depth k.
template <class Real, class From>
void fill_row(Network<Real>& coarse, const Network<From>& net, const Level<Real>& level,
              const Weights<Real>& w, Index k) {
  const Sorting& s = level.sorting;
  const Index N = s.left_out(), M = s.columns(), kept = s.kept;
  std::vector<Real>& thinned_way = coarse.sideways[s.direction];
  Real* between = thinned_way.empty() ? nullptr : thinned_way.data() + kept * k;
  Real* outward = coarse.outward.data() + kept * k;
  for (Index c = 0; c < kept; ++c)
    outward[c] = static_cast<Real>(net.outward[at(s.column_at[at(c)] + M * k)]);
  const Real* g = level.g.data() + s.links * k;
  for (const Run& run : s.runs) {
    if (run.p >= kept || run.q >= kept) continue;
    rows::add(run.count, coarse.sideways[run.way].data() + run.p + kept * k, g + run.link);
  }

  for (const Between& b : s.between) {
    const Index first = b.place - kept;
    const Real* wb = w.before.data() + first + N * k;
    const Real* wa = w.after.data() + first + N * k;
    const bool has_after = between && b.from[1] >= 0;
    const std::int32_t* column = s.column_at.data() + b.place;
    const auto link_to_next = [&](Index i, Index row) {
      return static_cast<Real>(net.outward[at(column[i] + M * row)]);
    };
    for (Index i = 0; i < b.count; ++i) {
      const Shares<Real> on = k + 1 < level.depth
                                  ? shares(link_to_next(i, k), wb[i], wa[i], wb[i + N], wa[i + N])
                                  : Shares<Real>{};
      outward[b.from[0] + i] += on.before;
      if (!has_after) continue;
      outward[b.from[1] + i] += on.after;
      between[b.from[0] + i] += on.between;
      if (k > 0)
        between[b.from[0] + i] += shares(link_to_next(i, k - 1), wb[i - N], wa[i - N], wb[i], wa[i]).between;
    }
  }
  // In series through the column left out.
  for (const Run& run : s.runs) {
    if (run.p < kept || run.q >= kept || !between) continue;
    const Real* other = (run.q_first ? w.after : w.before).data() + run.p - kept + N * k;
    for (const Between& b : s.between) {
      if (b.from[1] < 0 || run.p < b.place || run.p >= b.place + b.count) continue;
      for (Index i = 0; i < run.count; ++i)
        between[b.from[0] + run.p - b.place + i] += g[run.link + i] * other[i] * other[i];
    }
  }
  // Between columns left out that stand beside each other.
  for (const Run& run : s.runs) {
    if (run.p < kept || run.q < kept) continue;
    Real* beside = coarse.sideways[run.way].data() + kept * k;
    for (const Between& b : s.between) {
      const Real* wb = w.before.data() + b.place - kept + N * k;
      const Real* wa = w.after.data() + b.place - kept + N * k;
      for (Index i = 0; i + 1 < b.count; ++i) {
        const Shares<Real> on = shares(g[run.link + b.place - run.p + i], wb[i], wa[i], wb[i + 1], wa[i + 1]);
        beside[b.from[0] + i] += on.before;
        if (b.from[1] < 0) continue;
        beside[b.from[1] + i] += on.after;
        between[b.from[0] + i] += on.between;
        between[b.from[0] + i + 1] += on.between;
      }
    }
  }
}

/// What leads to the air from the kept cells at depth k: their own, and of their left-out neighbours' what
/// these lack to 1.
template <class Real, class From>
void fill_air(Network<Real>& coarse, const Network<From>& net, const Level<Real>& level,
              const Weights<Real>& w, Index k) {
  const Sorting& s = level.sorting;
  std::vector<Real>& to = coarse.to_air[at(k)];
  to.assign(at(s.kept), Real(0));
  if (const std::vector<From>& air = net.to_air[at(k)]; !air.empty())
    for (Index c = 0; c < s.kept; ++c) to[at(c)] = static_cast<Real>(air[at(s.column_at[at(c)])]);
  for (const Run& run : s.runs)
    if (run.p >= s.kept && run.q < s.kept)
      rows::add_product(run.count, to.data() + run.q, level.g.data() + run.link + s.links * k,
                        w.missing.data() + run.p - s.kept + s.left_out() * k);
}

}  // namespace

template <class Real, class From>
Network<Real> coarser_network(const Network<From>& net, const Level<Real>& level,
                              const Weights<Real>& weights) {
  const Sorting& s = level.sorting;
  Network<Real> coarse;
  coarse.across = std::ssize(s.at[0]);
  coarse.up = std::ssize(s.at[1]);
  coarse.up_fastest = s.direction == 0;
  coarse.depth = level.depth;
  coarse.at = s.at;
  coarse.to_air.resize(at(level.depth));
  coarse.outward.resize(at(s.kept * level.depth));
  for (std::size_t way = 0; way < 2; ++way)
    if (std::ssize(s.at[way]) > 1) coarse.sideways[way].assign(at(s.kept * level.depth), Real(0));
  in_parallel(level.depth, s.columns() * level.depth, [&](Index k) {
    fill_row(coarse, net, level, weights, k);
    fill_air(coarse, net, level, weights, k);
  });
  return coarse;
}

template Network<float> coarser_network(const Network<double>&, const Level<float>&, const Weights<float>&);
template Network<float> coarser_network(const Network<float>&, const Level<float>&, const Weights<float>&);
template Network<double> coarser_network(const Network<double>&, const Level<double>&,
                                         const Weights<double>&);

}  // namespace coldbay
