#include "tools/study/climates.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "geometry/air_cavities.hpp"
#include "geometry/grid_lines.hpp"
#include "geometry/rasterise.hpp"
#include "solver/air_loops/moving_air.hpp"
#include "solver/parallel.hpp"
#include "solver/results/heat_flow.hpp"
#include "solver/results/surface.hpp"
#include "solver/settle.hpp"

namespace coldbay {
namespace {

/// Of what is asked for, what the steps from climate to climate may take; the fine grid has the rest, of
/// which it mostly needs little.
constexpr double of_steps = 0.7;

/// Places held back, of the ranges inside and outside: the first ones of Halton's, in bases 2 and 3.
constexpr std::array<std::array<double, 2>, 10> held_back{{{1.0 / 2, 1.0 / 3},
                                                           {1.0 / 4, 2.0 / 3},
                                                           {3.0 / 4, 1.0 / 9},
                                                           {1.0 / 8, 4.0 / 9},
                                                           {5.0 / 8, 7.0 / 9},
                                                           {3.0 / 8, 2.0 / 9},
                                                           {7.0 / 8, 5.0 / 9},
                                                           {1.0 / 16, 8.0 / 9},
                                                           {9.0 / 16, 1.0 / 27},
                                                           {5.0 / 16, 10.0 / 27}}};

constexpr std::size_t means = 3;  ///< points along the mean temperature

double along(Span s, double share) { return s.from + share * s.length(); }

/// Lagrange's polynomials on 0, 1, ... n - 1.
std::vector<double> lagrange(double x, std::size_t n) {
  std::vector<double> w(n, 1.0);
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j)
      if (j != i) w[i] *= (x - static_cast<double>(j)) / (static_cast<double>(i) - static_cast<double>(j));
  return w;
}

bool can_be_known(const Section& section, const Surroundings& air) {
  return !air.left && !air.right && air.by_height.empty() &&
         std::none_of(section.shapes.begin(), section.shapes.end(),
                      [](const Shape& s) { return s.held.has_value(); });
}

}  // namespace

/// A section painted on one grid, to be solved on it in any climate.
struct SectionClimates::Grid {
  const Section& section;
  Surroundings air;
  Painting painting;
  AirSpaces spaces;

  Grid(const Section& s, Surroundings a, const GridLines& lines)
      : section(s),
        air(std::move(a)),
        painting(paint(s, lines.across, lines.depth)),
        spaces(find_air_spaces(s, painting)) {}

  Numbers solve(Airs airs) const {
    Surroundings here = air;
    here.inside.temperature = airs.inside;
    here.outside.temperature = airs.outside;
    AirSpaces own = spaces;
    const Settled found = settle(section, painting, here, own, {});
    const SurfaceProfile face = room_face(found.grid, here, found.field);
    const auto factor = [&](double celsius) { return (celsius - airs.outside) / airs.difference(); };
    const auto [low, high] = std::minmax_element(face.celsius.begin(), face.celsius.end());
    const double a = factor(*low), b = factor(*high);
    return {heat_flows(found.grid, here, found.field).inside / airs.difference(), std::min(a, b),
            std::max(a, b)};
  }

  /// In several, whatever the threads.
  std::vector<Numbers> solve(const std::vector<Airs>& climates) const {
    std::vector<Numbers> all(climates.size());
    const Index cells = painting.across.cells() * painting.depth.cells();
    in_parallel(std::ssize(climates), std::ssize(climates) * cells, [&](Index i) {
      all[static_cast<std::size_t>(i)] = solve(climates[static_cast<std::size_t>(i)]);
    });
    return all;
  }
};

SectionClimates::SectionClimates(const Section& section, const Surroundings& air, const ClimateRange& range,
                                 const Accuracy& accuracy)
    : range_(range),
      differences_{range.inside.from - range.outside.to, range.inside.to - range.outside.from},
      means_{0.5 * (range.inside.from + range.outside.from), 0.5 * (range.inside.to + range.outside.to)},
      accuracy_(accuracy),
      width_(section.width) {
  if (!can_be_known(section, air)) return;
  const bool reversed = range.outside.to > range.inside.from;
  const Span in = range.inside, out = range.outside;
  const Airs reference = reversed ? Airs{in.from, out.to} : Airs{in.to, out.from},
             nearest = reversed ? Airs{in.to, out.from} : Airs{in.from, out.to};
  Surroundings there = air;
  there.inside.temperature = reference.inside;
  there.outside.temperature = reference.outside;

  // 1. What halving the cells changes of the step to other climates: to where the difference is least,
  //    and to another mean.
  const GridLines lines = grid_lines(section, 8.0, SolverOptions{}.max_cells);
  const Grid small(section, air, lines), half(section, air, {bisected(lines.across), bisected(lines.depth)});
  const std::vector<Airs> corners{reference, nearest, {in.from, out.from}};
  const std::vector<Numbers> of_small = small.solve(corners), of_half = half.solve(corners);
  Off steps;
  for (std::size_t c = 1; c < corners.size(); ++c) {
    const Numbers &s = of_small[c], &s0 = of_small[0], &h = of_half[c], &h0 = of_half[0];
    steps.heat = std::max(
        steps.heat, 2.0 * std::abs(h.conductance / h0.conductance / (s.conductance / s0.conductance) - 1.0));
    steps.face = std::max({steps.face, 2.0 * std::abs((h.least - h0.least) - (s.least - s0.least)),
                           2.0 * std::abs((h.most - h0.most) - (s.most - s0.most))});
  }

  // 2. The other climates, step by step.
  const double kelvin = std::abs(reference.difference());
  const Off most{of_steps * accuracy.heat, of_steps * accuracy.surface / kelvin};
  const auto found = interpolate_between(small, of_small[0], steps, most);
  if (!found) return;

  // 3. Where the difference is largest, on a fine grid; once more, where all is too much in sum.
  const Accuracy left{accuracy.heat - found->heat, accuracy.surface - found->face * kelvin};
  for (const Accuracy& asked : {accuracy, left}) {
    const Forecast fine = forecast(section, there, {}, asked);
    const Results& r = fine.results;
    if (!fine.reached || !r.u_value || r.loop || r.loop_left_out || r.flow_unlimited) break;
    off_ = {found->heat + std::abs(r.heat_flow_uncertainty / r.heat_flow),
            found->face + r.surface_uncertainty / kelvin};
    if (off_.heat > accuracy.heat || off_.face * kelvin > accuracy.surface) continue;
    const auto [low, high] = std::minmax_element(r.profile.celsius.begin(), r.profile.celsius.end());
    const double a = (*low - reference.outside) / reference.difference(),
                 b = (*high - reference.outside) / reference.difference();
    fine_ = {r.heat_flow / reference.difference(), std::min(a, b), std::max(a, b)};
    return;
  }
  n_ = 0;
}

std::optional<SectionClimates::Off> SectionClimates::interpolate_between(const Grid& grid,
                                                                         const Numbers& reference,
                                                                         const Off& steps, const Off& most) {
  const auto step = [&](const Numbers& n) {
    return Numbers{n.conductance / reference.conductance, n.least - reference.least, n.most - reference.most};
  };
  std::vector<Airs> held_at(held_back.size());
  std::transform(held_back.begin(), held_back.end(), held_at.begin(), [&](const auto& place) {
    return Airs{along(range_.inside, place[0]), along(range_.outside, place[1])};
  });
  const std::vector<Numbers> held = grid.solve(held_at);
  constexpr std::array<std::size_t, 4> grids{5, 9, 17, 33};
  for (const std::size_t n : grids) {
    // Of 2 n - 1 differences every other one is one of n.
    const std::vector<Numbers> before = std::move(points_);
    const auto known = [&](std::size_t i) { return !before.empty() && i % 2 == 0; };
    const auto share = [](std::size_t i, std::size_t of) {
      return static_cast<double>(i) / static_cast<double>(of - 1);
    };
    std::vector<Airs> climates;
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < means && !known(i); ++j) {
        const double difference = along(differences_, share(i, n)), mean = along(means_, share(j, means));
        climates.push_back({mean + 0.5 * difference, mean - 0.5 * difference});
      }
    const std::vector<Numbers> more = grid.solve(climates);
    points_.clear();
    std::size_t next = 0;
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < means; ++j)
        points_.push_back(known(i) ? before[means * (i / 2) + j] : step(more[next++]));
    n_ = n;
    Off off = steps;
    for (std::size_t h = 0; h < held.size(); ++h) {
      const Numbers is = step(held[h]), was = between(held_at[h]);
      off.heat = std::max(off.heat, steps.heat + 2.0 * std::abs(was.conductance / is.conductance - 1.0));
      off.face = std::max({off.face, steps.face + 2.0 * std::abs(was.least - is.least),
                           steps.face + 2.0 * std::abs(was.most - is.most)});
    }
    if (off.heat <= most.heat && off.face <= most.face) return off;
  }
  n_ = 0;
  return std::nullopt;
}

SectionClimates::Numbers SectionClimates::between(Airs airs) const {
  const auto place = [](Span s, double t, std::size_t n) {
    return s.length() > 0.0 ? (t - s.from) / s.length() * static_cast<double>(n - 1) : 0.0;
  };
  // Along the difference four points about the place, so that a bend stays where it is.
  constexpr std::size_t about = 4;
  const double x = place(differences_, airs.difference(), n_),
               y = place(means_, 0.5 * (airs.inside + airs.outside), means);
  const std::size_t first =
      std::min(n_ - about, static_cast<std::size_t>(std::max(0.0, std::floor(x) - 1.0)));
  const std::vector<double> wx = lagrange(x - static_cast<double>(first), about), wy = lagrange(y, means);
  Numbers sum;
  for (std::size_t i = 0; i < about; ++i)
    for (std::size_t j = 0; j < means; ++j) {
      const Numbers& p = points_[means * (first + i) + j];
      const double w = wx[i] * wy[j];
      sum.conductance += w * p.conductance;
      sum.least += w * p.least;
      sum.most += w * p.most;
    }
  return sum;
}

std::optional<Results> SectionClimates::in(Airs airs) const {
  if (n_ == 0 || airs.inside < range_.inside.from || airs.inside > range_.inside.to ||
      airs.outside < range_.outside.from || airs.outside > range_.outside.to)
    return std::nullopt;
  const Numbers step = between(airs);
  const double kelvin = airs.difference(), conductance = fine_.conductance * step.conductance;
  const auto celsius = [&](double factor) { return airs.outside + kelvin * factor; };
  Results r;
  r.heat_flow = conductance * kelvin;
  r.heat_flow_uncertainty = off_.heat * std::abs(r.heat_flow);
  r.u_value = conductance / width_;
  r.u_value_uncertainty = off_.heat * *r.u_value;
  r.surface_uncertainty = off_.face * std::abs(kelvin);
  if (off_.heat > accuracy_.heat || r.surface_uncertainty > accuracy_.surface) return std::nullopt;
  r.temperature_factor = fine_.least + step.least;
  r.reversed = kelvin < 0.0;
  r.extreme = celsius(*r.temperature_factor);
  r.coldest = r.reversed ? celsius(fine_.most + step.most) : r.extreme;
  return r;
}

}  // namespace coldbay
