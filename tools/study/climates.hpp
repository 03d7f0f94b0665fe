#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "geometry/section.hpp"
#include "solver/forecast.hpp"

namespace coldbay {

/// The air on either side.
struct Airs {
  double inside = 0.0, outside = 0.0;  ///< [degC]
  double difference() const { return inside - outside; }
};

/// All climates that are asked about.
struct ClimateRange {
  Span inside, outside;  ///< [degC]
};

/// A section in all climates of a range, though its materials and air spaces conduct by their temperature.
///
/// Conductance and temperature factors change little and evenly with the two temperatures. They are solved
/// for on the small grid that forecast() begins with, at even steps of the range, 5 to 33 differences of
/// the airs by 3 means of them, and what lies between is interpolated; how they differ from those of a fine
/// grid is found once, where the difference of the airs is largest.
///
/// Counted as uncertain: that of the fine grid; twice what interpolation was off by at most at points held
/// back; twice what halving the cells changed of the step from climate to climate.
class SectionClimates {
 public:
  /// Throws as forecast() does. `range` has inside warmer throughout, or outside.
  SectionClimates(const Section& section, const Surroundings& air, const ClimateRange& range,
                  const Accuracy& accuracy);

  /// Heat, U and the face's extremes with what they are known to; nothing where that is less than was asked
  /// for, or the climate not in the range.
  std::optional<Results> in(Airs airs) const;

 private:
  /// Of a section in one climate.
  struct Numbers {
    double conductance = 0.0;  ///< heat per kelvin [W/(m K)]
    double least = 0.0,
           most = 0.0;  ///< temperature factors of the face, (T - T_outside)/(T_inside - T_outside)
  };
  /// How far off they may be.
  struct Off {
    double heat = 0.0;  ///< relative
    double face = 0.0;  ///< of temperature factors
  };
  struct Grid;
  std::optional<Off> interpolate_between(const Grid& grid, const Numbers& reference, const Off& steps,
                                         const Off& most);
  Numbers between(Airs airs) const;

  ClimateRange range_;
  Span differences_, means_;  ///< of it [K], [degC]
  Accuracy accuracy_;
  double width_ = 0.0;
  std::size_t n_ = 0;            ///< differences; 0: nothing is known
  std::vector<Numbers> points_;  ///< steps from the reference, means fastest; a ratio for the conductance
  Numbers fine_;                 ///< the reference, on a fine grid
  Off off_;
};

}  // namespace coldbay
