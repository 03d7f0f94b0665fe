#pragma once

#include "geometry/axis.hpp"

/// Arithmetic on rows: n neighbouring columns at one depth. Columns do not wait for each other, so a row is
/// done many at a time by whatever vector unit the machine has; everything slow about a cycle is in here.
///
/// Rows of one call do not overlap, except where a name says that it reads and writes.
namespace coldbay::rows {

/// out += a b
void add_product(Index n, float* out, const float* a, const float* b);
void add_product(Index n, double* out, const double* a, const double* b);

/// out += a
void add(Index n, float* out, const float* a);
void add(Index n, double* out, const double* a);

/// out = a b
void product(Index n, float* out, const float* a, const float* b);
void product(Index n, double* out, const double* a, const double* b);

/// out = a b + c d
void two_products(Index n, float* out, const float* a, const float* b, const float* c, const float* d);
void two_products(Index n, double* out, const double* a, const double* b, const double* c, const double* d);

/// out += g (here - there)
void add_flow(Index n, float* out, const float* g, const float* here, const float* there);
void add_flow(Index n, double* out, const double* g, const double* here, const double* there);

}  // namespace coldbay::rows
