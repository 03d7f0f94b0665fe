#include "solver/multigrid/network.hpp"

#include "solver/discretisation.hpp"

namespace coldbay {
namespace {

double& to_air(Network<double>& net, Index cell) {
  auto& row = net.to_air[static_cast<std::size_t>(cell / net.columns())];
  row.resize(static_cast<std::size_t>(net.columns()), 0.0);
  return row[static_cast<std::size_t>(cell % net.columns())];
}

/// The own conductance of a held cell may be any: no heat comes to it. (Tried: 1e-6 to 1e9 of the largest
/// link; the iterations are the same.)
void hold(Network<double>& net, const ConductivityGrid& grid) {
  for_each_held_face(grid,
                     [&](Index cell, Direction, End, const HeldCell&, double G) { to_air(net, cell) += G; });
  for (const HeldCell& held : grid.held) to_air(net, held.cell) = 1.0;
}

}  // namespace

Network<double> network(const ConductivityGrid& grid, const Surroundings& air) {
  Network<double> net;
  net.across = grid.axis[0].cells();
  net.up = grid.axis[1].cells();
  net.depth = grid.axis[2].cells();
  for (Index i = 0; i < net.across; ++i) net.at[0].push_back(grid.axis[0].centre(i));
  for (Index j = 0; j < net.up; ++j) net.at[1].push_back(grid.axis[1].centre(j));
  net.outward = inner_conductances(grid, Direction::depth);
  if (net.across > 1) net.sideways[0] = inner_conductances(grid, Direction::across);
  if (net.up > 1) net.sideways[1] = inner_conductances(grid, Direction::up);
  net.to_air.resize(static_cast<std::size_t>(net.depth));
  for_each_outer_face(grid, air,
                      [&](Index cell, Direction, End, const Exchange&, double G) { to_air(net, cell) += G; });
  hold(net, grid);
  return net;
}

}  // namespace coldbay
