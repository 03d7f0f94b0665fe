#include "solver/air_loops/loop_of_bay.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/wall/build.hpp"
#include "geometry/wall/fill.hpp"
#include "solver/air_loops/still_column.hpp"

namespace coldbay {
namespace {

constexpr double same_place = 1e-7;  ///< rounding of inches and millimetres [m]

/// A space of a bay and the stretch of its height in which the fill lies.
struct Space {
  Region at;
  Span fill;
  double bottom = 0.0, top = 0.0;  ///< what the fill's ends leave open [m]
};

/// What a line through the wall meets, where it is the same over a stretch across.
struct Strip {
  double from = 0.0, width = 0.0;
  std::vector<StillLayer> layers;
  std::size_t first = 0, last = 0;  ///< of the fill, in layers
  double room_gap = 0.0, sheathing_gap = 0.0;
  bool open = false;  ///< no fill at all
};

double resistance(const std::vector<StillLayer>& layers, std::size_t from, std::size_t to) {
  double sum = 0.0;
  for (std::size_t i = from; i < to; ++i) sum += layers[i].resistance;
  return sum;
}

/// The air before and behind the fill of a strip; none where it touches.
const StillLayer* air_before(const Strip& s) {
  return s.first > 0 && s.layers[s.first - 1].is_air() ? &s.layers[s.first - 1] : nullptr;
}
const StillLayer* air_behind(const Strip& s) {
  return s.last + 1 < s.layers.size() && s.layers[s.last + 1].is_air() ? &s.layers[s.last + 1] : nullptr;
}

double batt_resistance(const Strip& s) { return s.open ? 0.0 : resistance(s.layers, s.first, s.last + 1); }

bool alike(const Strip& a, const Strip& b) {
  const auto near = [](double x, double y) { return std::abs(x - y) < same_place; };
  return a.open == b.open && near(a.room_gap, b.room_gap) && near(a.sheathing_gap, b.sheathing_gap) &&
         std::abs(batt_resistance(a) - batt_resistance(b)) < 1e-6;
}

bool alike(const std::vector<Strip>& a, const std::vector<Strip>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Strip& p, const Strip& q) {
    return std::abs(p.width - q.width) < same_place && alike(p, q);
  });
}

/// The fill between lining and sheathing, and the air before and behind it. Flanges of steel lie against the
/// lining and the sheathing, and count as part of them.
void find_fill(Strip& strip, Span frame) {
  strip.open = true;
  for (std::size_t i = 0; i < strip.layers.size(); ++i) {
    const StillLayer& layer = strip.layers[i];
    const bool inside = layer.depth.from > frame.from - same_place && layer.depth.to < frame.to + same_place;
    if (!inside || layer.is_air() || layer.piece->role == Piece::Role::frame) continue;
    if (strip.open) strip.first = i;
    strip.last = i;
    strip.open = false;
  }
  if (strip.open) return;
  const auto gap = [&](const StillLayer* air) {
    const bool inside =
        air && air->depth.from > frame.from - same_place && air->depth.to < frame.to + same_place;
    return inside ? air->depth.length() : 0.0;
  };
  strip.room_gap = gap(air_before(strip));
  strip.sheathing_gap = gap(air_behind(strip));
}

/// Places across where what a line meets may change.
std::vector<double> places(const std::vector<const Piece*>& pieces, Span clear) {
  constexpr double finest = 0.005;  ///< along slanted and curved edges [m]
  std::vector<double> at{clear.from, clear.to};
  for (const Piece* p : pieces) {
    const Span s = extent(*p, Direction::across);
    const bool straight = p->along == Direction::across || std::holds_alternative<Rectangle>(p->outline);
    const int n = straight ? 1 : static_cast<int>(std::ceil(s.length() / finest));
    for (int i = 0; i <= n; ++i) at.push_back(s.from + s.length() * i / n);
  }
  std::erase_if(at, [&](double x) { return x < clear.from || x > clear.to; });
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end(), [](double a, double b) { return b - a < same_place; }),
           at.end());
  return at;
}

std::vector<Strip> strips_at(const std::vector<const Piece*>& pieces, const Space& space,
                             const Surroundings& air, double up) {
  Exchange inside = air.inside;
  inside.temperature = mean_room_temperature(air, space.fill);
  const std::vector<double> at = places(pieces, space.at.across);
  std::vector<Strip> strips;
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    Strip s;
    s.from = at[i];
    s.width = at[i + 1] - at[i];
    s.layers =
        still_column(met_at(pieces, 0.5 * (at[i] + at[i + 1]), up), space.at.depth, inside, air.outside);
    find_fill(s, space.at.depth);
    if (!strips.empty() && alike(strips.back(), s))
      strips.back().width += s.width;
    else
      strips.push_back(std::move(s));
  }
  return strips;
}

/// The strips that most of the height of the fill shows.
std::vector<Strip> usual_strips(const BuiltWall& built, const Space& space, const Surroundings& air) {
  const std::vector<const Piece*> pieces = pieces_within(built, space.at.across, space.fill);
  std::vector<double> heights{space.fill.from, space.fill.to};
  for (const Piece* p : pieces) {
    const Span s = extent(*p, Direction::up);
    heights.insert(heights.end(), {s.from, s.to});
  }
  std::erase_if(heights, [&](double z) { return z < space.fill.from || z > space.fill.to; });
  std::sort(heights.begin(), heights.end());
  struct Kind {
    std::vector<Strip> strips;
    double height = 0.0;
  };
  std::vector<Kind> kinds;
  for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
    const double height = heights[i + 1] - heights[i];
    if (height < same_place) continue;
    std::vector<Strip> strips = strips_at(pieces, space, air, 0.5 * (heights[i] + heights[i + 1]));
    const auto like =
        std::find_if(kinds.begin(), kinds.end(), [&](const Kind& k) { return alike(k.strips, strips); });
    if (like == kinds.end())
      kinds.push_back({std::move(strips), height});
    else
      like->height += height;
  }
  if (kinds.empty()) return {};
  return std::move(std::max_element(kinds.begin(), kinds.end(), [](const Kind& a, const Kind& b) {
                     return a.height < b.height;
                   })->strips);
}

/// The spaces that a bay is parted into by its opening, or by blocking, which ends lie against.
std::vector<Space> spaces_of(const Wall& wall, const BuiltWall& built, const Bay& bay,
                             const BayPlace& place) {
  const Region whole{place.clear, place.up, built.frame};
  std::vector<Space> spaces;
  for (const Region& region :
       bay.opening ? round_opening(wall, *bay.opening, whole) : std::vector<Region>{whole}) {
    const std::vector<Laid> laid = laid_fills(bay, region);
    if (laid.empty()) continue;
    const Span fill = laid.front().at.up;
    const auto filled = [&](BayEnd end) {
      return bay.short_end && bay.short_end->filled && bay.short_end->at == end ? bay.short_end->by : 0.0;
    };
    const auto open = [](double height) { return height > same_place ? height : 0.0; };
    spaces.push_back({region, fill, open(fill.from - region.up.from - filled(BayEnd::bottom)),
                      open(region.up.to - fill.to - filled(BayEnd::top))});
  }
  if (bay.opening) return spaces;
  std::vector<double> blocking = wall.frame.blocking;
  std::sort(blocking.begin(), blocking.end());
  for (const double middle : blocking) {
    const double half = 0.5 * wall.frame.member_width;
    Space above = spaces.back(), &below = spaces.back();
    if (middle + half <= below.fill.from || middle - half >= below.fill.to) continue;
    below.at.up.to = below.fill.to = middle - half;
    above.at.up.from = above.fill.from = middle + half;
    below.top = above.bottom = 0.0;
    spaces.push_back(above);
  }
  return spaces;
}

/// Of the fill in a strip: all of it in series, airtight where a part of it is.
double permeability_of(const Strip& strip, const Surroundings& air) {
  double resists = 0.0, thickness = 0.0;
  for (std::size_t i = strip.first; i <= strip.last; ++i) {
    const StillLayer& layer = strip.layers[i];
    if (layer.is_air()) continue;
    if (!layer.piece->material.airflow_resistivity) return 0.0;
    resists += *layer.piece->material.airflow_resistivity * layer.depth.length();
    thickness += layer.depth.length();
  }
  return permeability(resists / thickness, dry_air(0.5 * (air.inside.temperature + air.outside.temperature)));
}

/// What is open from face to face, by the side it is nearer to; joints side by side carry as the cubes.
void add_joint(BayLoop& loop, const Strip& strip, const Space& space, const Bay& bay) {
  const double middle = 0.5 * (space.at.across.from + space.at.across.to);
  const bool left = strip.from + 0.5 * strip.width < middle;
  if (bay.flange_stretched && bay.strip == (left ? Side::left : Side::right)) return;
  double& joint = left ? loop.left_joint : loop.right_joint;
  joint = std::cbrt(joint * joint * joint + strip.width * strip.width * strip.width);
}

std::optional<BayLoop> loop_of(const std::vector<Strip>& strips, const Space& space, const Bay& bay,
                               const Surroundings& air) {
  const Strip* widest = nullptr;
  BayLoop loop;
  for (const Strip& s : strips) {
    if (s.open) {
      add_joint(loop, s, space, bay);
      continue;
    }
    loop.strips.push_back({s.width, s.room_gap, s.sheathing_gap, batt_resistance(s)});
    if (!widest || s.width > widest->width) widest = &s;
    if (s.room_gap > 0.0) loop.room_radiation = std::max(loop.room_radiation, air_before(s)->radiation);
    if (s.sheathing_gap > 0.0)
      loop.sheathing_radiation = std::max(loop.sheathing_radiation, air_behind(s)->radiation);
  }
  if (!widest) return {};
  const std::vector<StillLayer>& layers = widest->layers;
  const std::size_t before = widest->first - (widest->room_gap > 0.0 ? 1 : 0),
                    behind = widest->last + (widest->sheathing_gap > 0.0 ? 2 : 1);
  loop.inside_resistance = air.inside.film + resistance(layers, 0, before);
  loop.outside_resistance = air.outside.film + resistance(layers, behind, layers.size());
  loop.path = layers[widest->last].depth.to - layers[widest->first].depth.from;
  loop.height = space.fill.length();
  loop.bottom_slot = space.bottom;
  loop.top_slot = space.top;
  loop.permeability = permeability_of(*widest, air);
  loop.inside = mean_room_temperature(air, space.fill);
  loop.outside = air.outside.temperature;
  return loop;
}

}  // namespace

std::vector<BayLoop> loops_of_bay(const Wall& wall, const BuiltWall& built, std::size_t bay_index,
                                  const Surroundings& air) {
  const Bay& bay = wall.bays[bay_index];
  std::vector<BayLoop> loops;
  if (bay.fills.empty() || bay.scraps) return loops;
  for (const Space& space : spaces_of(wall, built, bay, built.bays[bay_index])) {
    if (!(space.fill.length() > same_place)) continue;
    if (const auto loop = loop_of(usual_strips(built, space, air), space, bay, air)) loops.push_back(*loop);
  }
  return loops;
}

}  // namespace coldbay
