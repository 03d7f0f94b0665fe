#pragma once

#include <cstdint>
#include <unordered_map>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"

namespace coldbay {

struct AirSpaces;

/// Which shape shows where, cell by cell.
///
/// A cell crossed by a slanted or curved edge is `mixed`: it is sampled at samples x samples points,
/// row by row from depth 0, across fastest. All other cells show one shape.
struct Painting {
  static constexpr int samples = 16;
  static constexpr std::uint32_t bare = 0xffffffffu;   ///< no shape covers this
  static constexpr std::uint32_t mixed = 0xfffffffeu;  ///< look in mixed_cells
  Axis across, depth;
  std::vector<std::uint32_t> shape;  ///< [i + across.cells() * k], index into Section::shapes
  std::unordered_map<Index, std::vector<std::uint32_t>> mixed_cells;
};

/// Paints the shapes in order, later over earlier, on the given lines. Rectangles are drawn to the
/// nearest lines, which lie on their edges (grid_lines.hpp).
Painting paint(const Section& section, Axis across, Axis depth);

/// The first point that no shape covers, if there is one: the middle of a bare cell.
std::vector<Point> bare_points(const Painting& painting);

/// Shapes that later ones hide completely, by index.
std::vector<std::size_t> hidden_shapes(const Section& section, const Painting& painting);

/// Conductivities of the painted cells; `up` is one cell of 1 m.
///
/// In a mixed cell the conductivity along a direction is the mean of the two bounds for the sampled
/// pattern (ConductivityBounds). tests/accuracy/slanted_edges_test.cpp measures the error.
///
/// Air spaces get their conductivity from `air`; their state decides it, and the field decides
/// their state (solver/settle.hpp). So does it decide the conductivity of materials with a law in
/// temperature: `celsius` holds the temperature of every cell, or is empty for 10 degC everywhere.
///
/// Cells that show a held shape are held. A mixed cell is held where at least half of its samples are, as one
/// is air where half of it is, at their mean temperature; how near the edge of a held shape then lies to the
/// cells beside it, the samples say (solver/discretisation.hpp).
///
/// Throws ModelError at "section.shapes" where part of the section is bare.
ConductivityGrid conductivity_grid(const Section& section, const Painting& painting, const AirSpaces& air,
                                   const std::vector<double>& celsius = {});

/// Paints, finds the air spaces at 10 degC and 5 K, and gives the conductivities, in one.
ConductivityGrid rasterise(const Section& section, const Axis& across, const Axis& depth);

}  // namespace coldbay
