#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <unordered_map>
#include <vector>

#include "geometry/axis.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// What the air between two faces that look at each other feels.
struct AirState {
  double emissivity_low = 0.9, emissivity_high = 0.9;  ///< of the faces at either end of a direction
  double mean_temperature = 10.0;                      ///< of those two faces [degC]
  double difference = 5.0;                             ///< between them [K]
};

/// An air space as drawn on the grid: a connected region of `air space`, or a piece of one (air_pieces.hpp),
/// the state of its air, and the conductivity that makes it pass the heat its rule says.
///
/// One that is no rectangle is reckoned as the rectangle of equal area and of the proportions of the
/// smallest rectangle round it ([ISO10077] 6.3, from memory). One that is cut by a side of the section goes
/// on beyond it as its mirror image: it is twice as wide as drawn, and one cut by both sides has no end.
struct AirCavity {
  Span across, depth;                        ///< smallest rectangle round it [m]
  double area = 0.0;                         ///< [m2]
  bool cut_left = false, cut_right = false;  ///< by a side of the section
  /// Share of its left and right sides with air beyond, that of another piece of the same space; 1 where the
  /// section cuts it.
  double open_left = 0.0, open_right = 0.0;
  Direction heat_goes = Direction::depth;  ///< the direction most of its heat takes
  AirState outward, sideways;              ///< in depth, and across
  bool slightly_ventilated = false;
  double resistance = 0.0;             ///< [m2 K/W] in the direction that its conductivity is taken from
  double conductivity = 0.0;           ///< equivalent, in depth [W/(m K)]
  double conductivity_sideways = 0.0;  ///< the same across
};

/// A cell crossed by a slanted or curved edge, as sampled: conductivity [W/(m K)] at samples x samples
/// points, row by row from its low depth, across fastest. The solver needs only the cell's means; who
/// asks for a temperature inside the cell needs to know on which side of the edge the point lies.
///
/// A sample that shows something held conducts as the others do on average, as if they ran on there: the heat
/// ends at the edge, and what the held thing is made of is of no consequence.
struct MixedCell {
  int samples = 0;
  std::vector<double> conductivity;
  std::vector<bool> held = {};  ///< which of them show something held; empty where none does
};

/// A cell that is kept at a temperature, whatever flows to it.
struct HeldCell {
  Index cell = 0;
  double celsius = 0.0;
};

/// What a sampled cell conducts along a direction, at least and at most [W/(m K)]: its lines along the
/// direction side by side, each in series (no heat between them), and its slices across in series, each in
/// parallel (every slice at one temperature). Both are exact for edges parallel to an axis; on slanted ones
/// the true value lies between.
struct ConductivityBounds {
  double lower = 0.0, upper = 0.0;
  double mean() const { return 0.5 * (lower + upper); }
};

/// `k(line, i)` is the conductivity of sample i of a line along the direction, n samples either way.
template <class Sample>
ConductivityBounds bounds_of(int n, Sample k) {
  double lower = 0.0, slices = 0.0;
  for (int line = 0; line < n; ++line) {
    double series = 0.0, parallel = 0.0;
    for (int i = 0; i < n; ++i) {
      series += 1.0 / k(line, i);
      parallel += k(i, line);
    }
    lower += 1.0 / series;     // n samples of length 1/n in series, times a share of 1/n
    slices += 1.0 / parallel;  // n samples side by side, then in series with the other slices
  }
  return {lower, 1.0 / slices};
}

/// Two faces that look at each other across a gap whose air moves: radiation goes from the one to the other
/// past the air, so the air conducts as still air does and this comes beside it. The cells follow each other
/// along d: solid, the first of the gap, its last (perhaps the same), solid.
struct FacingPair {
  Direction d = Direction::depth;
  Index low_solid = 0, low_air = 0, high_air = 0, high_solid = 0;
  double radiative = 0.0;  ///< coefficient [W/(m2 K)]
};

/// The section as the solver sees it: conductivities of the cells of a non-uniform tensor grid.
///
///     depth  k = nd-1  +---+-----+--+   outside is the +depth face,
///                      |   |     |  |   the room the -depth face.
///            k = 0     +---+-----+--+   `up` is out of the page: a section is one cell of 1 m.
///                     i=0       na-1
///
/// Shape   conductivity[d] has cells() entries: conductivity[d][cell(i, j, k)], across fastest,
///         then up, then depth. A direction with one cell may leave its conductivity empty.
/// Units   edges [m], conductivity [W/(m K)], one per direction: along a slanted edge a cell
///         conducts differently across and in depth (geometry/rasterise.hpp states the rule).
/// Holds   every conductivity is finite and > 0, that of held cells too, though no heat is reckoned in them.
/// Owns    its arrays. Copies are deep.
/// Not in  the films and temperatures (Surroundings), contact resistance, heat sources.
struct ConductivityGrid {
  std::array<Axis, 3> axis;
  std::array<std::vector<double>, 3> conductivity;
  std::vector<AirCavity> cavities;
  std::unordered_map<Index, MixedCell> mixed;    ///< by cell
  std::vector<HeldCell> held = {};               ///< in the order of the cells; few
  std::vector<FacingPair> facing = {};           ///< across gaps whose air moves; see sort_facing()
  std::vector<std::size_t> facing_by_high = {};  ///< the same in the order of high_solid

  const Axis& operator[](Direction d) const { return axis[static_cast<std::size_t>(d)]; }
  const std::vector<double>& k(Direction d) const { return conductivity[static_cast<std::size_t>(d)]; }

  Index cell(Index i, Index j, Index k) const { return i + axis[0].cells() * (j + axis[1].cells() * k); }
  Index cells() const { return axis[0].cells() * axis[1].cells() * axis[2].cells(); }
};

/// Puts the pairs in the order of low_solid, and notes that of high_solid.
void sort_facing(ConductivityGrid& grid);

/// The pair across the gap that begins beyond a face of a solid cell, else null.
const FacingPair* facing_beyond(const ConductivityGrid& grid, Index solid, Direction d, bool high_end);

/// The entry of a cell that is held, else null.
inline const HeldCell* held_cell(const ConductivityGrid& grid, Index cell) {
  if (grid.held.empty()) return nullptr;
  const auto at = std::lower_bound(grid.held.begin(), grid.held.end(), cell,
                                   [](const HeldCell& h, Index c) { return h.cell < c; });
  return at != grid.held.end() && at->cell == cell ? &*at : nullptr;
}

}  // namespace coldbay
