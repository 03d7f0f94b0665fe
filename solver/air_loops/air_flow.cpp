#include "solver/air_loops/air_flow.hpp"

#include <Eigen/SparseCholesky>
#include <cmath>

#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

std::vector<double> row_means(const AirPaths& paths, const std::vector<double>& celsius) {
  std::vector<double> means;
  means.reserve(paths.rows.size());
  for (const AirPaths::Row& row : paths.rows) {
    double sum = 0.0;
    for (Index i = 0; i < row.count; ++i) {
      const std::size_t c = at(row.first + i * row.stride);
      sum += paths.reach[c] * celsius[c];
    }
    means.push_back(sum / row.thickness);
  }
  return means;
}

/// How warm the air of a link is on its way up or down. Into a slot that lies flat the rise is all in the row
/// beside it, or rows of a corner above each other would drive air round through the slot.
double on_the_way(const AirPaths& paths, const AirPaths::Link& link, const std::vector<double>& warm) {
  const bool a_is_flat = paths.rows[at(link.a)].across == paths.up,
             b_is_flat = paths.rows[at(link.b)].across == paths.up;
  if (a_is_flat != b_is_flat) return warm[at(a_is_flat ? link.b : link.a)];
  return 0.5 * (warm[at(link.a)] + warm[at(link.b)]);
}

/// One row of each connected part, whose pressure is taken as 0.
std::vector<bool> pinned(const AirPaths& paths) {
  std::vector<bool> pin(paths.rows.size(), false), done(at(paths.parts), false);
  for (std::size_t r = 0; r < pin.size(); ++r) {
    const std::size_t part = at(paths.part_of[r]);
    pin[r] = !done[part];
    done[part] = true;
  }
  return pin;
}

}  // namespace

LinkFlows driven_flows(const AirPaths& paths, const std::vector<double>& celsius, const AirProperties& air,
                       const LinkFlows& before) {
  const std::vector<double> warm = row_means(paths, celsius);
  // 1. What each link lets through for a pressure, and what drives it there.
  std::vector<double> C(paths.links.size()), drive(paths.links.size());
  double mean = 0.0;  // of the temperature: it drives nothing, and left in it would only cost digits
  for (const double T : warm) mean += T / static_cast<double>(warm.size());
  for (std::size_t l = 0; l < C.size(); ++l) {
    const AirPaths::Link& link = paths.links[l];
    double R = air.viscosity / link.conductance, lost = 0.0;
    if (link.turn_area > 0.0 && !before.empty()) {
      // a q |q| about q0: a |q0| (2 q - q0)
      const double a = heads_lost_at_turn * 0.5 * air.density / (link.turn_area * link.turn_area);
      R += 2.0 * a * std::abs(before[l]);
      lost = -a * before[l] * std::abs(before[l]);
    }
    C[l] = 1.0 / R;
    drive[l] = -lost + air.density * gravity * air.expansion * (on_the_way(paths, link, warm) - mean) *
                           (paths.rows[at(link.b)].height - paths.rows[at(link.a)].height);
  }
  // 2. As much comes to every row as goes.
  const Index n = std::ssize(paths.rows);
  std::vector<Eigen::Triplet<double>> entries;
  entries.reserve(3 * C.size() + paths.rows.size());
  Eigen::VectorXd source = Eigen::VectorXd::Zero(n), diagonal = Eigen::VectorXd::Zero(n);
  const std::vector<bool> pin = pinned(paths);
  for (std::size_t l = 0; l < C.size(); ++l) {
    const Index a = paths.links[l].a, b = paths.links[l].b;
    diagonal[a] += C[l];
    diagonal[b] += C[l];
    source[a] -= C[l] * drive[l];
    source[b] += C[l] * drive[l];
    if (!pin[at(a)] && !pin[at(b)]) entries.emplace_back(std::max(a, b), std::min(a, b), -C[l]);
  }
  for (Index r = 0; r < n; ++r) {
    entries.emplace_back(r, r, pin[at(r)] ? 1.0 : diagonal[r]);
    if (pin[at(r)]) source[r] = 0.0;
  }
  Eigen::SparseMatrix<double> A(n, n);
  A.setFromTriplets(entries.begin(), entries.end());
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>, Eigen::Lower> factored(A);
  if (factored.info() != Eigen::Success)
    throw SolverError("the pressures of the air that loops have no answer");
  const Eigen::VectorXd p = factored.solve(source);
  LinkFlows flows;
  flows.reserve(C.size());
  for (std::size_t l = 0; l < C.size(); ++l)
    flows.push_back(C[l] * (p[paths.links[l].a] - p[paths.links[l].b] + drive[l]));
  return flows;
}

std::vector<CellFlow> cell_flows(const AirPaths& paths, const LinkFlows& flows) {
  std::vector<CellFlow> all;
  all.reserve(paths.faces.size() + paths.row_of.size() / 4);
  const auto add = [&](Index from, Index to, double q) {
    if (q > 0.0) all.push_back({from, to, q});
    if (q < 0.0) all.push_back({to, from, -q});
  };
  std::vector<double> gained(paths.row_of.size(), 0.0);  // by the links, less what goes by them
  for (std::size_t l = 0; l < flows.size(); ++l) {
    const AirPaths::Link& link = paths.links[l];
    for (Index f = link.first_face; f < link.first_face + link.faces; ++f) {
      const AirPaths::Face& face = paths.faces[at(f)];
      const double q = flows[l] * face.share;
      add(face.from, face.to, q);
      gained[at(face.from)] -= q;
      gained[at(face.to)] += q;
    }
  }
  for (const AirPaths::Row& row : paths.rows) {
    double passes = 0.0;
    for (Index i = 0; i + 1 < row.count; ++i) {
      const Index c = row.first + i * row.stride;
      passes += gained[at(c)];
      add(c, c + row.stride, passes);
    }
  }
  return all;
}

}  // namespace coldbay
