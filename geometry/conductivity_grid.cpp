#include "geometry/conductivity_grid.hpp"

#include <numeric>

namespace coldbay {

void sort_facing(ConductivityGrid& grid) {
  auto& all = grid.facing;
  std::sort(all.begin(), all.end(), [](const FacingPair& a, const FacingPair& b) {
    return std::pair(a.low_solid, a.d) < std::pair(b.low_solid, b.d);
  });
  grid.facing_by_high.resize(all.size());
  std::iota(grid.facing_by_high.begin(), grid.facing_by_high.end(), std::size_t{0});
  std::sort(grid.facing_by_high.begin(), grid.facing_by_high.end(), [&](std::size_t a, std::size_t b) {
    return std::pair(all[a].high_solid, all[a].d) < std::pair(all[b].high_solid, all[b].d);
  });
}

const FacingPair* facing_beyond(const ConductivityGrid& grid, Index solid, Direction d, bool high_end) {
  const auto& all = grid.facing;
  if (all.empty()) return nullptr;
  if (high_end) {
    const auto it = std::lower_bound(all.begin(), all.end(), std::pair(solid, d),
                                     [](const FacingPair& f, const std::pair<Index, Direction>& wanted) {
                                       return std::pair(f.low_solid, f.d) < wanted;
                                     });
    return it != all.end() && it->low_solid == solid && it->d == d ? &*it : nullptr;
  }
  const auto& order = grid.facing_by_high;
  const auto it = std::lower_bound(order.begin(), order.end(), std::pair(solid, d),
                                   [&](std::size_t f, const std::pair<Index, Direction>& wanted) {
                                     return std::pair(all[f].high_solid, all[f].d) < wanted;
                                   });
  return it != order.end() && all[*it].high_solid == solid && all[*it].d == d ? &all[*it] : nullptr;
}

}  // namespace coldbay
