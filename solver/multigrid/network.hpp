#pragma once

#include <array>
#include <vector>

#include "geometry/conductivity_grid.hpp"
#include "geometry/section.hpp"

namespace coldbay {

/// A heat balance as a network of conductances [W/K] between cells that stand in columns through the wall:
///
///     net heat into p = sum over links G (u_q - u_p) + to_air_p (u_air - u_p).
///
/// Every grid of the hierarchy is such a network, from the face conductances of the discretisation down to
/// one column; all conductances are positive. cell = column + columns * depth index, on the finest the order
/// of ConductivityGrid; on a coarser one the columns may be numbered up fastest.
template <class Real>
struct Network {
  Index across = 0, up = 0;               ///< columns
  bool up_fastest = false;                ///< in the numbers of the columns
  Index depth = 0;                        ///< cells in a column
  std::array<std::vector<double>, 2> at;  ///< middles of the columns across and up [m]
  std::vector<std::vector<Real>> to_air;  ///< [depth index][column]; empty where no cell of the row has any
  std::vector<Real> outward;              ///< [cell]: to the next cell in depth; 0 in the last row
  /// [cell]: to the next cell across and to the next one up; 0 where there is none. Empty where there is
  /// one column only in that direction.
  std::array<std::vector<Real>, 2> sideways;

  Index columns() const { return across * up; }
};

/// The network of a grid between the given films. Held cells are air to the cells beside them; they
/// themselves stay in the columns, linked to nothing but to an air of their own.
Network<double> network(const ConductivityGrid& grid, const Surroundings& air);

}  // namespace coldbay
