#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/air_paths.hpp"
#include "solver/air_loops/air_flow.hpp"

namespace coldbay {

/// One entry of a matrix, outside the diagonal.
struct Entry {
  Index row = 0, column = 0;
  double value = 0.0;
};

/// Solves for the air alone, everything else as it is: row after row, downstream, each row of cells across a
/// gap whole. What a loop brings back to where the march began, and what comes against the stream, is left
/// out. What is carried along a channel over many cells, which multigrid made for conduction cannot see, is
/// so taken in one step.
class March {
 public:
  /// `diagonal` of the whole matrix and its entries between cells of air, each (row, column) once or in
  /// parts.
  March(const AirPaths& paths, const std::vector<CellFlow>& flows, const Eigen::VectorXd& diagonal,
        const std::vector<Entry>& entries);

  /// z = M^-1 r on cells of air; 0 elsewhere.
  void solve(const Eigen::VectorXd& r, Eigen::VectorXd& z) const;

 private:
  struct Step {
    Index row = 0;
    std::size_t inverse = 0;          ///< where in inverses_, count x count, column by column
    std::size_t first = 0, last = 0;  ///< in upstream_
  };
  const AirPaths& paths_;
  std::vector<Step> steps_;
  std::vector<double> inverses_;
  std::vector<Entry> upstream_;  ///< row: place within its row of cells
};

}  // namespace coldbay
