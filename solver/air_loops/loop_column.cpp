#include "solver/air_loops/loop_column.hpp"

#include <Eigen/Dense>

namespace coldbay {
namespace {

using Matrix = Eigen::MatrixXd;

enum Node : Eigen::Index { room, outside, air_1, air_2, n_kept };

void link(Matrix& M, Eigen::Index i, Eigen::Index j, double conductance) {
  M(i, i) += conductance;
  M(j, j) += conductance;
  M(i, j) -= conductance;
  M(j, i) -= conductance;
}

void add_gap(Matrix& M, const GapLink& gap, double nusselt, Eigen::Index air, Eigen::Index face_a,
             Eigen::Index face_b) {
  if (gap.touching) return;
  const double h = 0.5 * nusselt * gap.conduction;
  // The two parts of the heat as links: half of h from either face, and what is left from face to face.
  link(M, face_a, air, h);
  link(M, face_b, air, h);
  link(M, face_a, face_b, gap.conduction - 0.5 * h + gap.radiation);
}

}  // namespace

LoopColumn loop_column(const ColumnLayers& layers, double nusselt) {
  // The faces, numbered after what is kept; two that touch are one.
  Eigen::Index n = n_kept;
  const Eigen::Index lining = n++;
  const Eigen::Index batt_room = layers.room.touching ? lining : n++;
  const Eigen::Index batt_sheathing = n++;
  const Eigen::Index sheathing = layers.sheathing.touching ? batt_sheathing : n++;
  Matrix M = Matrix::Zero(n, n);
  link(M, room, lining, 1.0 / layers.inside);
  link(M, batt_room, batt_sheathing, 1.0 / layers.batt);
  link(M, sheathing, outside, 1.0 / layers.outside);
  add_gap(M, layers.room, nusselt, air_1, lining, batt_room);
  add_gap(M, layers.sheathing, nusselt, air_2, batt_sheathing, sheathing);
  const Eigen::Index faces = n - n_kept;
  const Matrix kept = M.topLeftCorner(n_kept, n_kept) -
                      M.topRightCorner(n_kept, faces) *
                          M.bottomRightCorner(faces, faces).ldlt().solve(M.bottomLeftCorner(faces, n_kept));
  return {-kept(room, air_1),    -kept(room, air_2),   -kept(outside, air_1),
          -kept(outside, air_2), -kept(room, outside), -kept(air_1, air_2)};
}

double heat_from_room(const LoopColumn& column, double air_1, double air_2) {
  return column.i1 * (1.0 - air_1) + column.i2 * (1.0 - air_2) + column.ie;
}

double heat_to_outside(const LoopColumn& column, double air_1, double air_2) {
  return column.e1 * air_1 + column.e2 * air_2 + column.ie;
}

StillAir still_air(const LoopColumn& column) {
  const double a1 = column.of_air_1(), a2 = column.of_air_2();
  // A gap that is none is linked to nothing.
  if (!(a1 > 0.0)) return {0.0, a2 > 0.0 ? column.i2 / a2 : 0.0};
  if (!(a2 > 0.0)) return {column.i1 / a1, 0.0};
  const double det = a1 * a2 - column.c12 * column.c12;
  return {(a2 * column.i1 + column.c12 * column.i2) / det, (a1 * column.i2 + column.c12 * column.i1) / det};
}

}  // namespace coldbay
