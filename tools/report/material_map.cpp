#include "tools/report/material_map.hpp"

#include <algorithm>
#include <cmath>

namespace coldbay {
namespace {

/// The samples [first, past) of one axis whose middles lie in a stretch.
struct Samples {
  int first = 0;
  int past = 0;
};

double middle(int sample, double length, int n) { return (sample + 0.5) / n * length; }

Samples samples_in(Span stretch, double length, int n) {
  const auto place = [&](double x) { return std::clamp(x / length * n, -1.0, n + 1.0); };
  // One more on either side than rounding could want, then the exact test.
  int first = std::clamp(static_cast<int>(std::floor(place(stretch.from) - 0.5)), 0, n);
  int past = std::clamp(static_cast<int>(std::ceil(place(stretch.to) + 0.5)), 0, n);
  while (first < past && middle(first, length, n) < stretch.from) ++first;
  while (past > first && middle(past - 1, length, n) > stretch.to) --past;
  return {first, past};
}

Samples at_least_one(Samples samples, Span stretch, double length, int n) {
  const double centre = 0.5 * (stretch.from + stretch.to);
  if (samples.first < samples.past || centre < 0.0 || centre > length) return samples;
  const int nearest = std::clamp(static_cast<int>(std::floor(centre / length * n)), 0, n - 1);
  return {nearest, nearest + 1};
}

}  // namespace

MaterialMap material_map(const Section& section, int plot_width, int plot_height) {
  MaterialMap map{plot_width * MaterialMap::per_pixel, plot_height * MaterialMap::per_pixel, {}};
  map.material.assign(static_cast<std::size_t>(map.n_across) * static_cast<std::size_t>(map.n_depth),
                      MaterialMap::bare);
  for (const Shape& shape : section.shapes) {
    const Rectangle box = bounding_box(shape.outline);
    Samples across = samples_in(box.across, section.width, map.n_across);
    Samples depth = samples_in(box.depth, section.depth, map.n_depth);
    const bool whole = std::holds_alternative<Rectangle>(shape.outline);
    if (whole) {
      across = at_least_one(across, box.across, section.width, map.n_across);
      depth = at_least_one(depth, box.depth, section.depth, map.n_depth);
    }
    for (int k = depth.first; k < depth.past; ++k) {
      const double y = middle(k, section.depth, map.n_depth);
      const auto row = static_cast<std::size_t>(map.n_depth - 1 - k) * static_cast<std::size_t>(map.n_across);
      for (int i = across.first; i < across.past; ++i)
        if (whole || contains(shape.outline, {middle(i, section.width, map.n_across), y}))
          map.material[row + static_cast<std::size_t>(i)] = static_cast<int>(shape.material);
    }
  }
  return map;
}

std::vector<float> outline_coverage(const MaterialMap& map, const std::vector<int>& group_of) {
  constexpr int per_pixel = MaterialMap::per_pixel;
  const int width = map.n_across / per_pixel;
  const auto group = [&](int i, int j) {
    const int material = map.at(i, j);
    return material == MaterialMap::bare ? -1 : group_of[static_cast<std::size_t>(material)];
  };
  std::vector<float> coverage(
      static_cast<std::size_t>(width) * static_cast<std::size_t>(map.n_depth / per_pixel), 0.0F);
  constexpr float share = 1.0F / (per_pixel * per_pixel);
  for (int j = 0; j < map.n_depth; ++j)
    for (int i = 0; i < map.n_across; ++i) {
      const int here = group(i, j);
      // Both samples beside a border are marked, which makes a line one pixel wide.
      const bool border =
          (i > 0 && group(i - 1, j) != here) || (i + 1 < map.n_across && group(i + 1, j) != here) ||
          (j > 0 && group(i, j - 1) != here) || (j + 1 < map.n_depth && group(i, j + 1) != here);
      if (border)
        coverage[static_cast<std::size_t>(i / per_pixel) +
                 static_cast<std::size_t>(width) * static_cast<std::size_t>(j / per_pixel)] += share;
    }
  return coverage;
}

}  // namespace coldbay
