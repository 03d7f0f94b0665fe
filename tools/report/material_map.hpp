#pragma once

#include <cstddef>
#include <vector>

#include "geometry/section.hpp"

namespace coldbay {

/// Which material shows at each sample of a picture, two samples to a pixel either way.
///
/// Shape  material[i + n_across * j], i from the left, j from the top (the outside face).
struct MaterialMap {
  static constexpr int per_pixel = 2;
  static constexpr int bare = -1;  ///< no shape covers this
  int n_across = 0;
  int n_depth = 0;
  std::vector<int> material;  ///< index into Section::materials, or bare

  int at(int i, int j) const {
    return material[static_cast<std::size_t>(i) +
                    static_cast<std::size_t>(n_across) * static_cast<std::size_t>(j)];
  }
};

/// Paints the shapes over the middles of the samples, so that each sample agrees with `material_at`,
/// but for rectangles too thin to hold any sample: those are drawn one sample thick. A foil or a
/// sheet of steel matters more than its thickness shows.
MaterialMap material_map(const Section& section, int plot_width, int plot_height);

/// How much of each pixel the lines between different groups cover, 0 to 1; `group_of` says which
/// materials count as the same. Shape: pixels by rows from the top.
std::vector<float> outline_coverage(const MaterialMap& map, const std::vector<int>& group_of);

}  // namespace coldbay
