#include "solver/multigrid/rows.hpp"

// One body for both precisions, compiled for each generation of vector units; the loader picks the one that
// the machine has. (Clones must be plain functions, hence the pairs.)
#if defined(__x86_64__) && defined(__linux__) && !defined(COLDBAY_SANITIZED)
#define ON_THE_WIDEST_VECTORS __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define ON_THE_WIDEST_VECTORS
#endif

namespace coldbay::rows {
namespace {

template <class Real>
inline void do_add(Index n, Real* __restrict out, const Real* __restrict a) {
  for (Index i = 0; i < n; ++i) out[i] += a[i];
}

template <class Real>
inline void do_product(Index n, Real* __restrict out, const Real* __restrict a, const Real* __restrict b) {
  for (Index i = 0; i < n; ++i) out[i] = a[i] * b[i];
}

template <class Real>
inline void do_add_product(Index n, Real* __restrict out, const Real* __restrict a,
                           const Real* __restrict b) {
  for (Index i = 0; i < n; ++i) out[i] += a[i] * b[i];
}

template <class Real>
inline void do_two_products(Index n, Real* __restrict out, const Real* __restrict a, const Real* __restrict b,
                            const Real* __restrict c, const Real* __restrict d) {
  for (Index i = 0; i < n; ++i) out[i] = a[i] * b[i] + c[i] * d[i];
}

template <class Real>
inline void do_add_flow(Index n, Real* __restrict out, const Real* __restrict g, const Real* __restrict here,
                        const Real* __restrict there) {
  for (Index i = 0; i < n; ++i) out[i] += g[i] * (here[i] - there[i]);
}

}  // namespace

ON_THE_WIDEST_VECTORS
void add(Index n, float* out, const float* a) { do_add(n, out, a); }

ON_THE_WIDEST_VECTORS
void add(Index n, double* out, const double* a) { do_add(n, out, a); }

ON_THE_WIDEST_VECTORS
void product(Index n, float* out, const float* a, const float* b) { do_product(n, out, a, b); }

ON_THE_WIDEST_VECTORS
void product(Index n, double* out, const double* a, const double* b) { do_product(n, out, a, b); }

ON_THE_WIDEST_VECTORS
void add_product(Index n, float* out, const float* a, const float* b) { do_add_product(n, out, a, b); }

ON_THE_WIDEST_VECTORS
void add_product(Index n, double* out, const double* a, const double* b) { do_add_product(n, out, a, b); }

ON_THE_WIDEST_VECTORS
void two_products(Index n, float* out, const float* a, const float* b, const float* c, const float* d) {
  do_two_products(n, out, a, b, c, d);
}

ON_THE_WIDEST_VECTORS
void two_products(Index n, double* out, const double* a, const double* b, const double* c, const double* d) {
  do_two_products(n, out, a, b, c, d);
}

ON_THE_WIDEST_VECTORS
void add_flow(Index n, float* out, const float* g, const float* here, const float* there) {
  do_add_flow(n, out, g, here, there);
}

ON_THE_WIDEST_VECTORS
void add_flow(Index n, double* out, const double* g, const double* here, const double* there) {
  do_add_flow(n, out, g, here, there);
}

}  // namespace coldbay::rows
