#pragma once

#include <vector>

#include "geometry/wall/build.hpp"
#include "geometry/wall/faults.hpp"

namespace coldbay {

/// The faults of each bay that a plane shows, at a height where `normal` is up, at a distance across where it
/// is across: those that, put right alone, would change what it shows of the bay. A batt too short or too
/// long, slumped or settled, shows in a plan only at the end where it is so.
std::vector<std::vector<Fault>> seen_faults(const Wall& wall, Direction normal, double at);

/// The heights between the plates at which a plan shows of one bay what it shows at `height`; what lies by
/// chance is left out.
std::vector<Span> alike_heights(const BuiltWall& wall, std::size_t bay, double height);

/// The heights between the plates at which a plan shows one bay of two walls alike: as built, and built
/// right.
std::vector<Span> right_heights(const BuiltWall& built, const BuiltWall& right, std::size_t bay);

/// What of some stretches is not in others.
std::vector<Span> without(std::vector<Span> some, const std::vector<Span>& others);

double length_of(const std::vector<Span>& spans);

}  // namespace coldbay
