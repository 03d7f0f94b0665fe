#include "geometry/wall/build.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "geometry/wall/fill.hpp"
#include "geometry/wall/lengths.hpp"
#include "geometry/wall/services.hpp"

namespace coldbay {
namespace {

/// How far the legs of a steel plate reach over the studs [m]; common practice (1-1/4 in), no source.
constexpr double plate_leg = 0.032;

/// Height of a plate, and width of a steel stud between two bays: its web.
double thickness_of(const Frame& f) { return f.sheet.value_or(f.member_width); }

double width_of(const Post& post, const Frame& f) {
  const double w = f.member_width;
  if (post.kind == Post::Kind::corner_three) return 3.0 * w;
  if (post.kind == Post::Kind::corner_open) return w;  // the flat stud stands in the bay
  return (post.studs - 1) * w + thickness_of(f);
}

/// A single stud at an end of the wall is cut in the middle: the wall goes on beyond.
bool is_cut(const Post& post) { return post.kind == Post::Kind::studs && post.studs == 1; }

void add_layers(const Wall& wall, const Depths& depths, BuiltWall& out) {
  for (std::size_t i = 0; i < wall.layers.size(); ++i) {
    const Layer& layer = wall.layers[i];
    Piece p = block(layer.is_frame ? wall.frame.material : layer.material,
                    layer.is_frame ? Piece::Role::frame : Piece::Role::layer, {0.0, out.width},
                    {0.0, out.height}, depths.layers[i]);
    p.path = fmt::format("wall.layers[{}]", i);
    p.slightly_ventilated = layer.slightly_ventilated;
    p.well_ventilated = layer.well_ventilated;
    out.pieces.push_back(std::move(p));
  }
}

void add_member(BuiltWall& out, const Material& m, Span across, Span up, Span depth, Direction grain,
                const std::string& path) {
  Piece p = block(m, Piece::Role::frame, across, up, depth);
  p.grain = grain;
  p.path = path;
  out.pieces.push_back(std::move(p));
}

/// A C, its web on the left: what it holds is left as it is.
void add_steel_stud(BuiltWall& out, const Frame& f, double left, Span up, Span depth) {
  const double t = *f.sheet, w = f.member_width;
  add_member(out, f.material, {left, left + t}, up, depth, Direction::up, "wall.frame");
  add_member(out, f.material, {left, left + w}, up, {depth.from, depth.from + t}, Direction::up,
             "wall.frame");
  add_member(out, f.material, {left, left + w}, up, {depth.to - t, depth.to}, Direction::up, "wall.frame");
}

void add_post(const Wall& wall, const Post& post, bool last, Span across, Span depth, BuiltWall& out) {
  const Frame& f = wall.frame;
  const Span up{0.0, wall.height};
  if (f.sheet) {
    // Between two studs side by side there is air: nobody can fill it.
    if (post.studs > 1) out.pieces.push_back(block(wall.air, Piece::Role::frame, across, out.up, depth));
    for (int s = 0; s < post.studs; ++s) add_steel_stud(out, f, across.from + s * f.member_width, up, depth);
    return;
  }
  if (post.kind == Post::Kind::corner_three) {
    const double w = f.member_width;
    out.pieces.push_back(
        block(wall.air, Piece::Role::frame, {across.from + w, across.from + 2.0 * w}, out.up, depth));
  } else if (post.kind == Post::Kind::corner_open) {
    // The flat stud, against the lining, on the bay's side.
    const Span flat =
        last ? Span{across.from - f.member_depth, across.from} : Span{across.to, across.to + f.member_depth};
    add_member(out, f.material, flat, up, {depth.from, depth.from + f.member_width}, Direction::up,
               "wall.frame");
  }
}

/// Plates run over everything between floor and bays, blocking from stud to stud.
void add_plates_and_blocking(const Wall& wall, Span depth, const Elevation& e, BuiltWall& out) {
  const Frame& f = wall.frame;
  const Span all{0.0, out.width};
  if (f.sheet) {
    for (const Span face : {Span{depth.from, depth.from + *f.sheet}, Span{depth.to - *f.sheet, depth.to}}) {
      if (f.bottom_plates > 0)
        add_member(out, f.material, all, {0.0, plate_leg}, face, Direction::across, "wall.frame");
      if (f.top_plates > 0)
        add_member(out, f.material, all, {wall.height - plate_leg, wall.height}, face, Direction::across,
                   "wall.frame");
    }
  }
  if (f.bottom_plates > 0)
    add_member(out, f.material, all, {0.0, e.up.from}, depth, Direction::across, "wall.frame");
  if (f.top_plates > 0)
    add_member(out, f.material, all, {e.up.to, wall.height}, depth, Direction::across, "wall.frame");
  for (std::size_t r = 0; r < f.blocking.size(); ++r)
    for (std::size_t b = 0; b < wall.bays.size(); ++b) {
      if (wall.bays[b].opening) continue;
      const double middle = f.blocking[r], half = 0.5 * f.member_width;
      const std::string path = fmt::format("wall.frame.blocking[{}]", r);
      if (!f.sheet) {
        add_member(out, f.material, e.bays[b], {middle - half, middle + half}, depth, Direction::across,
                   path);
        continue;
      }
      // A piece of track, its web on the lower side.
      const double low = middle - half, t = *f.sheet;
      add_member(out, f.material, e.bays[b], {low, low + t}, depth, Direction::across, path);
      add_member(out, f.material, e.bays[b], {low, low + 2.0 * half}, {depth.from, depth.from + t},
                 Direction::across, path);
      add_member(out, f.material, e.bays[b], {low, low + 2.0 * half}, {depth.to - t, depth.to},
                 Direction::across, path);
    }
}

/// A window or door in its frame: jacks, header, sill; wall above and below it, filled as the bay says.
void add_opening(const Wall& wall, const Bay& bay, Span across, Span up, Span depth, BuiltWall& out) {
  const Frame& f = wall.frame;
  const Opening& o = *bay.opening;
  const double w = f.member_width;
  const Span clear{across.from + o.jacks * w, across.to - o.jacks * w};
  const auto member = [&](Span wide, Span high, Direction grain) {
    if (high.length() > 0.0) add_member(out, f.material, wide, high, depth, grain, o.path);
  };
  member(across, {up.from, o.head + o.header}, Direction::up);
  for (const Region& at : round_opening(wall, o, {across, up, depth})) add_fill(wall, bay, at, out.pieces);
  if (o.sill > 0.0) member(clear, {o.sill - w, o.sill}, Direction::across);
  member(across, {o.head, o.head + o.header}, Direction::across);
}

/// What an opening holds, known by its U-value alone: as deep as the wall, with the films of [ISO6946]. Over
/// the plates, where it is a door.
void fill_opening(const Wall& wall, const Opening& o, Span across, BuiltWall& out) {
  const double jacks = o.jacks * wall.frame.member_width;
  Material filling;
  filling.name = opening_filling;
  filling.source = "by the U-value in the case";
  double depth = out.depth, films = 0.13 + 0.04;
  const auto ventilated = std::find_if(wall.layers.begin(), wall.layers.end(),
                                       [](const Layer& layer) { return layer.well_ventilated; });
  if (ventilated != wall.layers.end()) {
    depth = depths_of(wall).layers[static_cast<std::size_t>(ventilated - wall.layers.begin())].from;
    films = 0.13 + 0.13;
  }
  filling.conductivity = o.u_value ? depth / (1.0 / *o.u_value - films) : 0.0;
  Piece p = block(filling, Piece::Role::opening, {across.from + jacks, across.to - jacks}, {o.sill, o.head},
                  {0.0, out.depth});
  p.path = o.path;
  out.pieces.push_back(std::move(p));
}

}  // namespace

std::vector<Region> round_opening(const Wall& wall, const Opening& o, const Region& space) {
  std::vector<Region> all;
  const double jacks = o.jacks * wall.frame.member_width, sill = o.sill - wall.frame.member_width;
  if (o.head + o.header < space.up.to - same_measure)
    all.push_back({space.across, {o.head + o.header, space.up.to}, space.depth});
  if (o.sill > 0.0 && sill > space.up.from + same_measure)
    all.push_back({{space.across.from + jacks, space.across.to - jacks}, {space.up.from, sill}, space.depth});
  return all;
}

Post post_of(const Wall& wall, std::size_t index) {
  return index < wall.posts.size() ? wall.posts[index] : Post{};
}

Depths depths_of(const Wall& wall) {
  Depths d;
  for (const Layer& layer : wall.layers) {
    const double t = layer.is_frame ? wall.frame.member_depth : layer.thickness;
    d.layers.push_back({d.total, d.total + t});
    if (layer.is_frame) d.frame = d.layers.back();
    d.total += t;
  }
  return d;
}

Elevation elevation_of(const Wall& wall) {
  Elevation e;
  double at = 0.0;
  for (std::size_t p = 0; p <= wall.bays.size(); ++p) {
    const Post post = post_of(wall, p);
    const double w = width_of(post, wall.frame);
    if (p == 0 && is_cut(post)) at = -0.5 * w;
    e.posts.push_back({at, at + w});
    at += w;
    if (p == wall.bays.size()) {
      e.width = is_cut(post) ? at - 0.5 * w : at;
      break;
    }
    const double clear = wall.bays[p].clear_width;
    e.bays.push_back({at, at + clear});
    at += clear;
  }
  const double plate = thickness_of(wall.frame);
  e.up = {wall.frame.bottom_plates * plate, wall.height - wall.frame.top_plates * plate};
  return e;
}

BuiltWall build(const Wall& wall) {
  const Depths depths = depths_of(wall);
  const Elevation e = elevation_of(wall);
  BuiltWall out;
  out.width = e.width;
  out.height = wall.height;
  out.depth = depths.total;
  out.frame = depths.frame;
  out.up = e.up;

  // 1. The layers; the frame's is solid at first.
  add_layers(wall, depths, out);
  // 2. What the bays hold, cut out of it.
  for (std::size_t b = 0; b < wall.bays.size(); ++b) {
    const Bay& bay = wall.bays[b];
    const Region space{e.bays[b], e.up, depths.frame};
    if (bay.opening) {
      add_opening(wall, bay, e.bays[b], e.up, depths.frame, out);
      continue;
    }
    add_fill(wall, bay, space, out.pieces);
    fit_round_services(wall, bay, space, out.pieces);
    add_voids(wall, bay, space, out.pieces);
  }
  // 3. The frame where it is not solid, and what crosses the bays.
  for (std::size_t p = 0; p < e.posts.size(); ++p)
    add_post(wall, post_of(wall, p), p + 1 == e.posts.size(), e.posts[p], depths.frame, out);
  add_plates_and_blocking(wall, depths.frame, e, out);
  for (std::size_t b = 0; b < wall.bays.size(); ++b)
    if (wall.bays[b].opening) fill_opening(wall, *wall.bays[b].opening, e.bays[b], out);
  // 4. What was put in after it.
  for (std::size_t b = 0; b < wall.bays.size(); ++b)
    add_services(wall, wall.bays[b], {e.bays[b], e.up, depths.frame}, out.pieces);

  for (std::size_t b = 0; b < wall.bays.size(); ++b) {
    const auto middle = [&](std::size_t p) {
      return std::clamp(0.5 * (e.posts[p].from + e.posts[p].to), 0.0, out.width);
    };
    BayPlace place{fmt::format("bay {}", b + 1),
                   wall.bays[b].label,
                   {middle(b), middle(b + 1)},
                   e.bays[b],
                   e.up,
                   wall.bays[b].path};
    // A corner belongs to its bay, to its end.
    if (b == 0) place.across.from = 0.0;
    if (b + 1 == wall.bays.size()) place.across.to = out.width;
    out.bays.push_back(std::move(place));
  }
  return out;
}

}  // namespace coldbay
