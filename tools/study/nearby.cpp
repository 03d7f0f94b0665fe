#include "tools/study/nearby.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/air_cavities.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "geometry/section_stretch.hpp"
#include "solver/block/windows.hpp"
#include "tools/study/part_decay.hpp"

namespace coldbay {
namespace {

/// How what is asked for is shared out: the rest of the heat is for what is cut off.
struct Shares {
  double heat, surface;
};
constexpr Shares of_whole{0.3, 0.4}, of_cut_out{0.2, 0.15}, of_changed{0.4, 0.45};

double heat_over(const SurfaceProfile& face, Span across) {
  double heat = 0.0;
  for (std::size_t i = 0; i < face.across.size(); ++i)
    if (face.across[i] >= across.from && face.across[i] <= across.to)
      heat += face.heat_flux[i] * face.width[i];
  return heat;
}

void move_by(SurfaceProfile& face, double by) {
  for (double& x : face.across) x += by;
}

/// As read_case() tries a section: what only drawing shows.
bool can_be_drawn(const Section& section, const Surroundings& air) {
  constexpr double plain = 2.0;
  const GridLines lines = grid_lines(section, plain, SolverOptions{}.max_cells);
  const Painting painting = paint(section, lines.across, lines.depth);
  return open_air_spaces(section, air, painting, find_air_spaces(section, painting)).empty();
}

bool parts_make_the_whole(const Section& s) {
  if (s.parts.empty() || s.parts.front().across.from != 0.0) return false;
  for (std::size_t p = 1; p < s.parts.size(); ++p)
    if (s.parts[p].across.from != s.parts[p - 1].across.to) return false;
  return std::abs(s.parts.back().across.to - s.width) < 1e-9;
}

}  // namespace

/// The lowest and the highest temperature of stretches of a face, and where.
struct SolvedSection::Extremes {
  double coldest = INFINITY, coldest_at = 0.0, warmest = -INFINITY, warmest_at = 0.0;
  double uncertainty = 0.0;  ///< [K]
  void see(double celsius, double at) {
    if (celsius < coldest) {
      coldest = celsius;
      coldest_at = at;
    }
    if (celsius > warmest) {
      warmest = celsius;
      warmest_at = at;
    }
  }
};

/// Which parts another section changes, and where both are cut.
struct SolvedSection::Ends {
  std::size_t first = 0, behind = 0;  ///< of the parts of this section that change
  Span own, own_there;                ///< what changes, here and in the other [m]
  double left = 0.0, right = 0.0;     ///< beside that on either side [m]
  bool same = false;                  ///< nothing changes
  Span window() const { return {own.from - left, own.to + right}; }
  Span window_there() const { return {own_there.from - left, own_there.to + right}; }
};

SolvedSection::SolvedSection(Section section, const Surroundings& air, const Accuracy& accuracy)
    : section_(std::move(section)), accuracy_(accuracy), air_(air) {
  if (air.left || air.right || !parts_make_the_whole(section_)) return;
  if (section_.cut == CutKind::vertical && !air.by_height.empty()) return;
  if (std::any_of(section_.shapes.begin(), section_.shapes.end(),
                  [](const Shape& s) { return s.held.has_value(); }))
    return;
  const Forecast f =
      forecast(section_, air, {}, {of_whole.heat * accuracy.heat, of_whole.surface * accuracy.surface});
  whole_ = f.results;
  usable_ = f.reached && whole_.u_value && !whole_.loop && !whole_.loop_left_out && !whole_.flow_unlimited;
  if (usable_)
    for (const FacePart& part : section_.parts) decay_.push_back(slowest_decay(section_, part.clear, air));
}

std::optional<SolvedSection::Ends> SolvedSection::ends_of(const Section& other) const {
  const std::size_t n = section_.parts.size(), m = other.parts.size();
  const auto same = [&](std::size_t p, std::size_t q) {
    return show_the_same(stretch_of(section_, section_.parts[p].across),
                         stretch_of(other, other.parts[q].across));
  };
  Ends e;
  while (e.first < std::min(n, m) && same(e.first, e.first)) ++e.first;
  if (e.first == n && n == m) {
    e.same = true;
    return e;
  }
  std::size_t after = 0;
  while (after < std::min(n, m) - e.first && same(n - 1 - after, m - 1 - after)) ++after;
  e.behind = n - after;
  if (e.first == e.behind || e.first + after == m) return std::nullopt;  // parts that are there or not at all
  e.own = {section_.parts[e.first].across.from, section_.parts[e.behind - 1].across.to};
  e.own_there = {other.parts[e.first].across.from, other.parts[m - 1 - after].across.to};

  // Of the heat, what comes to a cut and back falls out; of the face, once is enough to be seen.
  const double kelvin = std::abs(air_.inside.temperature - air_.outside.temperature);
  constexpr double lengths_for_heat = 4.0, at_most = 0.25, of_allowed = 0.25;
  const double lengths =
      std::max(lengths_for_heat, std::log(at_most * kelvin / (of_allowed * accuracy_.surface)));
  e.left = beside(section_.parts, decay_, e.first, true, lengths);
  e.right = beside(section_.parts, decay_, e.behind, false, lengths);
  // An air space that goes on from the stretch beyond the cut would be another one, cut.
  for (const Section* s : {&section_, &other}) {
    const Span own = s == &section_ ? e.own : e.own_there;
    for (const Shape& shape : s->shapes) {
      if (!s->materials[shape.material].is_air_space) continue;
      const Span across = bounding_box(shape.outline).across;
      if (across.to > own.from && across.from < own.to &&
          ((e.left < own.from && across.from < own.from - e.left) ||
           (own.to + e.right < s->width && across.to > own.to + e.right)))
        return std::nullopt;
    }
  }
  return e;
}

/// What a window is to be known to, so that of the whole it is a share of what is asked for.
Accuracy SolvedSection::share_of(Span window, double heat, double surface) const {
  const double times = std::abs(whole_.heat_flow / heat_over(whole_.profile, window));
  constexpr double coarsest = 0.01;  // as a case may ask for
  return {std::min(coarsest, heat * accuracy_.heat * times), surface * accuracy_.surface};
}

SolvedSection::Stretch SolvedSection::cut_out(const Ends& ends) const {
  const Span window = ends.window();
  const Forecast f =
      forecast(stretch_of(section_, window), air_, {}, share_of(window, of_cut_out.heat, of_cut_out.surface));
  Stretch s{f.results.heat_flow, f.results.heat_flow_uncertainty, f.results.profile,
            f.results.surface_uncertainty, 0.0};
  move_by(s.face, window.from);
  for (std::size_t i = 0; i < s.face.across.size(); ++i) {
    const double x = s.face.across[i];
    if (x >= ends.own.from && x <= ends.own.to)
      s.by_cutting = std::max(s.by_cutting, std::abs(s.face.celsius[i] - celsius_at(whole_.profile, x)));
  }
  return s;
}

const SolvedSection::Stretch& SolvedSection::stretch(const Ends& ends) {
  const std::lock_guard lock(mutex_);
  const Span window = ends.window();
  auto [at, is_new] = known_.try_emplace({window.from, window.to});
  if (is_new) try {
      at->second = cut_out(ends);
    } catch (...) {
      known_.erase(at);
      throw;
    }
  return at->second;
}

/// The face beyond the window, moved to where it is in the other section.
SolvedSection::Extremes SolvedSection::beyond(const Ends& ends) const {
  Extremes e;
  for (std::size_t i = 0; i < whole_.profile.across.size(); ++i) {
    const double x = whole_.profile.across[i];
    if (x < ends.window().from || x > ends.window().to)
      e.see(whole_.profile.celsius[i], x > ends.own.to ? x + ends.own_there.to - ends.own.to : x);
  }
  return e;
}

/// The face in the window: where nothing is changed what cutting does is taken off.
SolvedSection::Extremes SolvedSection::within(const Ends& ends, const Stretch& before,
                                              const Results& changed) const {
  Extremes e;
  const SurfaceProfile& now = changed.profile;
  for (std::size_t i = 0; i < now.across.size(); ++i) {
    const double there = now.across[i] + ends.window_there().from;
    const bool on_left = there<ends.own_there.from, on_right = there> ends.own_there.to;
    const double here = on_right ? there - ends.own_there.to + ends.own.to : there;
    const double by_cut =
        on_left || on_right ? celsius_at(whole_.profile, here) - celsius_at(before.face, here) : 0.0;
    e.see(now.celsius[i] + by_cut, there);
  }
  e.uncertainty = changed.surface_uncertainty +
                  std::max(before.by_cutting, whole_.surface_uncertainty + before.surface_uncertainty);
  return e;
}

bool SolvedSection::extreme_beyond(const Ends& ends, const Stretch& before, const Results& changed,
                                   Results& out) const {
  if (air_.outside.temperature > air_.inside.temperature) return false;
  const Extremes there = beyond(ends), here = within(ends, before, changed);
  if (there.coldest + whole_.surface_uncertainty > here.coldest - here.uncertainty) return false;
  out.coldest = out.extreme = there.coldest;
  out.coldest_at = out.extreme_at = there.coldest_at;
  out.surface_uncertainty = whole_.surface_uncertainty;
  return true;
}

void SolvedSection::extreme_within(const Ends& ends, const Stretch& before, const Results& changed,
                                   Results& out) const {
  const Extremes there = beyond(ends), here = within(ends, before, changed);
  const bool reversed = air_.outside.temperature > air_.inside.temperature;
  const Extremes &cold = here.coldest < there.coldest ? here : there,
                 &warm = here.warmest > there.warmest ? here : there;
  out.coldest = cold.coldest;
  out.coldest_at = cold.coldest_at;
  out.reversed = reversed;
  out.extreme = reversed ? warm.warmest : cold.coldest;
  out.extreme_at = reversed ? warm.warmest_at : cold.coldest_at;
  out.surface_uncertainty = std::max(here.uncertainty, whole_.surface_uncertainty);
}

std::optional<Results> SolvedSection::like(const Section& other) {
  if (!usable_ || other.depth != section_.depth || !parts_make_the_whole(other)) return std::nullopt;
  // 1. What changes, and what is known of it.
  const std::optional<Ends> ends = ends_of(other);
  if (!ends) return std::nullopt;
  if (ends->same) return whole_;
  const Stretch& before = stretch(*ends);

  // 2. The stretch as it is now; its face no better than to see that it is not where the extreme is.
  const Span window = ends->window_there();
  const Section changed = stretch_of(other, window);
  if (!can_be_drawn(changed, air_)) return std::nullopt;
  constexpr double unasked = 1e3;  // [K]
  Accuracy asked = share_of(ends->window(), of_changed.heat, of_changed.surface);
  const double finer = std::exchange(asked.surface, unasked);
  const auto sound = [](const Forecast& f) {
    return f.reached && !f.results.loop && !f.results.loop_left_out && f.results.u_value;
  };
  Forecast f = forecast(changed, air_, {}, asked);
  if (!sound(f)) return std::nullopt;
  Results r;
  if (!extreme_beyond(*ends, before, f.results, r)) {
    if (accuracy_.surface < unasked) {
      asked.surface = finer;
      f = forecast(changed, air_, {}, asked);
      if (!sound(f)) return std::nullopt;
    }
    extreme_within(*ends, before, f.results, r);
  }
  if (r.surface_uncertainty > accuracy_.surface) return std::nullopt;

  // 3. The heat, and what may have been lost of it beyond the cuts.
  r.heat_flow = whole_.heat_flow + f.results.heat_flow - before.heat;
  r.flows.inside = r.heat_flow;
  r.flows.outside = -r.heat_flow;
  const SurfaceProfile& now = f.results.profile;
  const double left = ends->first > 0 ? std::abs(now.heat_flux.front() - before.face.heat_flux.front()) : 0.0,
               right = ends->behind < decay_.size()
                           ? std::abs(now.heat_flux.back() - before.face.heat_flux.back())
                           : 0.0;
  const double slowest = *std::max_element(decay_.begin(), decay_.end());
  r.heat_flow_uncertainty = whole_.heat_flow_uncertainty + before.uncertainty +
                            f.results.heat_flow_uncertainty + 2.0 * slowest * (left + right);
  if (r.heat_flow_uncertainty > accuracy_.heat * std::abs(r.heat_flow)) return std::nullopt;
  const double T_out = air_.outside.temperature, kelvin = air_.inside.temperature - T_out;
  r.u_value = r.heat_flow / (other.width * kelvin);
  r.u_value_uncertainty = r.heat_flow_uncertainty / (other.width * std::abs(kelvin));

  r.temperature_factor = (r.extreme - T_out) / kelvin;
  return r;
}

}  // namespace coldbay
