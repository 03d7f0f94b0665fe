#include "solver/discretisation.hpp"

#include "solver/parallel.hpp"

namespace coldbay {

std::vector<double> inner_conductances(const ConductivityGrid& grid, Direction d) {
  const Index across = grid.axis[0].cells(), up = grid.axis[1].cells(), step = stride(grid, d);
  std::vector<double> width;
  for (Index i = 0; i < across; ++i) width.push_back(grid.axis[0].width(i));
  const std::vector<double>& k = grid.k(d);
  std::vector<double> G(static_cast<std::size_t>(grid.cells()), 0.0);
  in_parallel(up * grid.axis[2].cells(), grid.cells(), [&](Index row) {
    const std::array<Index, 3> at{0, row % up, row / up};
    const double* k1 = k.data() + across * row;
    const double* k2 = k1 + step;
    double* to = G.data() + across * row;
    if (d == Direction::across) {
      const double area = face_area(grid, at, d);
      for (Index i = 0; i + 1 < across; ++i)
        to[i] = face_conductance(area, width[static_cast<std::size_t>(i)], k1[i],
                                 width[static_cast<std::size_t>(i + 1)], k2[i]);
      return;
    }
    const Index here = at[static_cast<std::size_t>(d)];
    if (here + 1 == grid[d].cells()) return;
    const double area = face_area(grid, at, d) / width[0], d1 = grid[d].width(here),
                 d2 = grid[d].width(here + 1);
    for (Index i = 0; i < across; ++i)
      to[i] = face_conductance(area * width[static_cast<std::size_t>(i)], d1, k1[i], d2, k2[i]);
  });
  return G;
}

}  // namespace coldbay
