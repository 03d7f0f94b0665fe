#pragma once

#include <cstdint>
#include <optional>

namespace coldbay {

/// How a value scatters, in the unit it is written in.
struct Distribution {
  enum class Kind { uniform, triangular, normal, lognormal };
  Kind kind = Kind::uniform;
  double middle = 0.0;  ///< of a triangle its peak, of a normal one its mean, of a lognormal one its median
  /// Standard deviation; of a lognormal one that of the natural logarithm.
  double spread = 0.0;
  std::optional<double> from, to;  ///< uniform and triangular have both; the others are cut off there
};

/// The value below which a share u of all values lies; 0 < u < 1.
///
/// Made of additions, multiplications, divisions and roots alone, which IEEE 754 rounds the same everywhere:
/// the same seed gives the same values on any machine.
double value_below(const Distribution& distribution, double u);

/// The same for the normal distribution of mean 0 and deviation 1 [Wichura1988]; relative error about 1e-16.
double normal_value_below(double u);

/// The share of it below z, found by halving from normal_value_below().
double normal_share_below(double z);

/// exp and log by their series, for the reason above; relative error below 1e-15.
double plain_exp(double x);
double plain_log(double x);

}  // namespace coldbay
