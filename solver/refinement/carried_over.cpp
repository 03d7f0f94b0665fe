#include "solver/refinement/carried_over.hpp"

#include <cmath>
#include <cstddef>

#include "solver/discretisation.hpp"
#include "solver/parallel.hpp"
#include "solver/results/surface.hpp"

namespace coldbay {
namespace {

/// Where the middle of a fine cell lies in the coarse one, from -1 at its low face to 1 at its high one.
struct Part {
  Index cell;
  double at;
};

std::vector<Part> parts(const Axis& coarse, const Axis& fine) {
  std::vector<Part> out;
  for (Index i = 0, c = 0; i < fine.cells(); ++i) {
    while (fine.centre(i) > coarse.edge(c + 1)) ++c;
    constexpr double eighths = 8.0;  // halved three times at most; without the rounding of edges
    const double from_middle = 2.0 * (fine.centre(i) - coarse.centre(c)) / coarse.width(c);
    out.push_back({c, std::round(eighths * from_middle) / eighths});
  }
  return out;
}

}  // namespace

std::vector<double> carried_over(const ConductivityGrid& coarse, const Surroundings& air,
                                 const TemperatureField& field, const std::array<Axis, 3>& fine) {
  const std::array<std::vector<Part>, 3> of{parts(coarse.axis[0], fine[0]), parts(coarse.axis[1], fine[1]),
                                            parts(coarse.axis[2], fine[2])};
  const Index row = fine[0].cells(), rows = fine[1].cells();
  std::vector<double> celsius(static_cast<std::size_t>(row * rows * fine[2].cells()));
  in_parallel(rows * fine[2].cells(), std::ssize(celsius), [&](Index n) {
    const Part &j = of[1][static_cast<std::size_t>(n % rows)], &k = of[2][static_cast<std::size_t>(n / rows)];
    double* to = celsius.data() + row * n;
    for (const Part& i : of[0]) {
      const std::array<Index, 3> ijk{i.cell, j.cell, k.cell};
      const double T = field.celsius[static_cast<std::size_t>(coarse.cell(i.cell, j.cell, k.cell))];
      const auto change = [&](Direction d, double part) {
        if (part == 0.0) return 0.0;
        const End end = part < 0.0 ? End::low : End::high;
        return std::abs(part) * (face_temperature(coarse, air, field, ijk, d, end) - T);
      };
      *to++ =
          T + change(Direction::across, i.at) + change(Direction::up, j.at) + change(Direction::depth, k.at);
    }
  });
  return celsius;
}

std::vector<double> carried_over(const ConductivityGrid& coarse, const Surroundings& air,
                                 const TemperatureField& field, const Axis& across, const Axis& depth) {
  return carried_over(coarse, air, field, {across, coarse.axis[1], depth});
}

}  // namespace coldbay
