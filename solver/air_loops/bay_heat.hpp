#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <vector>

#include "materials/air_properties.hpp"
#include "solver/air_loops/bay_mesh.hpp"

namespace coldbay {

/// The matrix with those entries; of one place given twice it has the sum.
Eigen::SparseMatrix<double> sparse(Eigen::Index rows, Eigen::Index columns,
                                   const std::vector<Eigen::Triplet<double>>& entries);

/// The heat of the air in a bay, at given flows: A t = given, with t what leaves each node, as a share of the
/// difference from outside (0) to inside (1).
///
/// Each flow brings with it the temperature of where it comes from (upwind), so no temperature leaves the
/// range of those round it. In a cell of a gap the air changes on its way as in an exchanger: its mean lies
/// between what enters along the gap and what leaves by the share that exp(-n s) has, n conductance over heat
/// capacity of its flow. That is second order where the mean taken as what leaves is first. What enters from
/// the side is mixed at once: averaged as well, it set cells where two flows meet swinging without end.
class BayHeat {
 public:
  /// The mesh is lent, and must outlive it.
  BayHeat(const BayMesh& mesh, const AirProperties& air, const LoopModel& model);

  /// Sets the flows through the links, forward [m3/s].
  void set_flows(const Eigen::VectorXd& flows);

  const Eigen::SparseMatrix<double>& matrix() const { return matrix_; }      ///< A [W/K]
  const Eigen::VectorXd& given() const { return given_; }                    ///< [W/K]
  const Eigen::SparseMatrix<double>& averages() const { return averages_; }  ///< means = averages() t

  /// The solution t. Throws SolverError where there is none.
  Eigen::VectorXd leaving() const;

  /// How A t - given changes with the flow in each link, t kept: nodes by links [J/(m3 K)]. What one flow
  /// does to the average that another one has part in is left out.
  Eigen::SparseMatrix<double> slopes(const Eigen::VectorXd& leaving) const;

  /// How the mean at the end where each flow arrives changes with it, t kept [s/m3].
  Eigen::VectorXd slopes_of_means(const Eigen::VectorXd& leaving) const;

  /// The node where a flow arrives.
  Eigen::Index downstream(std::size_t link) const;

  /// Means of the nodes where nothing flows.
  Eigen::VectorXd still() const;

  struct Flux {
    double from_room = 0.0, to_outside = 0.0;  ///< per area, for 1 K [W/(m2 K)]
  };
  Flux flux(const Eigen::VectorXd& means) const;

  double capacity() const { return capacity_; }  ///< of air [J/(m3 K)]

 private:
  Eigen::Index upstream(std::size_t link) const;
  double through_batt(const BayColumn& column) const;
  void set_columns(std::vector<Eigen::Triplet<double>>& walls);

  const BayMesh& mesh_;
  double capacity_, conductivity_, nusselt_;
  std::vector<bool> carries_;  ///< by link: false through the batt, which the columns see to
  Eigen::VectorXd flows_, given_;
  Eigen::VectorXd to_walls_;  ///< by node: conductance to all but air along its way [W/K]
  Eigen::VectorXd
      share_;  ///< by node: of what enters along the gap in its mean, per heat capacity flow [K/W]
  std::vector<Eigen::Matrix4d> columns_;  ///< crossed_column() of each, with these flows
  Eigen::SparseMatrix<double> matrix_, averages_;
};

}  // namespace coldbay
