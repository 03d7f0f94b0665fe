#pragma once

#include <array>

#include "geometry/axis.hpp"

/// Arithmetic on rows: n neighbouring columns at one depth. Columns do not wait for each other, so a row is
/// done many at a time by whatever vector unit the machine has; everything slow about a cycle is in here.
///
/// Rows of one call do not overlap, except where a name says that it reads and writes.
namespace coldbay::rows {

/// out += a b
void add_product(Index n, float* out, const float* a, const float* b);
void add_product(Index n, double* out, const double* a, const double* b);

/// out += a b c
void add_product(Index n, float* out, const float* a, const float* b, const float* c);
void add_product(Index n, double* out, const double* a, const double* b, const double* c);

/// out += a[0] b[0] + a[1] b[1] + a[2] b[2]
void add_products(Index n, float* out, const std::array<const float*, 3>& a,
                  const std::array<const float*, 3>& b);
void add_products(Index n, double* out, const std::array<const double*, 3>& a,
                  const std::array<const double*, 3>& b);

/// out += a
void add(Index n, float* out, const float* a);
void add(Index n, double* out, const double* a);

/// One row of the back substitution through a column: t = t d + l next.
void scale_and_add(Index n, float* t, const float* d, const float* l, const float* next);
void scale_and_add(Index n, double* t, const double* d, const double* l, const double* next);

/// out += g (here - there)
void add_flow(Index n, float* out, const float* g, const float* here, const float* there);
void add_flow(Index n, double* out, const double* g, const double* here, const double* there);

}  // namespace coldbay::rows
