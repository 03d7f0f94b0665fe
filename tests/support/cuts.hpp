#pragma once

#include <fmt/core.h>

#include "tests/support/sections.hpp"

namespace coldbay::test {

/// Paints a material over a section.
inline void paint(Section& s, const Material& m, Span across, Span depth) {
  s.materials.push_back(m);
  s.shapes.push_back({Rectangle{across, depth}, s.materials.size() - 1, ""});
}

/// A vertical cut through the middle of a bay, floor at 0: plates at both ends, a batt that hangs away from
/// the lining at its top in a pocket of 30 steps, and is squeezed in steps over a cable.
inline Section vertical_cut() {
  Section s;
  s.name = "vertical at 600 mm";
  s.cut = CutKind::vertical;
  s.width = 2.4;
  s.depth = 0.115;
  s.stands_for = {{0.4, 0.756}};
  s.stands_of = 2.4;
  const Span frame{0.013, 0.102};
  paint(s, material("gypsum board", 0.16), {0.0, s.width}, {0.0, frame.from});
  paint(s, material("softwood", 0.12), {0.0, s.width}, frame);
  paint(s, material("batt R-13", 0.039), {0.038, 2.324}, frame);
  paint(s, material("osb", 0.13), {0.0, s.width}, {frame.to, s.depth});
  for (int i = 0; i < 5; ++i)  // the nearer to the cable, the denser
    paint(s, material("batt R-13, squeezed", 0.038 - 0.001 * i), {0.5 + 0.02 * i, 0.72 - 0.02 * i}, frame);
  paint(s, material("cable", 0.5), {0.604, 0.616}, {0.05, 0.062});
  for (int i = 0; i < 30; ++i)
    paint(s, still_air(), {1.7 + 0.0208 * i, 1.7 + 0.0208 * (i + 1)},
          {frame.from, frame.from + 0.001 * (i + 1)});
  s.parts = {{"bay 2", "batt R-13, falling away from the lining at its top", {0.0, s.width}, {0.038, 2.324}}};
  return s;
}

/// A plan of six bays that shows sixteen materials, some with long names.
inline Section many_materials() {
  Section s;
  s.name = "plan at 400 mm";
  s.cut = CutKind::plan;
  s.stands_for = {{0.3525, 0.4475}};
  s.stands_of = 2.4;
  s.width = 6 * 0.4 + 0.038;
  s.depth = 0.14;
  const Span frame{0.013, 0.102};
  paint(s, material("gypsum board", 0.16), {0.0, s.width}, {0.0, frame.from});
  paint(s, material("softwood", 0.12), {0.0, s.width}, frame);
  paint(s, material("osb", 0.13), {0.0, s.width}, {frame.to, 0.113});
  paint(s, material("extruded polystyrene", 0.029), {0.0, s.width}, {0.113, 0.128});
  paint(s, material("lap siding", 0.094), {0.0, s.width}, {0.128, s.depth});
  const std::vector<Material> fills{
      material("batt R-13", 0.0385),           material("batt R-15", 0.035),
      material("batt R-13 in scraps", 0.046),  material("cellulose", 0.04),
      material("open-cell spray foam", 0.037), material("closed-cell spray foam", 0.025)};
  const std::vector<Material> pieces{material("steel", 50.0),        material("rigid plastic", 0.2),
                                     material("cable", 0.5),         material("copper", 380.0),
                                     material("water in pipe", 0.6), still_air()};
  for (int b = 0; b < 6; ++b) {
    const auto n = static_cast<std::size_t>(b);
    const double left = 0.038 + 0.4 * b;
    paint(s, fills[n], {left, left + 0.362}, frame);
    paint(s, pieces[n], {left + 0.1, left + 0.16}, {0.03, 0.08});
    for (int i = 0; i < 4; ++i)
      paint(s, material("batt R-13, squeezed", 0.038 - 0.001 * i),
            {left + 0.2 + 0.01 * i, left + 0.3 - 0.01 * i}, {0.06, frame.to});
    s.parts.push_back({fmt::format("bay {}", b + 1),
                       fills[n].name + ", gap 12 mm left",
                       {0.019 + 0.4 * b, 0.419 + 0.4 * b},
                       {left, left + 0.362}});
  }
  return s;
}

}  // namespace coldbay::test
