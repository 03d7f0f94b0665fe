#include "solver/multigrid/rows.hpp"

// One body, compiled for each generation of vector units; the loader picks the one that the machine has.
#if defined(__x86_64__) && defined(__linux__) && !defined(COLDBAY_SANITIZED)
#define ON_THE_WIDEST_VECTORS __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define ON_THE_WIDEST_VECTORS
#endif

// No template: the clones are of functions, and each is four lines.
#define FOR_ONE_PRECISION(Real)                                                                         \
  ON_THE_WIDEST_VECTORS                                                                                 \
  void add(Index n, Real* __restrict out, const Real* __restrict a) {                                   \
    for (Index i = 0; i < n; ++i) out[i] += a[i];                                                       \
  }                                                                                                     \
  ON_THE_WIDEST_VECTORS                                                                                 \
  void product(Index n, Real* __restrict out, const Real* __restrict a, const Real* __restrict b) {     \
    for (Index i = 0; i < n; ++i) out[i] = a[i] * b[i];                                                 \
  }                                                                                                     \
  ON_THE_WIDEST_VECTORS                                                                                 \
  void add_product(Index n, Real* __restrict out, const Real* __restrict a, const Real* __restrict b) { \
    for (Index i = 0; i < n; ++i) out[i] += a[i] * b[i];                                                \
  }                                                                                                     \
  ON_THE_WIDEST_VECTORS                                                                                 \
  void two_products(Index n, Real* __restrict out, const Real* __restrict a, const Real* __restrict b,  \
                    const Real* __restrict c, const Real* __restrict d) {                               \
    for (Index i = 0; i < n; ++i) out[i] = a[i] * b[i] + c[i] * d[i];                                   \
  }                                                                                                     \
  ON_THE_WIDEST_VECTORS                                                                                 \
  void add_flow(Index n, Real* __restrict out, const Real* __restrict g, const Real* __restrict here,   \
                const Real* __restrict there) {                                                         \
    for (Index i = 0; i < n; ++i) out[i] += g[i] * (here[i] - there[i]);                                \
  }

namespace coldbay::rows {

FOR_ONE_PRECISION(float)
FOR_ONE_PRECISION(double)

}  // namespace coldbay::rows
