#pragma once

#include "geometry/section.hpp"

namespace coldbay {

/// What a section shows between two places, moved so that it begins at 0. Its sides are where it is cut; it
/// keeps its materials, and has no probes and no parts.
///
/// Throws ModelError where the cut would go through a circle.
Section stretch_of(const Section& section, Span across);

/// The same picture to a solve? Names, paths and sources do not conduct. Numbers may differ by what rounding
/// makes of them.
bool show_the_same(const Section& a, const Section& b);

}  // namespace coldbay
