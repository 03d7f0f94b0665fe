#include "tools/study/climates.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
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

/// How what is asked for is shared out, to each of the two at most.
constexpr double of_fine_grid = 0.75, of_climates = 0.25;

/// Points held back, on [-1, 1] either way: between those of every grid of points.
constexpr std::array<std::array<double, 2>, 6> held_back{
    {{-0.85, 0.5}, {0.5, 0.85}, {0.85, -0.5}, {-0.5, -0.85}, {0.2, -0.2}, {-0.55, 0.55}}};

/// Chebyshev's extreme points, from -1 to 1; every other one of 2 n - 1 is one of n.
double point(std::size_t i, std::size_t n) {
  return -std::cos(std::numbers::pi * static_cast<double>(i) / static_cast<double>(n - 1));
}

/// Values of Lagrange's polynomials on those points, by their barycentric form [Berrut2004].
std::vector<double> weights(double x, std::size_t n) {
  std::vector<double> w(n);
  double sum = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    if (x == point(i, n)) {
      std::fill(w.begin(), w.end(), 0.0);
      w[i] = 1.0;
      return w;
    }
    const double half = i == 0 || i + 1 == n ? 0.5 : 1.0;
    w[i] = (i % 2 == 0 ? half : -half) / (x - point(i, n));
    sum += w[i];
  }
  for (double& v : w) v /= sum;
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

Airs SectionClimates::at(double x, double y) const {
  const auto on = [](Span s, double t) { return 0.5 * (s.from + s.to) + 0.5 * t * s.length(); };
  return {on(range_.inside, x), on(range_.outside, y)};
}

SectionClimates::SectionClimates(const Section& section, const Surroundings& air, const ClimateRange& range,
                                 const Accuracy& accuracy)
    : range_(range), accuracy_(accuracy), width_(section.width) {
  if (!can_be_known(section, air)) return;
  // 1. Where the difference is largest, on a fine grid.
  const bool reversed = range.outside.to > range.inside.from;
  const double corner = reversed ? -1.0 : 1.0;
  const Airs reference = at(corner, -corner);
  Surroundings there = air;
  there.inside.temperature = reference.inside;
  there.outside.temperature = reference.outside;
  const Forecast fine =
      forecast(section, there, {}, {of_fine_grid * accuracy.heat, of_fine_grid * accuracy.surface});
  const Results& r = fine.results;
  if (!fine.reached || !r.u_value || r.loop || r.loop_left_out || r.flow_unlimited) return;
  const double kelvin = reference.difference();
  const auto [low, high] = std::minmax_element(r.profile.celsius.begin(), r.profile.celsius.end());
  const double a = (*low - reference.outside) / kelvin, b = (*high - reference.outside) / kelvin;
  fine_ = {r.heat_flow / kelvin, std::min(a, b), std::max(a, b)};
  heat_off_ = std::abs(r.heat_flow_uncertainty / r.heat_flow);
  face_off_ = r.surface_uncertainty / std::abs(kelvin);

  // 2. What halving the cells changes of the step to other climates: to where the difference is least,
  //    and to another mean.
  const GridLines lines = grid_lines(section, 8.0, SolverOptions{}.max_cells);
  const Grid small(section, air, lines), half(section, air, {bisected(lines.across), bisected(lines.depth)});
  const std::vector<Airs> corners{reference, at(-corner, corner), at(-corner, -corner)};
  const std::vector<Numbers> of_small = small.solve(corners), of_half = half.solve(corners);
  double heat = 0.0, face = 0.0;
  for (std::size_t c = 1; c < corners.size(); ++c) {
    const Numbers &s = of_small[c], &s0 = of_small[0], &h = of_half[c], &h0 = of_half[0];
    heat = std::max(heat, std::abs(h.conductance / h0.conductance / (s.conductance / s0.conductance) - 1.0));
    face = std::max({face, std::abs((h.least - h0.least) - (s.least - s0.least)),
                     std::abs((h.most - h0.most) - (s.most - s0.most))});
  }
  heat_off_ += 2.0 * heat;
  face_off_ += 2.0 * face;

  // 3. The other climates, step by step.
  interpolate_between(small, of_small[0], std::abs(kelvin));
}

void SectionClimates::interpolate_between(const Grid& grid, const Numbers& reference, double kelvin) {
  const auto step = [&](const Numbers& n) {
    return Numbers{n.conductance / reference.conductance, n.least - reference.least, n.most - reference.most};
  };
  std::vector<Airs> climates;
  for (const auto& p : held_back) climates.push_back(at(p[0], p[1]));
  const std::vector<Numbers> held = grid.solve(climates);
  std::vector<Numbers> before;
  constexpr std::array<std::size_t, 3> grids{3, 5, 9};
  for (const std::size_t n : grids) {
    // Of 2 n - 1 points each way those at even places are known.
    const auto known = [&](std::size_t i, std::size_t j) {
      return !before.empty() && i % 2 == 0 && j % 2 == 0;
    };
    climates.clear();
    for (std::size_t j = 0; j < n; ++j)
      for (std::size_t i = 0; i < n; ++i)
        if (!known(i, j)) climates.push_back(at(point(i, n), point(j, n)));
    const std::vector<Numbers> more = grid.solve(climates);
    points_.clear();
    std::size_t next = 0;
    for (std::size_t j = 0; j < n; ++j)
      for (std::size_t i = 0; i < n; ++i)
        points_.push_back(known(i, j) ? before[i / 2 + (n + 1) / 2 * (j / 2)] : step(more[next++]));
    before = points_;
    n_ = n;
    double heat = 0.0, face = 0.0;
    for (std::size_t h = 0; h < held.size(); ++h) {
      const Numbers is = step(held[h]), was = between(held_back[h][0], held_back[h][1]);
      heat = std::max(heat, std::abs(was.conductance / is.conductance - 1.0));
      face = std::max({face, std::abs(was.least - is.least), std::abs(was.most - is.most)});
    }
    heat *= 2.0;
    face *= 2.0;
    constexpr double of_interpolation = 0.5 * of_climates;
    if (heat > of_interpolation * accuracy_.heat || face * kelvin > of_interpolation * accuracy_.surface)
      continue;
    heat_off_ += heat;
    face_off_ += face;
    return;
  }
  n_ = 0;
}

SectionClimates::Numbers SectionClimates::between(double x, double y) const {
  const std::vector<double> wx = weights(x, n_), wy = weights(y, n_);
  Numbers sum;
  for (std::size_t j = 0; j < n_; ++j)
    for (std::size_t i = 0; i < n_; ++i) {
      const Numbers& p = points_[i + n_ * j];
      const double w = wx[i] * wy[j];
      sum.conductance += w * p.conductance;
      sum.least += w * p.least;
      sum.most += w * p.most;
    }
  return sum;
}

std::optional<Results> SectionClimates::in(Airs airs) const {
  const auto on = [](Span s, double t) {
    return s.length() > 0.0 ? (2.0 * t - s.from - s.to) / s.length() : 0.0;
  };
  if (n_ == 0 || airs.inside < range_.inside.from || airs.inside > range_.inside.to ||
      airs.outside < range_.outside.from || airs.outside > range_.outside.to)
    return std::nullopt;
  const Numbers step = between(on(range_.inside, airs.inside), on(range_.outside, airs.outside));
  const double kelvin = airs.difference(), conductance = fine_.conductance * step.conductance;
  const auto celsius = [&](double factor) { return airs.outside + kelvin * factor; };
  Results r;
  r.heat_flow = conductance * kelvin;
  r.heat_flow_uncertainty = heat_off_ * std::abs(r.heat_flow);
  r.u_value = conductance / width_;
  r.u_value_uncertainty = heat_off_ * *r.u_value;
  r.surface_uncertainty = face_off_ * std::abs(kelvin);
  if (heat_off_ > accuracy_.heat || r.surface_uncertainty > accuracy_.surface) return std::nullopt;
  r.temperature_factor = fine_.least + step.least;
  r.reversed = kelvin < 0.0;
  r.extreme = celsius(*r.temperature_factor);
  r.coldest = r.reversed ? celsius(fine_.most + step.most) : r.extreme;
  return r;
}

}  // namespace coldbay
