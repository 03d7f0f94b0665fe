#include "tools/study/distribution.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <map>

namespace coldbay {
namespace {

constexpr double ln_2 = 0.693147180559945309417;

/// p[0] + p[1] x + ... + p[7] x^7
double polynomial(const std::array<double, 8>& p, double x) {
  double sum = 0.0;
  for (std::size_t k = p.size(); k-- > 0;) sum = sum * x + p[k];
  return sum;
}

/// Coefficients of PPND16 [Wichura1988]: near the middle, on the flanks, in the tails.
constexpr std::array<double, 8> a{3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3,
                                  1.3731693765509461125e4, 4.5921953931549871457e4, 6.7265770927008700853e4,
                                  3.3430575583588128105e4, 2.5090809287301226727e3};
constexpr std::array<double, 8> b{1.0,
                                  4.2313330701600911252e1,
                                  6.8718700749205790830e2,
                                  5.3941960214247511077e3,
                                  2.1213794301586595867e4,
                                  3.9307895800092710610e4,
                                  2.8729085735721942674e4,
                                  5.2264952788528545610e3};
constexpr std::array<double, 8> c{1.42343711074968357734e0,  4.63033784615654529590e0,
                                  5.76949722146069140550e0,  3.64784832476320460504e0,
                                  1.27045825245236838258e0,  2.41780725177450611770e-1,
                                  2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr std::array<double, 8> d{1.0,
                                  2.05319162663775882187e0,
                                  1.67638483018380384940e0,
                                  6.89767334985100004550e-1,
                                  1.48103976427480074590e-1,
                                  1.51986665636164571966e-2,
                                  5.47593808499534494600e-4,
                                  1.05075007164441684324e-9};
constexpr std::array<double, 8> e{6.65790464350110377720e0,  5.46378491116411436990e0,
                                  1.78482653991729133580e0,  2.96560571828504891230e-1,
                                  2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                  2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr std::array<double, 8> f{1.0,
                                  5.99832206555887937690e-1,
                                  1.36929880922735805310e-1,
                                  1.48753612908506148525e-2,
                                  7.86869131145613259100e-4,
                                  1.84631831751005468180e-5,
                                  1.42151175831644588870e-7,
                                  2.04426310338993978564e-15};

double triangular_value(double from, double peak, double to, double u) {
  const double whole = to - from, rising = peak - from, falling = to - peak;
  return u * whole < rising ? from + std::sqrt(u * whole * rising)
                            : to - std::sqrt((1.0 - u) * whole * falling);
}

/// normal_share_below(), which takes some hundred values of the other, and is asked for the same limits with
/// every draw.
double remembered_share_below(double z) {
  constexpr std::size_t most = 64;
  thread_local std::map<double, double> known;
  if (const auto at = known.find(z); at != known.end()) return at->second;
  if (known.size() == most) known.clear();
  return known[z] = normal_share_below(z);
}

/// u moved to the part of a normal distribution that is left between its limits.
double normal_value(double mean, double deviation, const std::optional<double>& from,
                    const std::optional<double>& to, double u) {
  if (!from && !to) return mean + deviation * normal_value_below(u);
  const double least = from ? remembered_share_below((*from - mean) / deviation) : 0.0,
               most = to ? remembered_share_below((*to - mean) / deviation) : 1.0;
  return mean + deviation * normal_value_below(least + u * (most - least));
}

}  // namespace

double plain_log(double x) {
  int exponent = 0;
  double m = std::frexp(x, &exponent);  // 0.5 <= m < 1
  if (m < 0.70710678118654752440) {
    m *= 2.0;
    --exponent;
  }
  const double s = (m - 1.0) / (m + 1.0), s2 = s * s;  // ln m = 2 atanh(s), |s| < 0.172
  double sum = 0.0;
  for (int n = 23; n >= 1; n -= 2) sum = sum * s2 + 1.0 / n;
  return exponent * ln_2 + 2.0 * s * sum;
}

double plain_exp(double x) {
  const double n = std::floor(x / ln_2 + 0.5), r = x - n * ln_2;  // |r| < 0.35
  double sum = 1.0;
  for (int k = 18; k >= 1; --k) sum = 1.0 + sum * r / k;
  return std::ldexp(sum, static_cast<int>(n));
}

double normal_value_below(double u) {
  const double q = u - 0.5;
  if (std::abs(q) <= 0.425) {
    const double r = 0.180625 - q * q;
    return q * polynomial(a, r) / polynomial(b, r);
  }
  const double r = std::sqrt(-plain_log(q < 0.0 ? u : 1.0 - u));
  const double z = r <= 5.0 ? polynomial(c, r - 1.6) / polynomial(d, r - 1.6)
                            : polynomial(e, r - 5.0) / polynomial(f, r - 5.0);
  return q < 0.0 ? -z : z;
}

double normal_share_below(double z) {
  if (z > 0.0) return 1.0 - normal_share_below(-z);
  double low = 0x1p-1000, high = 0.5;
  while (true) {
    // Far apart the exponents are halved, close by the numbers.
    const double middle = low * 4.0 < high ? std::sqrt(low) * std::sqrt(high) : 0.5 * (low + high);
    if (middle <= low || middle >= high) return high;
    (normal_value_below(middle) < z ? low : high) = middle;
  }
}

double value_below(const Distribution& distribution, double u) {
  switch (distribution.kind) {
    case Distribution::Kind::uniform:
      return *distribution.from + u * (*distribution.to - *distribution.from);
    case Distribution::Kind::triangular:
      return triangular_value(*distribution.from, distribution.middle, *distribution.to, u);
    case Distribution::Kind::normal:
      return normal_value(distribution.middle, distribution.spread, distribution.from, distribution.to, u);
    case Distribution::Kind::lognormal:
      break;
  }
  const auto log_of = [](const std::optional<double>& x) {
    return x ? std::optional(plain_log(*x)) : std::nullopt;
  };
  return plain_exp(normal_value(plain_log(distribution.middle), distribution.spread,
                                log_of(distribution.from), log_of(distribution.to), u));
}

}  // namespace coldbay
