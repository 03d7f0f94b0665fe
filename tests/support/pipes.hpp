#pragma once

#include <utility>

#include "geometry/conductivity_grid.hpp"
#include "tests/support/sections.hpp"

namespace coldbay::test {

/// Paints a held shape over a section: what runs in a pipe. Its material must not matter.
inline void hold(Section& s, Outline outline, double celsius, double conductivity = 0.6) {
  s.materials.push_back(material("fluid", conductivity));
  Shape pipe{std::move(outline), s.materials.size() - 1, ""};
  pipe.held = celsius;
  s.shapes.push_back(std::move(pipe));
}

/// Holds the cells of a grid whose middles lie in a block, as a section with a held shape there has them.
inline void hold(ConductivityGrid& grid, Span across, Span up, Span depth, double celsius) {
  const auto in = [](Span span, double x) { return span.from < x && x < span.to; };
  for (Index k = 0; k < grid.axis[2].cells(); ++k)
    for (Index j = 0; j < grid.axis[1].cells(); ++j)
      for (Index i = 0; i < grid.axis[0].cells(); ++i)
        if (in(across, grid.axis[0].centre(i)) && in(up, grid.axis[1].centre(j)) &&
            in(depth, grid.axis[2].centre(k)))
          grid.held.push_back({grid.cell(i, j, k), celsius});
}

}  // namespace coldbay::test
