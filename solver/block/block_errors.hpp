#pragma once

#include <array>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// What the size of the cells costs some part of the room face, strip by strip of each axis; only their
/// ratios mean anything.
using BlockErrors = std::array<std::vector<double>, 3>;

/// Of the temperatures of the room face, each times its weight and area, summed up.
///
/// Within a cell the scheme knows one flux along a direction, that of either face on its half. Where the two
/// differ, by dq, the dissipation is off by dq^2 h V / (12 k) (solver/refinement/strip_errors.hpp). A sum
/// over the face is no dissipation, but it is what heat let in by the weights at the face would find of the
/// temperatures: with dq' the same difference of that second field, which is solved for here, it is off by
/// dq dq' h V / (12 k) ([BeckerRannacher2001] call this dual-weighted). So strips count that the places in
/// question feel, wherever they lie.
///
/// `weights` by column of cells through the wall.
BlockErrors errors_for_face(const ConductivityGrid& grid, const Surroundings& air,
                            const TemperatureField& field, const std::vector<double>& weights);

/// The axes with strips halved, the worst for their number of cells first, some of them several times, until
/// the errors are down to a share of what they were and `least` cells are reached, or `most`. A strip halved
/// is reckoned to keep a third of its error.
std::array<Axis, 3> refined(const std::array<Axis, 3>& axis, const BlockErrors& errors, double share,
                            Index least, Index most);

}  // namespace coldbay
