#include "solver/air_loops/march.hpp"

#include <Eigen/LU>
#include <queue>
#include <utility>

namespace coldbay {
namespace {

/// Rows in an order in which most of the air flows from earlier ones to later ones: always next the one with
/// the least of its inflow still to come.
std::vector<Index> downstream(const AirPaths& paths, const std::vector<CellFlow>& flows) {
  const std::size_t n = paths.rows.size();
  std::vector<double> inflow(n, 0.0), to_come(n, 0.0);
  std::vector<std::vector<std::pair<Index, double>>> out(n);
  for (const CellFlow& f : flows) {
    const Index a = paths.row_of[at(f.from)], b = paths.row_of[at(f.to)];
    if (a < 0 || b < 0 || a == b) continue;
    out[at(a)].emplace_back(b, f.flow);
    to_come[at(b)] += f.flow;
    inflow[at(b)] += f.flow;
  }
  using Waiting = std::pair<double, Index>;  // share of the inflow still to come, row
  std::priority_queue<Waiting, std::vector<Waiting>, std::greater<>> queue;
  const auto share = [&](Index r) { return inflow[at(r)] > 0.0 ? to_come[at(r)] / inflow[at(r)] : 0.0; };
  for (Index r = 0; r < std::ssize(paths.rows); ++r) queue.emplace(share(r), r);
  std::vector<bool> done(n, false);
  std::vector<Index> order;
  order.reserve(n);
  while (!queue.empty()) {
    const Index r = queue.top().second;
    queue.pop();
    if (done[at(r)]) continue;
    done[at(r)] = true;
    order.push_back(r);
    for (const auto& [b, q] : out[at(r)])
      if (!done[at(b)]) {
        to_come[at(b)] -= q;
        queue.emplace(share(b), b);
      }
  }
  return order;
}

}  // namespace

March::March(const AirPaths& paths, const std::vector<CellFlow>& flows, const Eigen::VectorXd& diagonal,
             const std::vector<Entry>& entries)
    : paths_(paths) {
  const std::vector<Index> order = downstream(paths, flows);
  std::vector<Index> turn(order.size());
  for (Index i = 0; i < std::ssize(order); ++i) turn[at(order[at(i)])] = i;
  const auto place = [&](Index cell) {
    const AirPaths::Row& row = paths.rows[at(paths.row_of[at(cell)])];
    return (cell - row.first) / row.stride;
  };
  std::vector<Eigen::MatrixXd> blocks;
  blocks.reserve(paths.rows.size());
  for (const AirPaths::Row& row : paths.rows) {
    blocks.emplace_back(Eigen::MatrixXd::Zero(row.count, row.count));
    for (Index i = 0; i < row.count; ++i) blocks.back()(i, i) = diagonal[row.first + i * row.stride];
  }
  std::vector<std::vector<Entry>> upstream(paths.rows.size());
  for (const Entry& e : entries) {
    const Index a = paths.row_of[at(e.row)], b = paths.row_of[at(e.column)];
    if (a == b)
      blocks[at(a)](place(e.row), place(e.column)) += e.value;
    else if (turn[at(b)] < turn[at(a)])
      upstream[at(a)].push_back({place(e.row), e.column, e.value});
  }
  steps_.reserve(order.size());
  upstream_.reserve(entries.size());
  for (const Index r : order) {
    const Eigen::MatrixXd inverse = blocks[at(r)].inverse();
    const std::size_t first = upstream_.size();
    upstream_.insert(upstream_.end(), upstream[at(r)].begin(), upstream[at(r)].end());
    steps_.push_back({r, inverses_.size(), first, upstream_.size()});
    inverses_.insert(inverses_.end(), inverse.data(), inverse.data() + inverse.size());
  }
}

void March::solve(const Eigen::VectorXd& r, Eigen::VectorXd& z) const {
  z.setZero();
  Eigen::VectorXd here;
  for (const Step& step : steps_) {
    const AirPaths::Row& row = paths_.rows[at(step.row)];
    here.resize(row.count);
    for (Index i = 0; i < row.count; ++i) here[i] = r[row.first + i * row.stride];
    for (std::size_t e = step.first; e < step.last; ++e)
      here[upstream_[e].row] -= upstream_[e].value * z[upstream_[e].column];
    const Eigen::Map<const Eigen::MatrixXd> inverse(inverses_.data() + step.inverse, row.count, row.count);
    const Eigen::VectorXd solved = inverse * here;
    for (Index i = 0; i < row.count; ++i) z[row.first + i * row.stride] = solved[i];
  }
}

}  // namespace coldbay
