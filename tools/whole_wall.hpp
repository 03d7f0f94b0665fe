#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/wall/faults.hpp"
#include "geometry/wall/pieces.hpp"
#include "tools/outcome.hpp"

namespace coldbay {

/// The columns whose extra heat is put down to a faulty bay: half-way into the next sound ones.
Span columns_of(const std::vector<std::vector<Fault>>& faults, const BuiltWall& built, std::size_t bay);

/// The wall as a whole from its sections; nothing where they cannot tell: no plan has a U, or a pipe gives or
/// takes heat.
///
/// Built right, it is a plan's U (one with nothing but studs and fill, where there is one) and, beside it,
/// the framing of the elevation that no plan shows. What the workmanship costs is the difference of the heat
/// through the face, as built and built right, summed bay by bay over the elevation. A faulty bay has the
/// columns half-way into the next sound ones; plans count for them over the heights at which that bay looks
/// as they show it. Verticals that show a fault of it add, for the columns they stand for, what they have
/// beyond what they show at the heights of those plans: the ends, what crosses, and what air that loops
/// carries. Heights at which a bay
/// looks right cost nothing. What is left is `unseen`.
std::optional<WholeWall> whole_wall(const Case& c, const BuiltWall& built, const Outcomes& all);

}  // namespace coldbay
