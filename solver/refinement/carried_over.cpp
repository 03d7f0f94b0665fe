#include "solver/refinement/carried_over.hpp"

#include <cstddef>

#include "solver/discretisation.hpp"
#include "solver/results/surface.hpp"

namespace coldbay {
namespace {

/// Where a fine cell lies in the coarse one: -1 its lower half, 1 its upper half, 0 all of it.
struct Part {
  Index cell;
  int half;
};

std::vector<Part> parts(const Axis& coarse, const Axis& fine) {
  std::vector<Part> out;
  for (Index i = 0, c = 0; i < fine.cells(); ++i) {
    while (fine.centre(i) > coarse.edge(c + 1)) ++c;
    const double from_middle = (fine.centre(i) - coarse.centre(c)) / coarse.width(c);
    out.push_back({c, from_middle < -0.1 ? -1 : from_middle > 0.1 ? 1 : 0});
  }
  return out;
}

}  // namespace

std::vector<double> carried_over(const ConductivityGrid& coarse, const Surroundings& air,
                                 const TemperatureField& field, const Axis& across, const Axis& depth) {
  const std::vector<Part> is = parts(coarse[Direction::across], across),
                          ks = parts(coarse[Direction::depth], depth);
  std::vector<double> celsius;
  celsius.reserve(is.size() * ks.size());
  for (const Part& k : ks)
    for (const Part& i : is) {
      const std::array<Index, 3> ijk{i.cell, 0, k.cell};
      const double T = field.celsius[static_cast<std::size_t>(coarse.cell(i.cell, 0, k.cell))];
      const auto change = [&](Direction d, int half) {
        if (half == 0) return 0.0;
        const End end = half < 0 ? End::low : End::high;
        return 0.5 * (face_temperature(coarse, air, field, ijk, d, end) - T);
      };
      celsius.push_back(T + change(Direction::across, i.half) + change(Direction::depth, k.half));
    }
  return celsius;
}

}  // namespace coldbay
