#pragma once

#include <Eigen/Core>

#include "solver/conjugate_gradients.hpp"

namespace coldbay {

/// Improves u until F u = b to the relative residual `wanted`, by generalised minimal residuals, restarted
/// and preconditioned from the right ([Saad2003], algorithm 9.5), so that what is made small is the residual
/// itself. Stops at `most` iterations, or where a restart does not halve the residual; the caller looks at
/// what was reached.
///
/// apply(u, out): out = F u.  precondition(r, z): z ~ F^-1 r, a fixed linear map.
template <class Apply, class Precondition>
Converged gmres(const Eigen::VectorXd& b, Apply apply, Precondition precondition, double wanted, int most,
                Eigen::VectorXd& u) {
  constexpr Index basis = 40;  // vectors of the length of u that are kept
  using Vector = Eigen::VectorXd;
  const Index n = b.size();
  const double size = b.norm();
  if (size == 0.0) {
    u.setZero();
    return {};
  }
  Vector r(n), z(n);
  const auto find_residual = [&] {
    apply(u, r);
    r = b - r;
    return r.norm() / size;
  };
  Converged done{0, find_residual()};
  std::vector<Vector> V;
  V.reserve(static_cast<std::size_t>(basis) + 1);
  while (done.residual > wanted && done.iterations < most) {
    Eigen::MatrixXd H = Eigen::MatrixXd::Zero(basis + 1, basis);
    Vector g = Vector::Zero(basis + 1), c(basis), s(basis);
    g[0] = done.residual * size;
    V.assign(1, r / g[0]);
    Index j = 0;
    while (j < basis && done.iterations < most && std::abs(g[j]) > 0.5 * wanted * size) {
      precondition(V.back(), z);
      V.emplace_back(n);
      Vector& w = V.back();
      apply(z, w);
      for (Index i = 0; i <= j; ++i) {
        H(i, j) = w.dot(V[static_cast<std::size_t>(i)]);
        w -= H(i, j) * V[static_cast<std::size_t>(i)];
      }
      H(j + 1, j) = w.norm();
      if (H(j + 1, j) > 0.0) w /= H(j + 1, j);
      for (Index i = 0; i < j; ++i) {  // the rotations so far, and one that takes out the last entry
        const double low = -s[i] * H(i, j) + c[i] * H(i + 1, j);
        H(i, j) = c[i] * H(i, j) + s[i] * H(i + 1, j);
        H(i + 1, j) = low;
      }
      const double length = std::hypot(H(j, j), H(j + 1, j));
      c[j] = H(j, j) / length;
      s[j] = H(j + 1, j) / length;
      H(j, j) = length;
      g[j + 1] = -s[j] * g[j];
      g[j] *= c[j];
      ++j;
      ++done.iterations;
    }
    const Vector y = H.topLeftCorner(j, j).template triangularView<Eigen::Upper>().solve(g.head(j));
    r.setZero();
    for (Index i = 0; i < j; ++i) r += y[i] * V[static_cast<std::size_t>(i)];
    precondition(r, z);
    u += z;
    const double before = done.residual;
    done.residual = find_residual();
    if (!(done.residual < 0.5 * before)) break;
  }
  return done;
}

}  // namespace coldbay
