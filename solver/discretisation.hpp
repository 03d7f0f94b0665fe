#pragma once

#include <array>
#include <optional>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// Conductance of the face between two neighbouring cells [W/K]: two half cells in series,
///
///     G = A / ( d1/(2 k1) + d2/(2 k2) ),
///
/// exact for a material jump that lies on the face [Patankar1980]. Averaging k1 and k2 instead lets
/// heat through an insulator: 50 against 0.035 would count as 25.
inline double face_conductance(double area, double d1, double k1, double d2, double k2) {
  return area / (0.5 * d1 / k1 + 0.5 * d2 / k2);
}

/// Conductance from a cell's centre to the air beyond its outer face [W/K]: half the cell and the
/// film in series. A film of 0 holds the face itself at the given temperature.
inline double outer_conductance(double area, double d, double k, double film) {
  return area / (0.5 * d / k + film);
}

enum class End { low, high };

/// What a face of the block exchanges heat with; null where it is adiabatic. Where the room's air is not
/// equally warm at all heights, exchange_of() knows how warm it is before a cell.
inline const Exchange* exchange_at(const Surroundings& air, Direction d, End end) {
  const bool low = end == End::low;
  if (d == Direction::depth) return low ? &air.inside : &air.outside;
  if (d == Direction::up) return nullptr;
  const auto& side = low ? air.left : air.right;
  return side ? &*side : nullptr;
}

/// What one cell exchanges heat with through its face at an end of d; empty where that is adiabatic.
inline std::optional<Exchange> exchange_of(const ConductivityGrid& grid, const Surroundings& air,
                                           const std::array<Index, 3>& at, Direction d, End end) {
  const Exchange* e = exchange_at(air, d, end);
  if (!e) return std::nullopt;
  if (e != &air.inside || air.by_height.empty()) return *e;
  const Direction up = air.height_runs;
  return Exchange{room_temperature(air, grid[up].centre(at[static_cast<std::size_t>(up)])), e->film};
}

inline constexpr std::array directions{Direction::across, Direction::up, Direction::depth};

/// Visits every cell: f(ijk, cell).
template <class F>
void for_each_cell(const ConductivityGrid& grid, F f) {
  std::array<Index, 3> at{};
  Index cell = 0;
  for (at[2] = 0; at[2] < grid.axis[2].cells(); ++at[2])
    for (at[1] = 0; at[1] < grid.axis[1].cells(); ++at[1])
      for (at[0] = 0; at[0] < grid.axis[0].cells(); ++at[0]) f(at, cell++);
}

/// Area of a cell's faces that look along d [m2].
inline double face_area(const ConductivityGrid& grid, const std::array<Index, 3>& at, Direction d) {
  double area = 1.0;
  for (const Direction other : directions)
    if (other != d) area *= grid[other].width(at[static_cast<std::size_t>(other)]);
  return area;
}

/// Cells between neighbours along d in the storage order.
inline Index stride(const ConductivityGrid& grid, Direction d) {
  if (d == Direction::across) return 1;
  const Index row = grid.axis[0].cells();
  return d == Direction::up ? row : row * grid.axis[1].cells();
}

/// Where a cell stands on the three axes.
inline std::array<Index, 3> place_of(const ConductivityGrid& grid, Index cell) {
  const Index across = grid.axis[0].cells(), up = grid.axis[1].cells();
  return {cell % across, cell / across % up, cell / (across * up)};
}

/// The cell beside another at an end of d, or -1.
inline Index beside(const ConductivityGrid& grid, Index cell, const std::array<Index, 3>& at, Direction d,
                    End end) {
  const Index here = at[static_cast<std::size_t>(d)];
  if (here == (end == End::low ? 0 : grid[d].cells() - 1)) return -1;
  return end == End::low ? cell - stride(grid, d) : cell + stride(grid, d);
}

/// Resistance [m2 K/W] from the middle of a free cell to the edge of what is held, where the cell beside it
/// at that end of d is held: half the free cell, for the face of a held cell has its temperature. Where the
/// edge crosses the one cell or the other, the stretch before it instead, a mean over the lines of samples;
/// so the edge is where it is drawn and not on the nearest face ([Gibou2002], which keeps the matrix
/// symmetric).
double resistance_to_held(const ConductivityGrid& grid, Index free_cell, Direction d, End end);

/// Radiation between two faces across a gap once the faces themselves are eliminated: a conductance times the
/// difference of what the faces would have without it, each a mean of the two cells it lies between. Adding a
/// link R between two nodes that are eliminated changes the rest by w S w^T, w the difference of the nodes
/// without it and 1/S = 1/R + 1/(sum at one) + 1/(sum at the other) (Sherman and Morrison 1950).
struct Radiated {
  std::array<Index, 4> cell{};         ///< solid, first of the gap, last of it, solid
  std::array<double, 4> weight{};      ///< of their temperatures in the difference
  double conductance = 0.0;            ///< S [W/K]
  double at_low = 0.0, at_high = 0.0;  ///< conductances that meet in either face [W/K]

  double difference(const double* T) const {
    return weight[0] * T[cell[0]] + weight[1] * T[cell[1]] + weight[2] * T[cell[2]] + weight[3] * T[cell[3]];
  }
};
Radiated radiated(const ConductivityGrid& grid, const FacingPair& facing);

/// Conductance from every cell to the next one along d [W/K], by cell; 0 where there is none, or where either
/// is held. The matrix, the fluxes and the tests' hand calculations all come from here and from the two
/// visits to held and to outer faces, so heat is conserved by construction.
std::vector<double> inner_conductances(const ConductivityGrid& grid, Direction d);

/// Visits every inner face: f(direction, cell, next cell, conductance [W/K]).
template <class F>
void for_each_inner_face(const ConductivityGrid& grid, F f) {
  for (const Direction d : directions) {
    if (grid[d].cells() == 1) continue;
    const Index step = stride(grid, d);
    const std::vector<double> G = inner_conductances(grid, d);
    for (Index cell = 0; cell + step < grid.cells(); ++cell)
      if (G[static_cast<std::size_t>(cell)] != 0.0)
        f(d, cell, cell + step, G[static_cast<std::size_t>(cell)]);
  }
}

/// Visits every face between a free cell and a held one: f(free cell, direction, end of the free cell, held
/// cell, conductance [W/K]).
template <class F>
void for_each_held_face(const ConductivityGrid& grid, F f) {
  for (const HeldCell& held : grid.held) {
    const std::array<Index, 3> at = place_of(grid, held.cell);
    for (const Direction d : directions)
      for (const End end : {End::low, End::high}) {
        const Index other = beside(grid, held.cell, at, d, end);
        if (other < 0 || held_cell(grid, other)) continue;
        const End towards_held = end == End::low ? End::high : End::low;
        f(other, d, towards_held, held,
          face_area(grid, at, d) / resistance_to_held(grid, other, d, towards_held));
      }
  }
}

/// Visits every outer face that exchanges heat, of free cells and of held ones: f(cell, direction, end,
/// exchange, area [m2]).
template <class F>
void for_each_exchanging_face(const ConductivityGrid& grid, const Surroundings& air, F f) {
  for (const Direction d : directions)
    for (const End end : {End::low, End::high}) {
      if (!exchange_at(air, d, end)) continue;
      const auto along = static_cast<std::size_t>(d);
      const Index last = end == End::low ? 0 : grid[d].cells() - 1;
      std::array<Index, 3> from{}, to{grid.axis[0].cells(), grid.axis[1].cells(), grid.axis[2].cells()}, at{};
      from[along] = last;
      to[along] = last + 1;
      for (at[2] = from[2]; at[2] < to[2]; ++at[2])
        for (at[1] = from[1]; at[1] < to[1]; ++at[1])
          for (at[0] = from[0]; at[0] < to[0]; ++at[0]) {
            f(grid.cell(at[0], at[1], at[2]), d, end, *exchange_of(grid, air, at, d, end),
              face_area(grid, at, d));
          }
    }
}

/// Visits every outer face of a free cell that exchanges heat: f(cell, direction, end, exchange, conductance
/// [W/K]).
template <class F>
void for_each_outer_face(const ConductivityGrid& grid, const Surroundings& air, F f) {
  for_each_exchanging_face(
      grid, air, [&](Index cell, Direction d, End end, const Exchange& exchange, double area) {
        if (held_cell(grid, cell)) return;
        const double width = grid[d].width(end == End::low ? 0 : grid[d].cells() - 1);
        f(cell, d, end, exchange,
          outer_conductance(area, width, grid.k(d)[static_cast<std::size_t>(cell)], exchange.film));
      });
}

/// Visits every outer face of a held cell behind a film: f(direction, end, held cell, exchange,
/// conductance [W/K]), the film's alone. (Without a film both are at one temperature, or there is no answer.)
template <class F>
void for_each_held_outer_face(const ConductivityGrid& grid, const Surroundings& air, F f) {
  if (grid.held.empty()) return;
  for_each_exchanging_face(grid, air,
                           [&](Index cell, Direction d, End end, const Exchange& exchange, double area) {
                             const HeldCell* held = held_cell(grid, cell);
                             if (held && exchange.film > 0.0)
                               f(d, end, *held, exchange, area / exchange.film);
                           });
}

}  // namespace coldbay
