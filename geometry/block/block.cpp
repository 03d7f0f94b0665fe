#include "geometry/block/block.hpp"

#include <algorithm>
#include <utility>

#include "geometry/graded_axis.hpp"
#include "geometry/wall/build.hpp"
#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr std::uint32_t bare = 0xffffffffu;

bool is_round(const Piece& p) { return !std::holds_alternative<Rectangle>(p.outline); }

/// Where lines must be for a piece along one direction.
void add_lines(const Piece& p, Direction d, std::vector<double>& to) {
  const Span reach = extent(p, d);
  to.insert(to.end(), {reach.from, reach.to});
  if (d == p.along) return;
  if (const auto* c = std::get_if<Circle>(&p.outline))
    to.push_back(d == Direction::depth ? c->centre.depth : c->centre.across);
  if (const auto* polygon = std::get_if<Polygon>(&p.outline))
    for (const Point& corner : polygon->corners)
      to.push_back(d == Direction::depth ? corner.depth : corner.across);
}

/// The inner face of a well-ventilated layer, or the outside face.
double outer_end(const BuiltWall& wall) {
  double end = wall.depth;
  for (const Piece& p : wall.pieces) {
    if (!p.well_ventilated) continue;
    const Span across = extent(p, Direction::across), up = extent(p, Direction::up),
               depth = extent(p, Direction::depth);
    if (is_round(p) || across.from > 0.0 || across.to < wall.width || up.from > 0.0 || up.to < wall.height ||
        !(depth.from > 0.0))
      throw ModelError(p.path, "a well-ventilated air space reaches over the whole wall",
                       "make it a layer, or ventilated: slightly");
    end = std::min(end, depth.from);
  }
  return end;
}

std::size_t nearest(const std::vector<double>& lines, double x) {
  const auto above = std::lower_bound(lines.begin(), lines.end(), x);
  if (above == lines.begin()) return 0;
  if (above == lines.end() || x - *(above - 1) < *above - x)
    return static_cast<std::size_t>(above - lines.begin()) - 1;
  return static_cast<std::size_t>(above - lines.begin());
}

/// Paints what is bounded by planes onto the stretches.
void paint(Block& b) {
  b.shows.assign(static_cast<std::size_t>(b.stretches(Direction::across) * b.stretches(Direction::up) *
                                          b.stretches(Direction::depth)),
                 bare);
  for (std::size_t p = 0; p < b.pieces.size(); ++p) {
    if (is_round(b.pieces[p])) continue;
    std::array<Index, 3> from{}, to{};
    for (std::size_t d = 0; d < 3; ++d) {
      const Span reach = extent(b.pieces[p], static_cast<Direction>(d));
      from[d] = static_cast<Index>(nearest(b.lines[d], reach.from));
      to[d] = static_cast<Index>(nearest(b.lines[d], reach.to));
    }
    for (Index k = from[2]; k < to[2]; ++k)
      for (Index j = from[1]; j < to[1]; ++j)
        for (Index i = from[0]; i < to[0]; ++i)
          b.shows[static_cast<std::size_t>(b.stretch(i, j, k))] = static_cast<std::uint32_t>(p);
  }
  if (std::find(b.shows.begin(), b.shows.end(), bare) != b.shows.end())
    throw ModelError("wall", "part of the wall has no material");
}

bool alike(const Piece& a, const Piece& b) {
  return a.material == b.material && a.held == b.held && a.slightly_ventilated == b.slightly_ventilated &&
         (!a.material.along_grain || a.grain == b.grain);
}

std::vector<std::uint32_t> looks(const std::vector<Piece>& pieces) {
  std::vector<std::uint32_t> look;
  std::vector<const Piece*> kinds;
  look.reserve(pieces.size());
  for (const Piece& p : pieces) {
    const auto same = std::find_if(kinds.begin(), kinds.end(), [&](const Piece* k) { return alike(*k, p); });
    look.push_back(static_cast<std::uint32_t>(same - kinds.begin()));
    if (same == kinds.end()) kinds.push_back(&p);
  }
  return look;
}

/// Leaves out lines on which nothing is seen to change: those of what later pieces cover. What ends there may
/// then end on the next line, for that cannot be seen either.
void leave_out_hidden_lines(Block& b, const std::array<std::vector<double>, 3>& of_round) {
  for (std::size_t d = 0; d < 3; ++d) {
    const std::array<Index, 3> n{b.stretches(Direction::across), b.stretches(Direction::up),
                                 b.stretches(Direction::depth)};
    const Index step = d == 0 ? 1 : d == 1 ? n[0] : n[0] * n[1];
    std::vector<bool> seen(b.lines[d].size(), false);
    seen.front() = seen.back() = true;
    for (const double x : of_round[d])
      if (const std::size_t l = nearest(b.lines[d], x); std::abs(b.lines[d][l] - x) <= merge_distance)
        seen[l] = true;
    for (Index k = 0; k < n[2]; ++k)
      for (Index j = 0; j < n[1]; ++j)
        for (Index i = 0; i < n[0]; ++i) {
          const Index at = d == 0 ? i : d == 1 ? j : k;
          if (at + 1 == n[d]) continue;
          const auto s = static_cast<std::size_t>(b.stretch(i, j, k));
          if (b.look[b.shows[s]] != b.look[b.shows[s + static_cast<std::size_t>(step)]])
            seen[static_cast<std::size_t>(at) + 1] = true;
        }
    std::vector<double> left;
    for (std::size_t l = 0; l < seen.size(); ++l)
      if (seen[l]) left.push_back(b.lines[d][l]);
    b.lines[d] = std::move(left);
    paint(b);
  }
}

void refuse(const Block& b) {
  const Index nk = b.stretches(Direction::depth);
  for (Index k = 0; k < nk; ++k)
    for (Index j = 0; j < b.stretches(Direction::up); ++j)
      for (Index i = 0; i < b.stretches(Direction::across); ++i) {
        const Piece& p = b.pieces[b.shows[static_cast<std::size_t>(b.stretch(i, j, k))]];
        if (p.role == Piece::Role::opening && !(p.material.conductivity > 0.0))
          throw ModelError(p.path, "nothing is known of what this opening holds", "give it its U: 1.4 W/m2K");
        if (p.material.is_air_space && !p.held && (k == 0 || k + 1 == nk))
          throw ModelError(
              p.path, k == 0 ? "this air space is open to the room" : "this air space is open to the outside",
              "close it with a layer");
      }
}

}  // namespace

Block cut_out(const BuiltWall& wall, Span across) {
  Block b;
  const double end = outer_end(wall);
  if (end < wall.depth) b.outside_film = 0.13;
  const std::array<Span, 3> ends{across, Span{0.0, wall.height}, Span{0.0, end}};
  const auto reaches_in = [&](const Piece& p) {
    for (std::size_t d = 0; d < 3; ++d) {
      const Span reach = extent(p, static_cast<Direction>(d));
      if (reach.to <= ends[d].from + merge_distance || reach.from >= ends[d].to - merge_distance)
        return false;
    }
    return true;
  };
  std::copy_if(wall.pieces.begin(), wall.pieces.end(), std::back_inserter(b.pieces), reaches_in);
  std::array<std::vector<double>, 3> of_round;
  for (std::size_t p = 0; p < b.pieces.size(); ++p) {
    if (is_round(b.pieces[p])) b.round.push_back(static_cast<std::uint32_t>(p));
    for (std::size_t d = 0; d < 3; ++d) {
      add_lines(b.pieces[p], static_cast<Direction>(d), b.lines[d]);
      if (is_round(b.pieces[p])) add_lines(b.pieces[p], static_cast<Direction>(d), of_round[d]);
    }
  }
  for (std::size_t d = 0; d < 3; ++d) b.lines[d] = tidy(std::move(b.lines[d]), ends[d]);
  b.look = looks(b.pieces);
  paint(b);
  leave_out_hidden_lines(b, of_round);
  refuse(b);
  if (wall.frame.to < end - merge_distance) {
    const std::vector<double>& lines = b.lines[static_cast<std::size_t>(Direction::depth)];
    b.sheathing = lines[nearest(lines, wall.frame.to)];
    if (std::abs(*b.sheathing - wall.frame.to) > merge_distance) b.sheathing.reset();
  }
  return b;
}

Block block_of(const BuiltWall& wall) { return cut_out(wall, {0.0, wall.width}); }

}  // namespace coldbay
