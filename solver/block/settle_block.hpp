#pragma once

#include <array>
#include <vector>

#include "geometry/block/air_spaces.hpp"
#include "geometry/block/painting.hpp"
#include "solver/air_loops/moving_air.hpp"
#include "solver/solve.hpp"
#include "solver/temperature_field.hpp"

namespace coldbay {

/// A block solved on one grid.
struct SolvedBlock {
  ConductivityGrid grid;
  TemperatureField field;
  int rounds = 0;         ///< solves it took
  double change = 0.0;    ///< of the room face anywhere by the last of them [K]; 0 after a single one
  MovingAir moving = {};  ///< the air that loops in it, if any does
};

/// Draws the block on the axes and solves it with the air spaces as they are in `air`, and materials at the
/// temperatures of `start` (one for every cell [degC], or none: 10 degC). Where air loops, again and again
/// with the flows that are looked for (FlowSearch), until what flows is what is driven; it begins at the
/// `strength` that the loops had on another grid.
SolvedBlock solve_block(const Block& block, std::array<Axis, 3> axis, const Surroundings& surroundings,
                        const BlockAir& air, const SolverOptions& options, const std::vector<double>& start,
                        const std::vector<double>& strength);

/// The same again and again, each time with the conductivities that air spaces and materials have at the
/// temperatures of the round before, until the room face changes by less than `within` [K]. `air` is where it
/// starts, and is left at what was found.
///
/// Throws SolverError where most_rounds (solver/settle.hpp) do not settle it.
SolvedBlock settle_block(const Block& block, std::array<Axis, 3> axis, const Surroundings& surroundings,
                         BlockAir& air, double within, const SolverOptions& options);

/// Sets the state of every air space from the field, and what it conducts from its state.
void follow(BlockAir& air, const BlockPainting& painting, const Block& block,
            const Surroundings& surroundings, const ConductivityGrid& grid, const TemperatureField& field);

/// Temperatures of the room face [degC], across fastest.
std::vector<double> room_face_of(const ConductivityGrid& grid, const Surroundings& surroundings,
                                 const TemperatureField& field);

}  // namespace coldbay
