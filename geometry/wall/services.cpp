#include "geometry/wall/services.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include "geometry/wall/lengths.hpp"

namespace coldbay {
namespace {

void add(const Material& m, Piece::Role role, const Region& at, const std::string& path,
         std::vector<Piece>& pieces) {
  if (at.across.length() <= same_measure || at.up.length() <= same_measure ||
      at.depth.length() <= same_measure)
    return;
  pieces.push_back(block(m, role, at.across, at.up, at.depth));
  pieces.back().path = path;
}

/// One step of a pocket beside a run.
struct Dent {
  Direction direction = Direction::up;
  Span strip;
  double depth = 0.0;
  Face face = Face::room;
  std::string path;
};

/// The batt pushed over a run: whole on one side of it, a pocket on the other, as deep as the run takes from
/// the batt and tapering off to either side.
void add_dents(const ServiceRun& run, const Region& space, const Laid& laid, std::vector<Dent>& dents) {
  const double deep = pocket_depth(run, laid, space);
  if (!(deep > 0.0)) return;
  const Direction direction = run.runs_up ? Direction::across : Direction::up;
  const Face face = run.laid == ServiceRun::Laid::over ? Face::sheathing : Face::room;
  const double half = 0.5 * run.diameter, reach = run.pocket > 0.0 ? run.pocket : deep;
  const double middle = passage_of(run, space).middle.across;
  dents.push_back({direction, {middle - half, middle + half}, deep, face, run.path});
  for (int s = 0; s < steps; ++s) {
    const double from = half + reach * s / steps, to = half + reach * (s + 1) / steps;
    const double depth = deep * (1.0 - (s + 0.5) / steps);
    dents.push_back({direction, {middle - to, middle - from}, depth, face, run.path});
    dents.push_back({direction, {middle + from, middle + to}, depth, face, run.path});
  }
}

void add_run(const ServiceRun& run, const Region& space, std::vector<Piece>& pieces) {
  const RunPlace p = passage_of(run, space);
  const auto outline = [&](double diameter) -> Outline {
    if (!(run.wall > 0.0)) return Circle{p.middle, 0.5 * diameter};
    const double half = 0.25 * std::sqrt(std::numbers::pi) * run.diameter - 0.5 * (run.diameter - diameter);
    return Rectangle{{p.middle.across - half, p.middle.across + half},
                     {p.middle.depth - half, p.middle.depth + half}};
  };
  const auto put = [&](const Material& m, double diameter) {
    pieces.push_back({m, Piece::Role::service, p.along, outline(diameter), p.reach, run.path});
  };
  put(run.material, run.diameter);
  if (!(run.wall > 0.0)) return;
  put(run.inside, run.diameter - 2.0 * run.wall);
  pieces.back().held = run.temperature;
}

/// The fill is cut away for the box, and something, or nothing, is put behind it.
void add_behind(const Wall& wall, const Bay& bay, const Enclosure& box, const Region& space,
                std::vector<Piece>& pieces) {
  using Behind = Enclosure::Behind;
  const std::vector<Laid> laid = laid_fills(bay, space);
  Region at = space_of(box, space);
  const double back = std::max(at.depth.to, space.depth.from), sheathing = space.depth.to;
  if (box.margin > 0.0) {
    Region cut = at;
    cut.up = {std::max(space.up.from, at.up.from - box.margin), std::min(space.up.to, at.up.to + box.margin)};
    if (box.stud == Side::left)
      cut.across.to = std::min(space.across.to, at.across.to + box.margin);
    else
      cut.across.from = std::max(space.across.from, at.across.from - box.margin);
    cut.depth = {space.depth.from, box.behind == Behind::open ? sheathing : back};
    add(wall.air, Piece::Role::air, cut, box.path, pieces);
  }
  at.depth = {back, sheathing};
  add(wall.air, Piece::Role::air, at, box.path, pieces);
  if (box.behind == Behind::foam) return add(box.foam, Piece::Role::fill, at, box.path, pieces);
  if (laid.empty() || box.behind == Behind::open || at.depth.length() <= same_measure) return;
  const Laid& outer = laid.back();
  double squeezed = outer.squeezed;
  if (box.behind == Behind::squeezed)
    squeezed *= outer.at.depth.length() / at.depth.length();
  else if (box.behind == Behind::piece)
    at.depth.from = std::max(at.depth.from, sheathing - box.piece);
  pieces.push_back(fill_piece(outer, squeezed, at, box.path));
}

void add_enclosure(const Wall& wall, const Enclosure& box, const Region& space, std::vector<Piece>& pieces) {
  const Region at = space_of(box, space);
  add(box.material, Piece::Role::service, at, box.path, pieces);
  Region inner = at;
  const bool ends = box.kind != Enclosure::Kind::duct;  // a duct goes on through the plates
  inner.across = {at.across.from + box.wall, at.across.to - box.wall};
  if (ends) inner.up = {at.up.from + box.wall, at.up.to - box.wall};
  inner.depth = {at.depth.from + (box.cover ? 0.0 : box.wall), at.depth.to - box.wall};
  add(wall.air, Piece::Role::service, inner, box.path, pieces);
  if (!box.cover) return;
  Region cover = at;
  cover.depth.to = at.depth.from + cover_plate;
  add(*box.cover, Piece::Role::service, cover, box.path, pieces);
}

}  // namespace

Region space_of(const Enclosure& box, const Region& space) {
  Region at = space;
  if (box.kind != Enclosure::Kind::duct)
    at.up = {box.centre - 0.5 * box.height, box.centre + 0.5 * box.height};
  at.across = box.stud == Side::left ? Span{space.across.from, space.across.from + box.width}
                                     : Span{space.across.to - box.width, space.across.to};
  at.depth = {box.front, box.front + box.depth};
  return at;
}

RunPlace passage_of(const ServiceRun& run, const Region& space) {
  const double depth = space.depth.from + run.depth;
  if (run.runs_up) return {Direction::up, {space.across.from + run.at, depth}, space.up};
  return {Direction::across, {run.at, depth}, space.across};
}

double pocket_depth(const ServiceRun& run, const Laid& laid, const Region& space) {
  const double half = 0.5 * run.diameter;
  const double middle = space.depth.from + run.depth - laid.at.depth.from;  // from the room side of the batt
  const double thick = laid.at.depth.length();
  if (run.laid == ServiceRun::Laid::over) return std::clamp(thick - (middle - half), 0.0, thick);
  if (run.laid == ServiceRun::Laid::behind) return std::clamp(middle + half, 0.0, thick);
  return 0.0;
}

void fit_round_services(const Wall& wall, const Bay& bay, const Region& space, std::vector<Piece>& pieces) {
  const std::vector<Laid> laid = laid_fills(bay, space);
  if (laid.size() == 1) {
    std::vector<Dent> dents;
    for (const ServiceRun& run : bay.runs) add_dents(run, space, laid[0], dents);
    // Where pockets cross, the deeper one shows.
    std::stable_sort(dents.begin(), dents.end(),
                     [](const Dent& a, const Dent& b) { return a.depth < b.depth; });
    for (const Dent& d : dents)
      add_dent(laid[0], d.direction, d.strip, d.depth, d.face, wall.air, d.path, pieces);
  }
  for (const Enclosure& box : bay.enclosures) add_behind(wall, bay, box, space, pieces);
}

void add_services(const Wall& wall, const Bay& bay, const Region& space, std::vector<Piece>& pieces) {
  for (const Enclosure& box : bay.enclosures) add_enclosure(wall, box, space, pieces);
  for (const ServiceRun& run : bay.runs) add_run(run, space, pieces);
}

}  // namespace coldbay
