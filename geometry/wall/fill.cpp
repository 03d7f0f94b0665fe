#include "geometry/wall/fill.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "geometry/wall/scraps.hpp"

namespace coldbay {
namespace {

/// Density of a fill that differs by less from its label's is that of its label.
constexpr double same_density = 0.02;

double excess_width(const Bay& bay, const Region& space) {
  const double room = space.across.length() - bay.gap.left - bay.gap.right;
  return bay.width ? std::max(0.0, *bay.width - room - friction_fit) : 0.0;
}

/// The depth that each fill has: as written; what is left for one that takes it; in proportion where batts
/// together are thicker than the room they have.
std::vector<double> depths_of_fills(const Bay& bay, double room) {
  double rigid = 0.0, batts = 0.0;
  int takers = 0;
  for (const Fill& f : bay.fills) {
    (f.batt ? batts : rigid) += f.thickness;
    if (f.thickness == 0.0) ++takers;
  }
  std::vector<double> depths;
  for (const Fill& f : bay.fills) {
    if (f.thickness == 0.0)
      depths.push_back((room - rigid - batts) / takers);
    else if (f.batt && (takers == 0 || batts > room - rigid))
      depths.push_back(f.thickness * (room - rigid) / batts);
    else
      depths.push_back(f.thickness);
  }
  // Scraps, and a batt by its conductivity alone, fill what there is.
  if (bay.fills.size() == 1 && (!bay.fills[0].batt || bay.fill_fraction || bay.scraps)) depths[0] = room;
  return depths;
}

void add_air(const Wall& wall, const Bay& bay, const Region& at, std::vector<Piece>& pieces) {
  Piece p = block(wall.air, Piece::Role::air, at.across, at.up, at.depth);
  p.path = bay.path;
  pieces.push_back(std::move(p));
}

/// True where the fills lie one behind the other over all of the space.
bool fills_all(const std::vector<Laid>& laid, const Region& space) {
  if (laid.empty()) return false;
  const auto same = [](Span a, Span b) { return a.from == b.from && a.to == b.to; };
  constexpr double touching = 1e-9;
  return std::abs(laid.front().at.depth.from - space.depth.from) < touching &&
         std::abs(laid.back().at.depth.to - space.depth.to) < touching &&
         std::all_of(laid.begin(), laid.end(), [&](const Laid& l) {
           return same(l.at.across, space.across) && same(l.at.up, space.up);
         });
}

/// Edges rounded on the sheathing side: the fibre is elsewhere in the batt already (laid_fills).
void add_shoulders(const Wall& wall, const Bay& bay, const Region& space, const Laid& outer,
                   std::vector<Piece>& pieces) {
  const double r = shoulder_radius(bay, space);
  if (!(r > 0.0)) return;
  const Span across = outer.at.across;
  const std::vector<double> depths = quarter_round(r);
  for (int s = 0; s < steps; ++s) {
    const double from = r * s / steps, to = r * (s + 1) / steps;
    const Span depth{outer.at.depth.to - depths[static_cast<std::size_t>(s)], outer.at.depth.to};
    add_air(wall, bay, {{across.from + from, across.from + to}, outer.at.up, depth}, pieces);
    add_air(wall, bay, {{across.to - to, across.to - from}, outer.at.up, depth}, pieces);
  }
}

void add_staple_pockets(const Wall& wall, const Bay& bay, const Laid& body, std::vector<Piece>& pieces) {
  const InsetStaples& st = *bay.staples;
  const int n = st.square ? 1 : steps;
  for (int s = 0; s < n; ++s) {
    const double from = st.pocket * s / n, to = st.pocket * (s + 1) / n;
    const double depth = st.square ? st.depth : st.depth * (1.0 - (s + 0.5) / n);
    const Span across = body.at.across;
    for (const Span strip :
         {Span{across.from + from, across.from + to}, Span{across.to - to, across.to - from}})
      add_dent(body, Direction::across, strip, depth, Face::room, wall.air, bay.path + ".staples", pieces);
  }
}

/// The end folded back lies on the sheathing side, two layers in the room of one. Beyond its edge the batt
/// comes back to its full depth over a slope of 45 degrees, and the bend is round.
void add_fold(const Wall& wall, const Bay& bay, const Laid& body, std::vector<Piece>& pieces) {
  const FoldedEnd& f = *bay.folded;
  const bool bottom = f.at == BayEnd::bottom;
  const Span up = body.at.up;
  const double depth = body.at.depth.length(), slope = 0.5 * depth;
  const auto from_end = [&](double a, double b) {
    return bottom ? Span{up.from + a, up.from + b} : Span{up.to - b, up.to - a};
  };
  const std::string path = bay.path + ".folded";
  Region doubled = body.at;
  doubled.up = from_end(0.0, f.by);
  pieces.push_back(fill_piece(body, 2.0 * body.squeezed, doubled, path));
  for (int s = 0; s < steps; ++s)
    add_dent(body, Direction::up, from_end(f.by + slope * s / steps, f.by + slope * (s + 1) / steps),
             slope * (1.0 - (s + 0.5) / steps), Face::sheathing, wall.air, path, pieces);
  const Laid bend{body.fill, doubled, 2.0 * body.squeezed, body.faced};
  const double r = std::min(0.25 * depth, f.by);
  const std::vector<double> depths = quarter_round(r);
  for (int s = 0; s < steps; ++s)
    add_dent(bend, Direction::up, from_end(r * s / steps, r * (s + 1) / steps),
             depths[static_cast<std::size_t>(s)], Face::room, wall.air, path, pieces);
}

}  // namespace

double shoulder_radius(const Bay& bay, const Region& space) {
  return std::max(bay.shoulders, excess_width(bay, space));
}

std::vector<double> quarter_round(double radius) {
  // Depth at a distance s from the side: r - sqrt(r^2 - (r - s)^2); its integral from the far end, v = r - s.
  const auto under = [radius](double v) {
    v = std::clamp(v, 0.0, radius);
    const double root = std::sqrt(radius * radius - v * v);
    return radius * v - 0.5 * (v * root + radius * radius * std::asin(v / radius));
  };
  std::vector<double> depths;
  for (int s = 0; s < steps; ++s) {
    const double from = radius * s / steps, to = radius * (s + 1) / steps;
    depths.push_back((under(radius - from) - under(radius - to)) / (to - from));
  }
  return depths;
}

double piece_height(const Bay& bay, const Region& space) {
  return space.up.length() - bay.gap.top - bay.gap.bottom - (bay.short_end ? bay.short_end->by : 0.0);
}

std::vector<Laid> laid_fills(const Bay& bay, const Region& space) {
  std::vector<Laid> all;
  if (bay.fills.empty()) return all;
  Region body = space;
  const Gap& g = bay.gap;
  body.across = {space.across.from + g.left, space.across.to - g.right};
  body.depth = {space.depth.from + g.room, space.depth.to - g.sheathing};
  if (bay.width && *bay.width < body.across.length()) {
    const double strip = body.across.length() - *bay.width;
    (bay.strip == Side::left ? body.across.from : body.across.to) += bay.strip == Side::left ? strip : -strip;
  }
  if (bay.thickness) {
    if (bay.against == Face::room)
      body.depth.to = body.depth.from + *bay.thickness;
    else
      body.depth.from = body.depth.to - *bay.thickness;
  }
  body.up = {space.up.from + g.bottom, space.up.to - g.top};
  if (bay.short_end)
    (bay.short_end->at == BayEnd::bottom ? body.up.from : body.up.to) +=
        bay.short_end->at == BayEnd::bottom ? bay.short_end->by : -bay.short_end->by;
  const double slumped = bay.fallen + bay.settled;
  body.up.to -= slumped;

  // What the fibre has to do with: its mass over the room that is left to it.
  const double piece = piece_height(bay, space);
  double crowding = piece / (piece - slumped) * bay.fill_fraction.value_or(1.0);
  const double r = shoulder_radius(bay, space), width = body.across.length();
  if (bay.width && *bay.width > width) crowding *= *bay.width / width;
  if (r > 0.0) {
    const double area = width * body.depth.length();
    crowding *= area / (area - (2.0 - 0.5 * std::numbers::pi) * r * r);
  }
  const std::vector<double> depths = depths_of_fills(bay, body.depth.length());
  double from = body.depth.from;
  for (std::size_t f = 0; f < bay.fills.size(); ++f) {
    const Fill& fill = bay.fills[f];
    Laid laid{&fill, body, crowding, bay.faced};
    laid.at.depth = {from, from + depths[f]};
    from += depths[f];
    if (fill.batt && !bay.fill_fraction && !bay.scraps && fill.batt->thickness - depths[f] > slack)
      laid.squeezed *= fill.batt->thickness / depths[f];
    all.push_back(laid);
  }
  return all;
}

Material fill_material(const Fill& fill, double squeezed, bool in_scraps) {
  Material m = fill.material;
  if (!fill.batt) return m;
  const double density = label_density(*fill.batt) * squeezed;
  if (in_scraps)
    m.name += ", scraps";
  else if (squeezed > 1.0 + same_density)
    m.name += ", squeezed";
  else if (squeezed < 1.0 - same_density)
    m.name += ", thinly spread";
  m.density = density;
  m.law = batt_law(*fill.batt, density);
  m.conductivity = conductivity_at(m, 10.0);
  if (m.airflow_resistivity) m.airflow_resistivity = squeezed_resistivity(*m.airflow_resistivity, squeezed);
  m.source += "; by density and temperature, the fibre model fitted to [WSEC101]";
  return m;
}

Piece fill_piece(const Laid& laid, double squeezed, const Region& at, const std::string& path) {
  const Fill& fill = *laid.fill;
  const bool air = fill.material.is_air_space;
  Piece p = block(fill_material(fill, squeezed), air ? Piece::Role::air : Piece::Role::fill, at.across, at.up,
                  at.depth);
  if (fill.batt) p.squeezed = squeezed;
  if (laid.faced) p.material.airflow_resistivity.reset();
  p.path = path;
  return p;
}

void add_dent(const Laid& laid, Direction direction, Span strip, double depth, Face face, const Material& air,
              const std::string& path, std::vector<Piece>& pieces) {
  if (!(depth > 0.0 && strip.length() > 0.0)) return;
  Region at = laid.at;
  Span& along = direction == Direction::across ? at.across : at.up;
  along = {std::max(along.from, strip.from), std::min(along.to, strip.to)};
  if (!(along.length() > 0.0)) return;
  const Span whole = laid.at.depth;
  const bool room = face == Face::room;
  at.depth = room ? Span{whole.from + depth, whole.to} : Span{whole.from, whole.to - depth};
  pieces.push_back(fill_piece(laid, laid.squeezed * whole.length() / at.depth.length(), at, path));
  at.depth = room ? Span{whole.from, whole.from + depth} : Span{whole.to - depth, whole.to};
  pieces.push_back(block(air, Piece::Role::air, at.across, at.up, at.depth));
  pieces.back().path = path;
}

void add_fill(const Wall& wall, const Bay& bay, const Region& space, std::vector<Piece>& pieces) {
  const std::vector<Laid> laid = laid_fills(bay, space);
  if (!fills_all(laid, space)) add_air(wall, bay, space, pieces);  // whatever the fill does not reach
  if (laid.empty()) return;
  const double cut = piece_height(bay, space);
  for (const Laid& l : laid) {
    if (bay.scraps)
      add_scraps(*bay.scraps, l, wall.air, bay.path, pieces);
    else
      pieces.push_back(fill_piece(l, l.squeezed, l.at, bay.path));
    // A deliberate air space is part of the wall; a slump is told by what it leaves open, not as compression.
    if (l.fill->material.is_air_space) pieces.back().role = Piece::Role::layer;
    pieces.back().squeezed *= (cut - bay.fallen) / cut;
  }
  const Laid& outer = laid.back();
  if (bay.folded) add_fold(wall, bay, laid.front(), pieces);
  // The shoulders after the pockets before them, whose dents are painted through the whole depth.
  if (bay.staples) add_staple_pockets(wall, bay, laid.front(), pieces);
  add_shoulders(wall, bay, space, outer, pieces);
  // Pieces cut to what was left open.
  for (const Laid& l : laid) {
    Region strip = l.at;
    if (bay.strip_filled && bay.width) {
      strip.across = bay.strip == Side::left ? Span{space.across.from + bay.gap.left, l.at.across.from}
                                             : Span{l.at.across.to, space.across.to - bay.gap.right};
      if (strip.across.length() > 0.0) pieces.push_back(fill_piece(l, l.squeezed, strip, bay.path));
    }
    if (bay.short_end && bay.short_end->filled) {
      const double by = bay.short_end->by;
      Region end = l.at;
      end.up = bay.short_end->at == BayEnd::bottom ? Span{space.up.from, space.up.from + by}
                                                   : Span{space.up.to - by, space.up.to};
      pieces.push_back(fill_piece(l, l.squeezed, end, bay.path));
    }
  }
}

void add_voids(const Wall& wall, const Bay& bay, const Region& space, std::vector<Piece>& pieces) {
  const auto moved = [](Outline outline, double first, double depth) {
    if (auto* r = std::get_if<Rectangle>(&outline)) {
      r->across = {r->across.from + first, r->across.to + first};
      r->depth = {r->depth.from + depth, r->depth.to + depth};
    } else if (auto* c = std::get_if<Circle>(&outline)) {
      c->centre = {c->centre.across + first, c->centre.depth + depth};
    } else {
      for (Point& p : std::get<Polygon>(outline).corners) p = {p.across + first, p.depth + depth};
    }
    return outline;
  };
  for (const Void& v : bay.voids) {
    const bool up = v.along == Direction::up;
    Span reach = up ? space.up : space.across;
    if (v.reach) {
      const double zero = up ? 0.0 : space.across.from;
      reach = {std::max(reach.from, zero + v.reach->from), std::min(reach.to, zero + v.reach->to)};
      if (!(reach.length() > 0.0)) continue;
    }
    pieces.push_back({wall.air, Piece::Role::air, v.along,
                      moved(v.outline, up ? space.across.from : 0.0, space.depth.from), reach, v.path});
  }
}

bool air_on_both_faces(const Bay& bay, const Region& space) {
  const std::vector<Laid> laid = laid_fills(bay, space);
  if (laid.empty()) return false;
  const auto is_air = [](const Laid& l) { return l.fill->material.is_air_space; };
  const auto first = std::find_if_not(laid.begin(), laid.end(), is_air);
  const auto last = std::find_if_not(laid.rbegin(), laid.rend(), is_air);
  if (first == laid.end()) return false;
  constexpr double touching = 1e-6;
  const bool room = first->at.depth.from > space.depth.from + touching || bay.staples;
  const bool sheathing = last->at.depth.to < space.depth.to - touching || shoulder_radius(bay, space) > 0.0;
  return room && sheathing;
}

}  // namespace coldbay
