#pragma once

#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/rasterise.hpp"
#include "geometry/section.hpp"
#include "materials/air_space.hpp"
#include "materials/model_error.hpp"

namespace coldbay {

/// The air spaces of a painting.
struct AirSpaces {
  std::vector<AirCavity> cavities;
  std::vector<int> of_cell;  ///< index into cavities for each cell that holds any air, else -1
};

/// Finds the connected regions of air-space material (cells that are at least half air, joined by their
/// faces), at 10 degC and 5 K. A passage of 2 mm or less between two spaces parts them ([ISO10077] 6.3).
/// Under the rule for layers a region is cut where its depth steps (air_pieces.hpp).
AirSpaces find_air_spaces(const Section& section, const Painting& painting);

/// Sets a cavity's resistance and equivalent conductivities from its size and the state of its air. Under the
/// rule for layers it conducts either way by its size and state in that one, but across no better than in
/// depth; [ISO10077] gives one conductivity for both, that of the way its heat mostly goes. A slightly
/// ventilated one conducts twice as well ([ISO10077] 6.3; half the resistance, [ISO6946] of 1996; both from
/// memory).
void apply_rule(AirCavity& cavity, AirRule rule);

/// What radiation passes across a cavity along a direction, by the same rule [W/(m2 K)].
double radiative_coefficient(const AirCavity& cavity, Direction direction, AirRule rule);

/// Air spaces that reach the room face, the outside face or a side that exchanges heat, where no rule for
/// still air holds, as problems at the shapes that draw them.
std::vector<Problem> open_air_spaces(const Section& section, const Surroundings& air,
                                     const Painting& painting, const AirSpaces& spaces);

/// Gives the cavities the state that the same ones have on another grid of the section; leaves them
/// alone where the two grids do not see the same number.
void start_from(AirSpaces& spaces, const AirSpaces& other, AirRule rule);

}  // namespace coldbay
