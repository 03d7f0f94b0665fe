#include "solver/block/block_air.hpp"

#include <algorithm>
#include <utility>

namespace coldbay {
namespace {

Passage passage_of(const Piece& p, const AirProperties& air) {
  Passage passage;
  passage.held = p.held.has_value();
  passage.gap = p.material.is_air_space && !p.held && !p.slightly_ventilated && !p.well_ventilated;
  if (p.material.airflow_resistivity)
    passage.permeability = permeability(*p.material.airflow_resistivity, air);
  return passage;
}

AirProperties air_between(const Surroundings& s) {
  return dry_air(0.5 * (s.inside.temperature + s.outside.temperature));
}

}  // namespace

MovingAir moving_air(const Block& block, const BlockPainting& painting, const Surroundings& surroundings) {
  MovingAir moving{{}, air_between(surroundings), {}, {}};
  // What is held at a temperature stirs the air round it in ways that are not those of a loop round a fill.
  if (std::any_of(block.pieces.begin(), block.pieces.end(),
                  [](const Piece& p) { return p.held.has_value(); }))
    return moving;
  std::vector<Passage> of_piece;
  of_piece.reserve(block.pieces.size());
  for (const Piece& p : block.pieces) of_piece.push_back(passage_of(p, moving.air));
  std::vector<Passage> passages(painting.shows.size());
  for (std::size_t c = 0; c < passages.size(); ++c)
    if (painting.shows[c] < of_piece.size()) passages[c] = of_piece[painting.shows[c]];
  moving.paths = air_paths(painting.axis, passages, Direction::up);
  return moving;
}

std::array<std::vector<Cap>, 3> loop_caps(const Block& block) {
  constexpr double along = 0.05;
  std::vector<Passage> passages;
  passages.reserve(block.shows.size());
  for (const std::uint32_t p : block.shows) passages.push_back(passage_of(block.pieces[p], dry_air(10.0)));
  const std::array<Axis, 3> axis{Axis(block.lines[0]), Axis(block.lines[1]), Axis(block.lines[2])};
  const AirPaths paths = air_paths(axis, passages, Direction::up);
  std::array<std::vector<Cap>, 3> caps;
  for (const AirPaths::Row& row : paths.rows) {
    const std::array<Index, 3> first{row.first % axis[0].cells(),
                                     row.first / axis[0].cells() % axis[1].cells(),
                                     row.first / (axis[0].cells() * axis[1].cells())};
    const auto d = static_cast<std::size_t>(row.across);
    const double from = axis[d].edge(first[d]);
    caps[d].push_back({{from, from + row.thickness}, 0.5 * row.thickness * (1.0 + 1e-9)});
    if (d != 1) caps[1].push_back({{axis[1].edge(first[1]), axis[1].edge(first[1] + 1)}, along});
  }
  return caps;
}

void part_radiation(ConductivityGrid& grid, const MovingAir& moving, const BlockAir& air,
                    const std::vector<int>& space_of) {
  part_radiation(
      grid, moving, [&](Index cell) { return space_of[at(cell)] >= 0; },
      [&](const AirPaths::Row& row) {
        return radiative_coefficient(air.spaces[at(space_of[at(row.first)])], row.across);
      });
}

}  // namespace coldbay
