#include "tests/bench/peers.hpp"

#include <fmt/core.h>

#include <Eigen/IterativeLinearSolvers>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <array>
#include <stdexcept>
#include <thread>
#include <vector>

namespace coldbay::bench {

Outcome require_converged(const LinearSystem& system, const Eigen::VectorXd& u, int iterations) {
  const double residual = (system.b - system.A * u).norm() / system.b.norm();
  if (!(residual <= wanted_residual))  // NaN lands here too
    throw std::runtime_error(fmt::format("residual {:.1e} after {} iterations", residual, iterations));
  return {iterations, residual};
}

Outcome solve_ldlt(const LinearSystem& system) {
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(system.A);
  if (factor.info() != Eigen::Success) throw std::runtime_error("no factorisation");
  return require_converged(system, factor.solve(system.b), 1);
}

Outcome solve_cg_diagonal(const LinearSystem& system) {
  // Lower | Upper: told that both halves are stored, Eigen multiplies row by row, its fastest way.
  Eigen::ConjugateGradient<Eigen::SparseMatrix<double>, Eigen::Lower | Eigen::Upper,
                           Eigen::DiagonalPreconditioner<double>>
      cg(system.A);
  cg.setMaxIterations(200'000);
  Eigen::VectorXd u = Eigen::VectorXd::Zero(system.b.size());
  // Eigen stops by its running residual, which drifts from the true one: begin again from what it found
  // until the recomputed one is there. The second round is short.
  int iterations = 0;
  for (int round = 0; round < 5; ++round) {
    cg.setTolerance(0.9 * wanted_residual);
    u = cg.solveWithGuess(system.b, u).eval();
    iterations += static_cast<int>(cg.iterations());
    if ((system.b - system.A * u).norm() <= wanted_residual * system.b.norm()) break;
  }
  return require_converged(system, u, iterations);
}

void read_five_write_one(Index cells, unsigned threads) {
  static std::array<std::vector<double>, 6> arrays;
  const auto n = static_cast<std::size_t>(cells);
  for (auto& a : arrays)
    if (a.size() != n) a.assign(n, 1.0);
  const auto slice = [n, threads](unsigned t) {
    const auto& [a, b, c, d, e, out] = arrays;
    double* to = arrays[5].data();
    for (std::size_t i = n * t / threads, end = n * (t + 1) / threads; i < end; ++i)
      to[i] = a[i] + b[i] + c[i] + d[i] + e[i];
  };
  std::vector<std::jthread> others;
  for (unsigned t = 1; t < threads; ++t) others.emplace_back(slice, t);
  slice(0);
}

}  // namespace coldbay::bench
