#include "solver/air_loops/bay_heat.hpp"

#include <Eigen/SparseLU>
#include <algorithm>
#include <cmath>

#include "solver/solver_error.hpp"

namespace coldbay {
namespace {

using Index = Eigen::Index;
using Vector = Eigen::VectorXd;
using Sparse = Eigen::SparseMatrix<double>;
using Triplets = std::vector<Eigen::Triplet<double>>;

/// (mean - what leaves) / (what enters - what leaves) along exp(-n s).
double mean_share(double n) { return n < 1e-4 ? 0.5 - n / 12.0 : 1.0 / n - 1.0 / std::expm1(n); }

}  // namespace

Sparse sparse(Index rows, Index columns, const Triplets& entries) {
  Sparse m(rows, columns);
  m.setFromTriplets(entries.begin(), entries.end());
  return m;
}

BayHeat::BayHeat(const BayMesh& mesh, const AirProperties& air, const LoopModel& model)
    : mesh_(mesh),
      capacity_(air.density * air.specific_heat),
      conductivity_(model.air_conductivity),
      nusselt_(model.nusselt),
      carries_(mesh.links.size(), true) {
  columns_.reserve(mesh.columns.size());
  for (const BayColumn& c : mesh.columns) {
    columns_.push_back(crossed_column(c.layers, nusselt_, 0.0));
    if (c.through) carries_[*c.through] = false;
  }
}

Index BayHeat::upstream(std::size_t link) const {
  return flows_[static_cast<Index>(link)] > 0.0 ? mesh_.links[link].from : mesh_.links[link].to;
}

Index BayHeat::downstream(std::size_t link) const {
  return flows_[static_cast<Index>(link)] > 0.0 ? mesh_.links[link].to : mesh_.links[link].from;
}

/// Heat capacity of what passes through the batt, per area [W/(m2 K)].
double BayHeat::through_batt(const BayColumn& column) const {
  return column.through ? capacity_ * flows_[static_cast<Index>(*column.through)] / column.area : 0.0;
}

/// What the columns take from the air and give to it from the room; and how well they conduct to each node.
void BayHeat::set_columns(Triplets& walls) {
  walls.reserve(4 * columns_.size());
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    const BayColumn& c = mesh_.columns[i];
    const double g = through_batt(c);
    if (c.through) columns_[i] = crossed_column(c.layers, nusselt_, g);
    const Eigen::Matrix4d M = c.area * columns_[i];
    const auto add = [&](Index node, ColumnNode self, double carried_off) {
      walls.emplace_back(node, node, M(self, self));
      given_[node] = -M(self, column_room);
      to_walls_[node] = M(self, self) - c.area * carried_off;
    };
    if (c.air_1) add(*c.air_1, column_air_1, std::max(0.0, g));
    if (c.air_2) add(*c.air_2, column_air_2, std::max(0.0, -g));
    if (c.air_1 && c.air_2) {
      walls.emplace_back(*c.air_1, *c.air_2, M(column_air_1, column_air_2));
      walls.emplace_back(*c.air_2, *c.air_1, M(column_air_2, column_air_1));
    }
  }
}

void BayHeat::set_flows(const Vector& flows) {
  flows_ = flows;
  const Index n = mesh_.nodes;
  given_ = to_walls_ = share_ = Vector::Zero(n);
  Vector in = Vector::Zero(n), along = in, out = in;
  Triplets walls, carried, averaged;
  set_columns(walls);
  const auto heat_flow = [&](std::size_t l) { return capacity_ * std::abs(flows_[static_cast<Index>(l)]); };
  const std::size_t most = static_cast<std::size_t>(n) + mesh_.links.size();
  carried.reserve(most);
  averaged.reserve(most);
  walls.reserve(walls.size() + 4 * mesh_.links.size());
  for (std::size_t l = 0; l < mesh_.links.size(); ++l) {
    const AirLink& link = mesh_.links[l];
    if (!carries_[l]) continue;
    in[downstream(l)] += heat_flow(l);
    out[upstream(l)] += heat_flow(l);
    if (link.area > 0.0) along[downstream(l)] += heat_flow(l);
    carried.emplace_back(downstream(l), upstream(l), -heat_flow(l));
    const double G = conductivity_ * link.conducts;
    walls.emplace_back(link.from, link.from, G);
    walls.emplace_back(link.to, link.to, G);
    walls.emplace_back(link.from, link.to, -G);
    walls.emplace_back(link.to, link.from, -G);
  }
  for (Index i = 0; i < n; ++i) {
    if (to_walls_[i] > 0.0 && in[i] > 0.0) share_[i] = mean_share(to_walls_[i] / in[i]) / in[i];
    averaged.emplace_back(i, i, 1.0 - share_[i] * along[i]);
    carried.emplace_back(i, i, out[i]);
  }
  for (std::size_t l = 0; l < mesh_.links.size(); ++l)
    if (carries_[l] && mesh_.links[l].area > 0.0)
      averaged.emplace_back(downstream(l), upstream(l), share_[downstream(l)] * heat_flow(l));
  averages_ = sparse(n, n, averaged);
  matrix_ = sparse(n, n, carried) + sparse(n, n, walls) * averages_;
}

Vector BayHeat::leaving() const {
  Eigen::SparseLU<Sparse> lu;
  lu.compute(matrix_);
  if (lu.info() != Eigen::Success)
    throw SolverError("the temperatures of the air in a bay could not be found");
  return lu.solve(given_);
}

Vector BayHeat::slopes_of_means(const Vector& leaving) const {
  Vector slopes = Vector::Zero(flows_.size());
  for (std::size_t l = 0; l < mesh_.links.size(); ++l) {
    if (!(mesh_.links[l].area > 0.0)) continue;
    const auto link = static_cast<Index>(l);
    const Index to = downstream(l);
    slopes[link] =
        (flows_[link] > 0.0 ? capacity_ : -capacity_) * share_[to] * (leaving[upstream(l)] - leaving[to]);
  }
  return slopes;
}

Sparse BayHeat::slopes(const Vector& leaving) const {
  const Vector means = averages_ * leaving, mean = slopes_of_means(leaving);
  Triplets entries;
  entries.reserve(3 * mesh_.links.size());
  for (const BayColumn& c : mesh_.columns) {
    if (!c.through) continue;
    // The columns are smooth in what passes: a central difference is good to eight digits.
    const double g = through_batt(c), step = 1e-5 / c.layers.batt;
    const Eigen::Matrix4d more = crossed_column(c.layers, nusselt_, g + step),
                          less = crossed_column(c.layers, nusselt_, g - step);
    const Eigen::Vector4d change = (more - less) *
                                   Eigen::Vector4d(1.0, 0.0, means[*c.air_1], means[*c.air_2]) *
                                   (capacity_ / (2.0 * step));
    entries.emplace_back(*c.air_1, static_cast<Index>(*c.through), change[column_air_1]);
    entries.emplace_back(*c.air_2, static_cast<Index>(*c.through), change[column_air_2]);
  }
  for (std::size_t l = 0; l < mesh_.links.size(); ++l) {
    if (!carries_[l]) continue;
    const auto link = static_cast<Index>(l);
    const double brings = capacity_ * leaving[upstream(l)];
    entries.emplace_back(mesh_.links[l].from, link, brings);
    entries.emplace_back(mesh_.links[l].to, link, -brings);
    if (mean[link] != 0.0) entries.emplace_back(downstream(l), link, to_walls_[downstream(l)] * mean[link]);
  }
  return sparse(mesh_.nodes, std::ssize(mesh_.links), entries);
}

Vector BayHeat::still() const {
  Vector t = Vector::Constant(mesh_.nodes, 0.5);
  for (const BayColumn& c : mesh_.columns) {
    const StillAir air = still_air(loop_column(c.layers, nusselt_));
    if (c.air_1) t[*c.air_1] = air.air_1;
    if (c.air_2) t[*c.air_2] = air.air_2;
  }
  return t;
}

BayHeat::Flux BayHeat::flux(const Vector& means) const {
  Flux flux;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    const BayColumn& c = mesh_.columns[i];
    const Eigen::Vector4d t{1.0, 0.0, c.air_1 ? means[*c.air_1] : 0.0, c.air_2 ? means[*c.air_2] : 0.0};
    flux.from_room += c.area * columns_[i].row(column_room).dot(t);
    flux.to_outside -= c.area * columns_[i].row(column_outside).dot(t);
  }
  const double area = mesh_.width * mesh_.height;
  return {flux.from_room / area, flux.to_outside / area};
}

}  // namespace coldbay
