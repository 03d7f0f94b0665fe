#include "solver/air_loops/loop_column.hpp"

#include <Eigen/LU>
#include <cassert>
#include <cmath>

namespace coldbay {
namespace {

using Index = Eigen::Index;

/// Four that are kept and up to four faces: no memory to ask for.
using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor, 8, 8>;
constexpr Index n_kept = 4;

void link(Matrix& M, Index i, Index j, double conductance) {
  M(i, i) += conductance;
  M(j, j) += conductance;
  M(i, j) -= conductance;
  M(j, i) -= conductance;
}

void add_gap(Matrix& M, const GapLink& gap, double nusselt, Index air, Index face_a, Index face_b) {
  if (gap.touching) return;
  const double h = 0.5 * nusselt * gap.conduction;
  // The two parts of the heat as links: h from either face, and what is left from face to face.
  link(M, face_a, air, h);
  link(M, face_b, air, h);
  link(M, face_a, face_b, gap.conduction - 0.5 * h + gap.radiation);
}

/// Carries g from one node to the next, at the temperature of the first.
void carry(Matrix& M, Index from, Index to, double g) {
  M(from, from) += g;
  M(to, from) -= g;
}

/// Conduction in the batt, and the air that passes through it from `face_1` to `face_2`.
void add_batt(Matrix& M, double resistance, double through, Index face_1, Index face_2) {
  const double g = std::abs(through), Pe = g * resistance;
  link(M, face_1, face_2, Pe < 1e-9 ? 1.0 / resistance : g / std::expm1(Pe));
  if (through > 0.0) {
    carry(M, column_air_1, face_1, g);
    carry(M, face_1, face_2, g);
    carry(M, face_2, column_air_2, g);
  } else if (through < 0.0) {
    carry(M, column_air_2, face_2, g);
    carry(M, face_2, face_1, g);
    carry(M, face_1, column_air_1, g);
  }
}

}  // namespace

Eigen::Matrix4d crossed_column(const ColumnLayers& layers, double nusselt, double through) {
  assert(through == 0.0 || !(layers.room.touching || layers.sheathing.touching));
  // The faces, numbered after what is kept; two that touch are one.
  Index n = n_kept;
  const Index lining = n++;
  const Index batt_room = layers.room.touching ? lining : n++;
  const Index batt_sheathing = n++;
  const Index sheathing = layers.sheathing.touching ? batt_sheathing : n++;
  Matrix M = Matrix::Zero(n, n);
  link(M, column_room, lining, 1.0 / layers.inside);
  link(M, sheathing, column_outside, 1.0 / layers.outside);
  add_gap(M, layers.room, nusselt, column_air_1, lining, batt_room);
  add_gap(M, layers.sheathing, nusselt, column_air_2, batt_sheathing, sheathing);
  add_batt(M, layers.batt, through, batt_room, batt_sheathing);
  const Index faces = n - n_kept;
  const Matrix inner = M.bottomRightCorner(faces, faces), from_kept = M.bottomLeftCorner(faces, n_kept);
  return M.topLeftCorner(n_kept, n_kept) -
         M.topRightCorner(n_kept, faces) * inner.partialPivLu().solve(from_kept);
}

LoopColumn loop_column(const ColumnLayers& layers, double nusselt) {
  const Eigen::Matrix4d M = crossed_column(layers, nusselt, 0.0);
  return {-M(column_room, column_air_1),    -M(column_room, column_air_2),   -M(column_outside, column_air_1),
          -M(column_outside, column_air_2), -M(column_room, column_outside), -M(column_air_1, column_air_2)};
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

double exchange_conductance(const LoopColumn& column) {
  const double a1 = column.of_air_1(), a2 = column.of_air_2(), half = 0.5 * (a2 - a1);
  return std::sqrt(half * half + a1 * a2 - column.c12 * column.c12) - std::abs(half);
}

}  // namespace coldbay
