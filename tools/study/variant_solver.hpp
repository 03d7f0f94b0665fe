#pragma once

#include <cstddef>
#include <deque>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "tools/input/case.hpp"
#include "tools/study/opened.hpp"

namespace coldbay {

/// Whether every temperature of a case lies between those of its two airs as far as in any other climate:
/// nothing in it conducts by its temperature, nothing is held at one, and there are no more than two airs.
bool follows_its_airs(const Case& c);

/// Solves the variants of a study one after another, for one thread.
///
/// A case that follows its airs is solved once for all climates whose difference lies between two powers of
/// two kelvins: at the larger one, so that what is promised of the face holds for each of them. What comes
/// out depends on the variant alone, and never on those before it.
class VariantSolver {
 public:
  /// The study must outlive this.
  explicit VariantSolver(const OpenStudy& study) : study_(study) {}

  /// What is kept, in the order of its columns. Throws as case_of() and solve_kept() do.
  std::vector<double> solve(const Variant& variant);

 private:
  struct Airs {
    double inside = 0.0, outside = 0.0;  ///< [degC]
  };
  /// A case that follows its airs, in all climates.
  struct Known {
    std::string key;  ///< all that is varied but the climate
    Case c;
    std::map<std::pair<int, bool>, std::vector<double>>
        kept;  ///< by the power of two, and if outside is warmer
  };
  std::vector<double> in_climate(Known& known, Airs airs) const;

  const OpenStudy& study_;
  std::deque<Known> known_;  ///< the last ones
};

}  // namespace coldbay
