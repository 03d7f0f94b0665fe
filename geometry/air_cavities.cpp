#include "geometry/air_cavities.hpp"

#include <algorithm>
#include <array>

#include "materials/air_space.hpp"

namespace coldbay {
namespace {

/// Share of a cell that is air [0, 1], and the emissivity of the air space that shows in it.
struct Air {
  double share = 0.0;
  double emissivity = 0.0;
};

Air air_in(const Section& section, const Painting& painting, Index cell) {
  const auto material = [&](std::uint32_t shape) -> const Material* {
    return shape == Painting::bare ? nullptr : &section.materials[section.shapes[shape].material];
  };
  const std::uint32_t shape = painting.shape[static_cast<std::size_t>(cell)];
  if (shape != Painting::mixed) {
    const Material* m = material(shape);
    return m && m->is_air_space ? Air{1.0, m->emissivity} : Air{};
  }
  Air air;
  const auto& samples = painting.mixed_cells.at(cell);
  for (const std::uint32_t s : samples)
    if (const Material* m = material(s); m && m->is_air_space) {
      air.share += 1.0 / static_cast<double>(samples.size());
      air.emissivity = m->emissivity;
    }
  return air;
}

std::array<Index, 4> neighbours(const Painting& painting, Index cell) {
  const Index na = painting.across.cells(), nd = painting.depth.cells(), i = cell % na, k = cell / na;
  return {i > 0 ? cell - 1 : -1, i + 1 < na ? cell + 1 : -1, k > 0 ? cell - na : -1,
          k + 1 < nd ? cell + na : -1};
}

/// Labels the region of `start` with `label` and returns its cells.
std::vector<Index> flood(const Painting& painting, const std::vector<Air>& air, Index start, int label,
                         std::vector<int>& labels) {
  std::vector<Index> region{start};
  labels[static_cast<std::size_t>(start)] = label;
  for (std::size_t next = 0; next < region.size(); ++next)
    for (const Index n : neighbours(painting, region[next]))
      if (n >= 0 && labels[static_cast<std::size_t>(n)] < 0 &&
          air[static_cast<std::size_t>(n)].share >= 0.5) {
        labels[static_cast<std::size_t>(n)] = label;
        region.push_back(n);
      }
  return region;
}

AirCavity cavity_of(const Painting& painting, const std::vector<Index>& region, double emissivity) {
  const Index na = painting.across.cells();
  AirCavity c{{painting.across.length(), 0.0}, {painting.depth.length(), 0.0}, 0.0, 0.0};
  for (const Index cell : region) {
    const Index i = cell % na, k = cell / na;
    c.across = {std::min(c.across.from, painting.across.edge(i)),
                std::max(c.across.to, painting.across.edge(i + 1))};
    c.depth = {std::min(c.depth.from, painting.depth.edge(k)),
               std::max(c.depth.to, painting.depth.edge(k + 1))};
  }
  AirSpace space;
  space.thickness = c.depth.length();
  space.width = c.across.length();
  space.emissivity_warm = space.emissivity_cold = emissivity;
  c.resistance = air_space_resistance(space);
  c.conductivity = c.depth.length() / c.resistance;
  return c;
}

}  // namespace

AirSpaces find_air_spaces(const Section& section, const Painting& painting) {
  const std::size_t n = painting.shape.size();
  AirSpaces spaces;
  spaces.of_cell.assign(n, -1);
  std::vector<Air> air(n);
  for (std::size_t c = 0; c < n; ++c) air[c] = air_in(section, painting, static_cast<Index>(c));

  const auto open_region = [&](std::size_t c) {
    const int label = static_cast<int>(spaces.cavities.size());
    const auto region = flood(painting, air, static_cast<Index>(c), label, spaces.of_cell);
    spaces.cavities.push_back(cavity_of(painting, region, air[c].emissivity));
  };
  for (std::size_t c = 0; c < n; ++c)
    if (air[c].share >= 0.5 && spaces.of_cell[c] < 0) open_region(c);
  // Cells that are mostly something else take the air of a neighbour; air all by itself (a sliver
  // thinner than a cell) is a space of its own.
  for (std::size_t c = 0; c < n; ++c) {
    if (!(air[c].share > 0.0) || spaces.of_cell[c] >= 0) continue;
    for (const Index m : neighbours(painting, static_cast<Index>(c)))
      if (m >= 0 && air[static_cast<std::size_t>(m)].share >= 0.5)
        spaces.of_cell[c] = spaces.of_cell[static_cast<std::size_t>(m)];
    if (spaces.of_cell[c] < 0) open_region(c);
  }
  return spaces;
}

}  // namespace coldbay
