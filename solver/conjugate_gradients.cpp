#include "solver/conjugate_gradients.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/multigrid/rows.hpp"
#include "solver/parallel.hpp"

namespace coldbay {
namespace {

using Vector = Eigen::VectorXd;

/// Cells handled at a time: what a piece touches stays in the fastest cache.
constexpr Index longest_piece = 2048;

/// Part of a row of the network.
struct Piece {
  Index cell, count;  ///< the first of its cells
  Index k, column;    ///< where that is
};

/// f(piece) for every piece; the sum of what they return.
template <class F>
double sum_over_pieces(const Network<double>& net, F f) {
  const Index M = net.columns(), per_row = (M + longest_piece - 1) / longest_piece;
  std::vector<double> part(static_cast<std::size_t>(per_row * net.depth));
  in_parallel(net.depth, M * net.depth, [&](Index k) {
    for (Index i = 0; i < per_row; ++i) {
      const Index column = longest_piece * i;
      part[static_cast<std::size_t>(i + per_row * k)] =
          f(Piece{column + M * k, std::min(longest_piece, M - column), k, column});
    }
  });
  double sum = 0.0;
  for (const double p : part) sum += p;
  return sum;
}

/// out = A u on a piece.
void heat_given(const Network<double>& net, const double* u, double* out, const Piece& piece) {
  const Index cells = net.columns() * net.depth, first = piece.cell, n = piece.count;
  if (const auto& air = net.to_air[static_cast<std::size_t>(piece.k)]; !air.empty())
    for (Index i = 0; i < n; ++i)
      out[first + i] = air[static_cast<std::size_t>(piece.column + i)] * u[first + i];
  else
    std::fill_n(out + first, n, 0.0);
  const auto add = [&](Index stride, const std::vector<double>& G) {
    if (G.empty()) return;
    const Index to_next = std::min(n, cells - stride - first);  // cells that have one `stride` further on
    if (to_next > 0) rows::add_flow(to_next, out + first, G.data() + first, u + first, u + first + stride);
    const Index skip = std::max<Index>(0, stride - first);  // cells that have none so far before them
    if (skip < n)
      rows::add_flow(n - skip, out + first + skip, G.data() + first + skip - stride, u + first + skip,
                     u + first + skip - stride);
  };
  add(1, net.sideways[0]);
  add(net.across, net.sideways[1]);
  add(net.columns(), net.outward);
}

/// r = b - A u on a piece; returns its square.
double residual(const HeatBalance& balance, const Vector& u, Vector& r, const Piece& piece) {
  heat_given(balance.net, u.data(), r.data(), piece);
  auto part = r.segment(piece.cell, piece.count);
  part = -part;
  if (const auto& b = balance.from_air[static_cast<std::size_t>(piece.k)]; !b.empty())
    part += Eigen::Map<const Vector>(b.data() + piece.column, piece.count);
  return part.squaredNorm();
}

}  // namespace

void heat_given(const Network<double>& net, const Vector& u, Vector& out) {
  sum_over_pieces(net, [&](const Piece& piece) {
    heat_given(net, u.data(), out.data(), piece);
    return 0.0;
  });
}

double size_of(const HeatBalance& balance) {
  double sum = 0.0;
  for (const auto& row : balance.from_air)
    for (const double b : row) sum += b * b;
  return std::sqrt(sum);
}

double rounding_floor(const HeatBalance& balance, const Vector& u) {
  const Network<double>& net = balance.net;
  Vector terms = Vector::Zero(u.size());
  const auto add = [&](Index stride, const std::vector<double>& G) {
    for (Index c = 0; c + stride < u.size() && !G.empty(); ++c) {
      const double both = G[static_cast<std::size_t>(c)] * (std::abs(u[c]) + std::abs(u[c + stride]));
      terms[c] += both;
      terms[c + stride] += both;
    }
  };
  add(1, net.sideways[0]);
  add(net.across, net.sideways[1]);
  add(net.columns(), net.outward);
  for (Index k = 0; k < net.depth; ++k) {
    const auto& air = net.to_air[static_cast<std::size_t>(k)];
    const auto& b = balance.from_air[static_cast<std::size_t>(k)];
    for (Index c = 0; c < std::ssize(air); ++c)
      terms[c + net.columns() * k] += air[static_cast<std::size_t>(c)] * std::abs(u[c + net.columns() * k]) +
                                      std::abs(b[static_cast<std::size_t>(c)]);
  }
  return 4.0 * std::numeric_limits<double>::epsilon() * terms.norm() / size_of(balance);
}

template <class Real>
Converged conjugate_gradients(const HeatBalance& balance, Hierarchy<Real>& grids, double wanted, int most,
                              Vector& u) {
  const Network<double>& net = balance.net;
  const double size = size_of(balance);
  if (size == 0.0) {  // all that the free cells meet is as cold as the coldest
    u.setZero();
    return {};
  }
  Vector r(u.size()), p(u.size()), Ap(u.size());
  const auto find_residual = [&] {
    return std::sqrt(
               sum_over_pieces(net, [&](const Piece& piece) { return residual(balance, u, r, piece); })) /
           size;
  };
  Converged done{0, find_residual()};
  while (done.residual > wanted && done.iterations < most) {
    p.setZero();
    double rz_before = INFINITY, alpha = 0.0, running = done.residual;
    // What the grids get is brought near 1, the middle of single precision.
    double scale = 1.0 / (running * size);
    sum_over_pieces(net, [&](const Piece& piece) {
      give(grids, piece.cell, piece.count, r.data() + piece.cell, scale);
      return 0.0;
    });
    // Its own residual drifts from the true one, so aim below what is wanted, and look again after.
    while (running > 0.5 * wanted && done.iterations < most) {
      cycle(grids);
      const double rz = sum_over_pieces(net, [&](const Piece& piece) {
        take(grids, piece.cell, piece.count, Ap.data() + piece.cell, scale);  // z, in A p's place
        return r.segment(piece.cell, piece.count).dot(Ap.segment(piece.cell, piece.count));
      });
      const double beta = rz / rz_before;
      sum_over_pieces(net, [&](const Piece& piece) {
        auto part = p.segment(piece.cell, piece.count);
        u.segment(piece.cell, piece.count) += alpha * part;  // of the step before, while p is at hand
        part = Ap.segment(piece.cell, piece.count) + beta * part;
        return 0.0;
      });
      const double pAp = sum_over_pieces(net, [&](const Piece& piece) {
        heat_given(net, p.data(), Ap.data(), piece);
        return p.segment(piece.cell, piece.count).dot(Ap.segment(piece.cell, piece.count));
      });
      alpha = 0.0;
      if (!(rz > 0.0) || !(pAp > 0.0)) break;  // NaN lands here too
      alpha = rz / pAp;
      scale = 1.0 / (running * size);
      running = std::sqrt(sum_over_pieces(net,
                                          [&](const Piece& piece) {
                                            auto part = r.segment(piece.cell, piece.count);
                                            part -= alpha * Ap.segment(piece.cell, piece.count);
                                            give(grids, piece.cell, piece.count, part.data(), scale);
                                            return part.squaredNorm();
                                          })) /
                size;
      rz_before = rz;
      ++done.iterations;
    }
    if (alpha != 0.0) u += alpha * p;
    const double before = done.residual;
    done.residual = find_residual();
    if (!(done.residual < 0.5 * before)) break;
  }
  return done;
}

template Converged conjugate_gradients(const HeatBalance&, Hierarchy<float>&, double, int, Vector&);
template Converged conjugate_gradients(const HeatBalance&, Hierarchy<double>&, double, int, Vector&);

}  // namespace coldbay
