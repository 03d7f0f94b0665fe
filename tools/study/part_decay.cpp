#include "tools/study/part_decay.hpp"

#include <algorithm>

#include "solver/block/windows.hpp"

namespace coldbay {
namespace {

constexpr double same_place = 1e-9;  // [m]

std::vector<double> middles(std::vector<double> edges) {
  std::sort(edges.begin(), edges.end());
  std::vector<double> out;
  for (std::size_t i = 1; i < edges.size(); ++i)
    if (edges[i] - edges[i - 1] > same_place) out.push_back(0.5 * (edges[i] + edges[i - 1]));
  return out;
}

/// What a line through the section meets, an air space as its usual resistance has it.
std::vector<Slab> column(const Section& section, double across, std::vector<double> edges) {
  constexpr double usual_resistance = 0.18;  // of a wide one, [ISO6946]
  std::sort(edges.begin(), edges.end());
  std::vector<Slab> stack;
  std::size_t above = section.materials.size();
  for (std::size_t i = 1; i < edges.size(); ++i) {
    const double thickness = edges[i] - edges[i - 1];
    const auto m = material_at(section, {across, 0.5 * (edges[i] + edges[i - 1])});
    if (thickness <= same_place || !m) continue;
    const Material& material = section.materials[*m];
    if (*m == above) {
      stack.back().thickness += thickness;
    } else {
      stack.push_back({thickness, conductivity_at(material, 10.0)});
      above = *m;
    }
    if (material.is_air_space) stack.back().conductivity = stack.back().thickness / usual_resistance;
  }
  return stack;
}

}  // namespace

double slowest_decay(const Section& section, Span across, const Surroundings& air) {
  std::vector<double> lines{across.from, across.to}, depths{0.0, section.depth};
  for (const Shape& shape : section.shapes) {
    const Rectangle box = bounding_box(shape.outline);
    if (box.across.to <= across.from || box.across.from >= across.to) continue;
    for (const double x : {box.across.from, box.across.to})
      lines.push_back(std::clamp(x, across.from, across.to));
    for (const double y : {box.depth.from, box.depth.to}) depths.push_back(std::clamp(y, 0.0, section.depth));
  }
  double slowest = 0.0;
  for (const double x : middles(lines)) {
    const std::vector<Slab> stack = column(section, x, depths);
    if (!stack.empty())
      slowest = std::max(slowest, decay_along(stack, air.inside.film, air.outside.film).length);
  }
  return slowest;
}

double beside(const std::vector<FacePart>& parts, const std::vector<double>& decay, std::size_t at, bool left,
              double lengths) {
  constexpr double from_stud = 0.05;  // [m]
  double gone = 0.0, to_go = lengths;
  for (std::size_t step = 0;; ++step) {
    if (left ? step == at : at + step == parts.size()) return gone;
    const std::size_t p = left ? at - 1 - step : at + step;
    const Span across = parts[p].across, clear = parts[p].clear;
    const double near_end = left ? across.to - clear.to : clear.from - across.from,
                 far_end = left ? across.to - clear.from : clear.to - across.from;
    const double to = std::max(to_go * decay[p], near_end + from_stud);
    if (to <= far_end - from_stud) return gone + to;
    gone += across.length();
    to_go = std::max(0.0, to_go - across.length() / decay[p]);
  }
}

}  // namespace coldbay
