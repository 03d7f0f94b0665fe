#include "geometry/wall/seen.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/wall/cuts.hpp"
#include "geometry/wall/lengths.hpp"

namespace coldbay {
namespace {

/// The pieces of one bay, without what lies by chance.
BuiltWall bay_of(const BuiltWall& wall, std::size_t bay) {
  BuiltWall one = wall;
  const std::string path = wall.bays[bay].path;
  std::erase_if(one.pieces, [&](const Piece& p) {
    const bool of_bay =
        p.path.starts_with(path) && (p.path.size() == path.size() || p.path[path.size()] == '.');
    return !of_bay || p.by_chance;
  });
  return one;
}

/// A bay by itself between two studs.
Wall alone(const Wall& wall, const Bay& bay) {
  Wall one = wall;
  one.bays = {bay};
  one.posts.clear();
  return one;
}

/// Whether a plane shows two bays differently; `at` across counts from the bay's left post.
bool shows_apart(const Wall& wall, const Bay& a, const Bay& b, Direction normal, double at) {
  const Wall one = alone(wall, a), other = alone(wall, b);
  const BuiltWall x = build(one), y = build(other);
  const double place = normal == Direction::up ? at : x.bays[0].clear.from + at;
  return differ(cut_of(x, normal, place), cut_of(y, normal, place), a);
}

/// The heights at the end of a bay that a fault of the batt's length is about; all heights for any other.
Span end_zone(const Bay& bay, Fault fault, const Region& space) {
  const Span up = space.up;
  const auto at_end = [&](BayEnd end, double length) {
    return end == BayEnd::top ? Span{up.to - length, up.to} : Span{up.from, up.from + length};
  };
  const double slumped = bay.fallen + bay.settled;
  if (fault == Fault::short_end)
    return at_end(bay.short_end->at, bay.short_end->by + (bay.short_end->at == BayEnd::top ? slumped : 0.0));
  if (fault == Fault::folded) return at_end(bay.folded->at, bay.folded->by + 0.5 * space.depth.length());
  if (fault == Fault::fallen || fault == Fault::settled_fill)
    return at_end(BayEnd::top,
                  slumped + (bay.short_end && bay.short_end->at == BayEnd::top ? bay.short_end->by : 0.0));
  return up;
}

std::vector<Span> joined(const std::vector<Span>& spans) {
  std::vector<Span> out;
  for (const Span& s : spans)
    if (!out.empty() && s.from - out.back().to < same_place)
      out.back().to = std::max(out.back().to, s.to);
    else
      out.push_back(s);
  return out;
}

/// The stretches between the plates in which `alike` holds at their middle.
template <class F>
std::vector<Span> stretches_where(std::vector<double> changes, Span up, F alike) {
  changes.insert(changes.end(), {up.from, up.to});
  std::sort(changes.begin(), changes.end());
  std::vector<Span> all;
  for (std::size_t i = 0; i + 1 < changes.size(); ++i) {
    const Span s{std::max(changes[i], up.from), std::min(changes[i + 1], up.to)};
    if (s.length() > same_place && alike(s)) all.push_back(s);
  }
  return joined(all);
}

}  // namespace

double length_of(const std::vector<Span>& spans) {
  double sum = 0.0;
  for (const Span& s : spans) sum += s.length();
  return sum;
}

std::vector<Span> without(std::vector<Span> some, const std::vector<Span>& others) {
  for (const Span& o : others) {
    std::vector<Span> left;
    for (const Span& s : some) {
      if (s.from < std::min(s.to, o.from) - same_place) left.push_back({s.from, std::min(s.to, o.from)});
      if (std::max(s.from, o.to) + same_place < s.to) left.push_back({std::max(s.from, o.to), s.to});
    }
    some = std::move(left);
  }
  return some;
}

std::vector<std::vector<Fault>> seen_faults(const Wall& wall, Direction normal, double at) {
  const Elevation e = elevation_of(wall);
  const Depths depths = depths_of(wall);
  std::vector<std::vector<Fault>> all = faults_of(wall);
  for (std::size_t b = 0; b < wall.bays.size(); ++b) {
    const Bay& bay = wall.bays[b];
    const Region space{e.bays[b], e.up, depths.frame};
    const double place = normal == Direction::up ? at : at - space.across.from;
    const Span reach = normal == Direction::up ? space.up : Span{0.0, space.across.length()};
    std::erase_if(all[b], [&](Fault f) {
      if (!(place > reach.from && place < reach.to)) return true;
      if (normal == Direction::up) {
        const Span zone = end_zone(bay, f, space);
        if (at < zone.from || at > zone.to) return true;
      }
      return !shows_apart(wall, bay, put_right(wall, b, f), normal, place);
    });
  }
  return all;
}

std::vector<Span> alike_heights(const BuiltWall& wall, std::size_t bay, double height) {
  const BuiltWall one = bay_of(wall, bay);
  const Section here = cut_of(one, Direction::up, height);
  return stretches_where(cut_changes(one, Direction::up), wall.up, [&](const Span& s) {
    return (height >= s.from && height < s.to) ||
           looks_like(here, cut_of(one, Direction::up, 0.5 * (s.from + s.to)));
  });
}

std::vector<Span> right_heights(const BuiltWall& built, const BuiltWall& right, std::size_t bay) {
  const BuiltWall a = bay_of(built, bay), b = bay_of(right, bay);
  std::vector<double> changes = cut_changes(a, Direction::up);
  const std::vector<double> more = cut_changes(b, Direction::up);
  changes.insert(changes.end(), more.begin(), more.end());
  return stretches_where(std::move(changes), built.up, [&](const Span& s) {
    const double middle = 0.5 * (s.from + s.to);
    return looks_like(cut_of(a, Direction::up, middle), cut_of(b, Direction::up, middle));
  });
}

}  // namespace coldbay
