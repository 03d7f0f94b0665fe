#include "solver/results/settling_time.hpp"

#include <fmt/core.h>

#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>

#include "solver/conjugate_gradients.hpp"
#include "solver/discretisation.hpp"
#include "solver/multigrid/hierarchy.hpp"
#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

using Vector = Eigen::VectorXd;

/// Heat capacity of the shapes' materials per volume [J/(m3 K)]; notes those not known among the shapes seen.
class Capacities {
 public:
  explicit Capacities(const Section& section) : section_(section), seen_(section.materials.size(), false) {}

  double of(std::uint32_t shape) {
    if (shape >= section_.shapes.size()) return 0.0;  // bare
    const Shape& s = section_.shapes[shape];
    if (s.held) return 0.0;
    seen_[s.material] = true;
    const Material& m = section_.materials[s.material];
    return known(m) ? *m.density * *m.specific_heat : 0.0;
  }

  std::vector<std::string> unknown() const {
    std::vector<std::string> names;
    for (std::size_t m = 0; m < seen_.size(); ++m) {
      const Material& material = section_.materials[m];
      if (seen_[m] && !known(material) && std::find(names.begin(), names.end(), material.name) == names.end())
        names.push_back(material.name);
    }
    return names;
  }

 private:
  static bool known(const Material& m) { return m.density && m.specific_heat; }

  const Section& section_;
  std::vector<bool> seen_;  ///< by material
};

/// C, without what is held.
Vector diagonal_of(const ConductivityGrid& grid, const std::vector<double>& capacities) {
  if (std::ssize(capacities) != grid.cells()) throw SolverError("the grid lacks heat capacities");
  Vector C = Eigen::Map<const Vector>(capacities.data(), grid.cells());
  for (const HeldCell& held : grid.held) C[held.cell] = 0.0;
  if (!(C.allFinite() && C.minCoeff() >= 0.0)) throw SolverError("a cell has a heat capacity that cannot be");
  if (!(C.maxCoeff() > 0.0)) throw SolverError("nothing in the section has a heat capacity");
  return C;
}

/// The heat balance of the grid with room for a source in every cell.
HeatBalance balance_of(const ConductivityGrid& grid, const Surroundings& air) {
  HeatBalance balance{network(grid, air), {}};
  double exchanging = 0.0;
  for_each_outer_face(grid, air, [&](Index, Direction, End, const Exchange&, double G) { exchanging += G; });
  for_each_held_face(grid, [&](Index, Direction, End, const HeldCell&, double G) { exchanging += G; });
  if (!(std::isfinite(exchanging) && exchanging > 0.0))
    throw SolverError("no face of the section exchanges heat, so it never settles");
  const auto columns = static_cast<std::size_t>(balance.net.columns());
  for (auto& row : balance.net.to_air) row.resize(columns, 0.0);
  balance.from_air.assign(balance.net.to_air.size(), std::vector<double>(columns, 0.0));
  return balance;
}

void set_source(HeatBalance& balance, const Vector& source) {
  const Index columns = balance.net.columns();
  for (Index k = 0; k < balance.net.depth; ++k)
    Eigen::Map<Vector>(balance.from_air[static_cast<std::size_t>(k)].data(), columns) =
        source.segment(columns * k, columns);
}

/// A u = b; the hierarchy in single precision, and in double where that is not enough, as in solve.cpp.
class Solver {
 public:
  explicit Solver(HeatBalance& balance) : balance_(balance), single_(hierarchy<float>(balance.net)) {}

  void solve(const Vector& source, Vector& u) {
    constexpr double wanted = 1e-7, accepted = 1e-6;  // a hundredth of what is asked of 1/mu
    constexpr int most = 200;
    set_source(balance_, source);
    if (!double_) {
      if (conjugate_gradients(balance_, single_, wanted, most, u).residual <= accepted) return;
      double_ = hierarchy<double>(balance_.net);
    }
    const Converged reached = conjugate_gradients(balance_, *double_, wanted, most, u);
    if (!(reached.residual <= accepted))
      throw SolverError(
          fmt::format("no convergence on the way to the settling time: residual {:.1e}", reached.residual));
  }

 private:
  HeatBalance& balance_;
  Hierarchy<float> single_;
  std::optional<Hierarchy<double>> double_;
};

/// The largest eigenvalue of a symmetric tridiagonal matrix, and the size of the last entry of its vector.
struct Largest {
  double value, last_entry;
};
Largest largest_of(const Vector& diagonal, const Vector& beside) {
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen;
  eigen.computeFromTridiagonal(diagonal, beside);
  const Index last = diagonal.size() - 1;  // in rising order
  return {eigen.eigenvalues()[last], std::abs(eigen.eigenvectors()(last, last))};
}

}  // namespace

HeatCapacities heat_capacities(const Section& section, const Painting& painting) {
  Capacities per_volume(section);
  HeatCapacities out;
  out.per_cell.reserve(painting.shape.size());
  const Index columns = painting.across.cells();
  for (std::size_t cell = 0; cell < painting.shape.size(); ++cell) {
    const auto at = static_cast<Index>(cell);
    const double volume = painting.across.width(at % columns) * painting.depth.width(at / columns);
    double mean = 0.0;
    if (painting.shape[cell] == Painting::mixed) {
      const std::vector<std::uint32_t>& samples = painting.mixed_cells.at(at);
      for (const std::uint32_t shape : samples)
        mean += per_volume.of(shape) / static_cast<double>(samples.size());
    } else {
      mean = per_volume.of(painting.shape[cell]);
    }
    out.per_cell.push_back(volume * mean);
  }
  out.unknown = per_volume.unknown();
  return out;
}

double SettlingTime::to_within(double share) const { return time_constant * std::log(1.0 / share); }

SettlingTime settling_time(const ConductivityGrid& grid, const Surroundings& air,
                           const std::vector<double>& capacities) {
  const Vector C = diagonal_of(grid, capacities);
  HeatBalance balance = balance_of(grid, air);
  Solver solver(balance);
  // In the product of x C y the map from q to A^-1 C q is symmetric, so three vectors are enough for Lanczos:
  // its largest eigenvalue is that of a tridiagonal matrix that grows by a row a step. (Inverse iteration
  // took 30 steps where bays or studs are alike, and their eigenvalues near each other; this takes 5 to 10.)
  // An even temperature is the whole of a step, and has a part of the slowest v, which is nowhere negative.
  Vector q = Vector::Ones(grid.cells()), before = Vector::Zero(grid.cells());
  for (const HeldCell& held : grid.held) q[held.cell] = 0.0;
  q /= std::sqrt(q.dot(C.cwiseProduct(q)));
  constexpr double settled = 1e-4;
  constexpr int most = 100;
  Vector diagonal(most), beside(most), u;
  double alpha = 0.0, beta = 0.0;
  for (int n = 1; n <= most; ++n) {
    u = alpha * q + beta * before;  // what it will be, but for its new part
    solver.solve(C.cwiseProduct(q), u);
    alpha = q.dot(C.cwiseProduct(u));
    u -= alpha * q + beta * before;
    beta = std::sqrt(u.dot(C.cwiseProduct(u)));
    diagonal[n - 1] = alpha;
    beside[n - 1] = beta;
    const Largest largest = largest_of(diagonal.head(n), beside.head(n - 1));
    // An eigenvalue lies within beta times the last entry of what is found; where it stands alone, much
    // nearer.
    if (beta * largest.last_entry <= settled * largest.value) return {largest.value};
    before = q;
    q = u / beta;
  }
  throw SolverError("the slowest time constant of the section is not found");
}

}  // namespace coldbay
