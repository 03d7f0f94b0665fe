#include "tools/report/framing.hpp"

#include <algorithm>

namespace coldbay {
namespace {

/// The places on the wall where something may change, its ends among them.
std::vector<double> places(const BuiltWall& wall, Direction normal, double end) {
  std::vector<double> all = cut_changes(wall, normal);
  std::erase_if(all, [&](double place) { return place < 0.0 || place > end; });
  return all;
}

bool shows_framing(const std::vector<const Piece*>& pieces, double across, double up) {
  const std::vector<Met> met = met_at(pieces, across, up);
  return std::any_of(met.begin(), met.end(), [](const Met& one) {
    return one.piece->role == Piece::Role::frame && !one.piece->material.is_air_space;
  });
}

}  // namespace

std::vector<FaceRectangle> framing_of(const BuiltWall& wall) {
  const std::vector<double> xs = places(wall, Direction::across, wall.width),
                            ys = places(wall, Direction::up, wall.height);
  std::vector<FaceRectangle> all;
  for (std::size_t i = 0; i + 1 < xs.size(); ++i) {
    const std::vector<const Piece*> pieces = pieces_within(wall, {xs[i], xs[i + 1]}, {0.0, wall.height});
    bool goes_on = false;  // up the same strip
    for (std::size_t j = 0; j + 1 < ys.size(); ++j) {
      const bool shows = shows_framing(pieces, 0.5 * (xs[i] + xs[i + 1]), 0.5 * (ys[j] + ys[j + 1]));
      if (shows && goes_on)
        all.back().up.to = ys[j + 1];
      else if (shows)
        all.push_back({{xs[i], xs[i + 1]}, {ys[j], ys[j + 1]}});
      goes_on = shows;
    }
  }
  return all;
}

}  // namespace coldbay
