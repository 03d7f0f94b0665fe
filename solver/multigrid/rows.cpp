#include "solver/multigrid/rows.hpp"

// One body, compiled for each generation of vector units; the loader picks the one that the machine has.
#if defined(__x86_64__) && defined(__linux__) && !defined(__SANITIZE_ADDRESS__) && !defined(COLDBAY_SANITIZE)
#define ON_THE_WIDEST_VECTORS __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define ON_THE_WIDEST_VECTORS
#endif

namespace coldbay::rows {
namespace {

template <class Real>
inline void product(Index n, Real* __restrict out, const Real* __restrict a, const Real* __restrict b) {
  for (Index i = 0; i < n; ++i) out[i] += a[i] * b[i];
}

template <class Real>
inline void product(Index n, Real* __restrict out, const Real* __restrict a, const Real* __restrict b,
                    const Real* __restrict c) {
  for (Index i = 0; i < n; ++i) out[i] += a[i] * b[i] * c[i];
}

template <class Real>
inline void products(Index n, Real* __restrict out, const Real* __restrict a0, const Real* __restrict b0,
                     const Real* __restrict a1, const Real* __restrict b1, const Real* __restrict a2,
                     const Real* __restrict b2) {
  for (Index i = 0; i < n; ++i) out[i] += a0[i] * b0[i] + a1[i] * b1[i] + a2[i] * b2[i];
}

template <class Real>
inline void flow(Index n, Real* __restrict out, const Real* __restrict g, const Real* __restrict here,
                 const Real* __restrict there) {
  for (Index i = 0; i < n; ++i) out[i] += g[i] * (here[i] - there[i]);
}

template <class Real>
inline void sum(Index n, Real* __restrict out, const Real* __restrict a) {
  for (Index i = 0; i < n; ++i) out[i] += a[i];
}

template <class Real>
inline void scaled(Index n, Real* __restrict t, const Real* __restrict d, const Real* __restrict l,
                   const Real* __restrict next) {
  for (Index i = 0; i < n; ++i) t[i] = t[i] * d[i] + l[i] * next[i];
}

}  // namespace

ON_THE_WIDEST_VECTORS
void add_product(Index n, float* out, const float* a, const float* b) { product(n, out, a, b); }
ON_THE_WIDEST_VECTORS
void add_product(Index n, double* out, const double* a, const double* b) { product(n, out, a, b); }

ON_THE_WIDEST_VECTORS
void add_product(Index n, float* out, const float* a, const float* b, const float* c) {
  product(n, out, a, b, c);
}
ON_THE_WIDEST_VECTORS
void add_product(Index n, double* out, const double* a, const double* b, const double* c) {
  product(n, out, a, b, c);
}

ON_THE_WIDEST_VECTORS
void add(Index n, float* out, const float* a) { sum(n, out, a); }
ON_THE_WIDEST_VECTORS
void add(Index n, double* out, const double* a) { sum(n, out, a); }

ON_THE_WIDEST_VECTORS
void scale_and_add(Index n, float* t, const float* d, const float* l, const float* next) {
  scaled(n, t, d, l, next);
}
ON_THE_WIDEST_VECTORS
void scale_and_add(Index n, double* t, const double* d, const double* l, const double* next) {
  scaled(n, t, d, l, next);
}

ON_THE_WIDEST_VECTORS
void add_products(Index n, float* out, const std::array<const float*, 3>& a,
                  const std::array<const float*, 3>& b) {
  products(n, out, a[0], b[0], a[1], b[1], a[2], b[2]);
}
ON_THE_WIDEST_VECTORS
void add_products(Index n, double* out, const std::array<const double*, 3>& a,
                  const std::array<const double*, 3>& b) {
  products(n, out, a[0], b[0], a[1], b[1], a[2], b[2]);
}
ON_THE_WIDEST_VECTORS
void add_flow(Index n, float* out, const float* g, const float* here, const float* there) {
  flow(n, out, g, here, there);
}
ON_THE_WIDEST_VECTORS
void add_flow(Index n, double* out, const double* g, const double* here, const double* there) {
  flow(n, out, g, here, there);
}

}  // namespace coldbay::rows
