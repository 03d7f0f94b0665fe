#pragma once

#include <vector>

#include "geometry/section.hpp"
#include "materials/model_error.hpp"

namespace coldbay {

/// Sizes outside these are a slip of the keyboard, not a wall [m].
inline constexpr double smallest_size = 1e-5, largest_size = 100.0;

/// Everything about a drawn section that cannot be: sizes that are not positive or absurd, a
/// polygon without area or crossing itself, a shape or probe outside the section. Empty where all is
/// well. Paths are those of the shapes and probes, "section.width" and so on for the section itself.
/// A size that is NaN is one the reader has complained of already: nothing is said of it, and the
/// grid refuses it.
std::vector<Problem> check(const Section& section);

/// The same of one outline alone.
void check_outline(const Outline& outline, const std::string& path, std::vector<Problem>& problems);

}  // namespace coldbay
