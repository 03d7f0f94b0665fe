#include "solver/results/limits.hpp"

namespace coldbay {

Limits limits(const ConductivityGrid& grid, const Surroundings& air) {
  const Axis& across = grid[Direction::across];
  const Axis& depth = grid[Direction::depth];
  const auto& k = grid.k(Direction::depth);
  const double films = air.inside.film + air.outside.film;
  const auto conductivity = [&](Index i, Index d) { return k[static_cast<std::size_t>(grid.cell(i, 0, d))]; };

  double parallel = 0.0;
  for (Index i = 0; i < across.cells(); ++i) {
    double R = films;
    for (Index d = 0; d < depth.cells(); ++d) R += depth.width(d) / conductivity(i, d);
    parallel += across.width(i) / R;
  }
  double R_planes = films;
  for (Index d = 0; d < depth.cells(); ++d) {
    double row = 0.0;
    for (Index i = 0; i < across.cells(); ++i) row += across.width(i) * conductivity(i, d);
    R_planes += depth.width(d) * across.length() / row;
  }
  Limits out;
  out.parallel_path = parallel / across.length();
  out.isothermal_planes = 1.0 / R_planes;
  out.mean = 2.0 / (1.0 / out.parallel_path + R_planes);
  out.combined_method_holds = 1.0 / out.parallel_path <= 1.5 * R_planes;
  return out;
}

}  // namespace coldbay
