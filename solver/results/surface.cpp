#include "solver/results/surface.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "solver/discretisation.hpp"

namespace coldbay {
namespace {

constexpr std::size_t A = 0, D = 2;  // the axes of a section: across and depth

/// Temperature of a face between two points joined by conductances a and b: where both carry the
/// same heat.
double between(double T_a, double g_a, double T_b, double g_b) {
  return (g_a * T_a + g_b * T_b) / (g_a + g_b);
}

/// A place inside a cell, from 0 at its low faces to 1 at its high ones.
struct InsideCell {
  double across, depth;
};

/// Share of a sampled cell's resistance along axis d that lies between its low face and the point, on
/// the row or column of samples through the point.
double resistance_share(const MixedCell& cell, std::size_t d, InsideCell p) {
  const int n = cell.samples;
  const auto sample = [n](double share) { return std::clamp(static_cast<int>(share * n), 0, n - 1); };
  const double along = d == A ? p.across : p.depth;
  const int line = sample(d == A ? p.depth : p.across), here = sample(along);
  double before = 0.0, total = 0.0;
  for (int s = 0; s < n; ++s) {
    const double R = 1.0 / cell.conductivity[at(d == A ? line * n + s : s * n + line)];
    total += R;
    before += s < here ? R : s == here ? R * (along * n - here) : 0.0;
  }
  return before / total;
}

/// Change of temperature from the centre of a cell to a point in it along axis d: linear to either
/// face, or by the resistances passed where an edge crosses the cell.
double step(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field,
            std::array<Index, 3> ijk, std::size_t d, InsideCell p) {
  const double along = d == A ? p.across : p.depth;
  const Index cell = grid.cell(ijk[0], ijk[1], ijk[2]);
  const double T = field.celsius[at(cell)];
  const auto face = [&](End end) {
    return face_temperature(grid, air, field, ijk, static_cast<Direction>(d), end);
  };
  if (const auto mixed = grid.mixed.find(cell); mixed != grid.mixed.end() && mixed->second.held.empty()) {
    const double low = face(End::low);
    return low + (face(End::high) - low) * resistance_share(mixed->second, d, p) - T;
  }
  return (face(along < 0.5 ? End::low : End::high) - T) * std::abs(2.0 * along - 1.0);
}

/// What is held beside a cell, on the side of a point in it, and how far the point is on the way there from
/// the middle of the cell [0, 1].
struct Approach {
  const HeldCell* held = nullptr;
  double share = 0.0;
};
Approach approach(const ConductivityGrid& grid, const std::array<Index, 3>& ijk, Direction direction,
                  double along) {
  const auto d = static_cast<std::size_t>(direction);
  const End end = along < 0.5 ? End::low : End::high;
  const Index cell = grid.cell(ijk[0], ijk[1], ijk[2]), next = beside(grid, cell, ijk, direction, end);
  const HeldCell* held = next < 0 ? nullptr : held_cell(grid, next);
  if (!held) return {};
  const double passed = std::abs(along - 0.5) * grid.axis[d].width(ijk[d]) / grid.conductivity[d][at(cell)];
  return {held, std::min(1.0, passed / resistance_to_held(grid, cell, direction, end))};
}

/// Temperature at a point inside a free cell. Towards something held it changes in proportion to the way;
/// along its edge, which is at one temperature, what the other axis adds fades out.
double temperature_in(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field,
                      const std::array<Index, 3>& ijk, InsideCell p) {
  const double T = field.celsius[at(grid.cell(ijk[0], ijk[1], ijk[2]))];
  const Approach a = approach(grid, ijk, Direction::across, p.across),
                 d = approach(grid, ijk, Direction::depth, p.depth);
  const double across = a.held ? a.share * (a.held->celsius - T)
                               : (1.0 - d.share) * step(grid, air, field, ijk, A, p),
               depth = d.held ? d.share * (d.held->celsius - T) : step(grid, air, field, ijk, D, p);
  return T + across + (1.0 - a.share) * depth;
}

/// The cells that share x on an axis: one inside a cell, two on an inner edge.
struct Cells {
  Index first, last;
};
Cells cells_sharing(const Axis& axis, double x) {
  const Index i = axis.cell_at(x);
  const double near = 1e-9 * axis.length();
  if (i > 0 && x - axis.edge(i) <= near) return {i - 1, i};
  if (i + 1 < axis.cells() && axis.edge(i + 1) - x <= near) return {i, i + 1};
  return {i, i};
}

/// The temperature that a face is held at, where the point lies on one with a film of 0.
std::optional<double> held_face(const ConductivityGrid& grid, const Surroundings& air, double x, double y) {
  for (const std::size_t d : {D, A}) {
    const double at_point = d == A ? x : y;
    const auto& edges = grid.axis[d].edges();
    for (const End end : {End::low, End::high}) {
      const Exchange* e = exchange_at(air, static_cast<Direction>(d), end);
      if (e && e->film == 0.0 && at_point == (end == End::low ? edges.front() : edges.back()))
        return e == &air.inside ? room_temperature(air, x) : e->temperature;
    }
  }
  return std::nullopt;
}

}  // namespace

namespace {

/// How much warmer radiation from across a gap makes the face between two cells [K].
double by_radiation(const ConductivityGrid& grid, const TemperatureField& field, Index low, Index high,
                    Direction direction) {
  if (const FacingPair* pair = facing_beyond(grid, low, direction, true); pair && pair->low_air == high) {
    const Radiated r = radiated(grid, *pair);
    return -r.conductance * r.difference(field.celsius.data()) / r.at_low;
  }
  if (const FacingPair* pair = facing_beyond(grid, high, direction, false); pair && pair->high_air == low) {
    const Radiated r = radiated(grid, *pair);
    return r.conductance * r.difference(field.celsius.data()) / r.at_high;
  }
  return 0.0;
}

}  // namespace

double face_temperature(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field,
                        const std::array<Index, 3>& ijk, Direction direction, End end) {
  const auto d = static_cast<std::size_t>(direction);
  const Axis& axis = grid.axis[d];
  const auto& k = grid.conductivity[d];
  const Index cell = grid.cell(ijk[0], ijk[1], ijk[2]);
  if (const HeldCell* held = held_cell(grid, cell)) return held->celsius;
  const double T = field.celsius[at(cell)], g = 2.0 * k[at(cell)] / axis.width(ijk[d]);
  const Index next = ijk[d] + (end == End::low ? -1 : 1);
  if (next >= 0 && next < axis.cells()) {
    std::array<Index, 3> other = ijk;
    other[d] = next;
    const Index c = grid.cell(other[0], other[1], other[2]);
    if (const HeldCell* held = held_cell(grid, c)) {  // the edge of what is held may come before the face
      const double share = std::min(1.0, 1.0 / (g * resistance_to_held(grid, cell, direction, end)));
      return T + share * (held->celsius - T);
    }
    const double T_face = between(T, g, field.celsius[at(c)], 2.0 * k[at(c)] / axis.width(next));
    return T_face + by_radiation(grid, field, std::min(cell, c), std::max(cell, c), direction);
  }
  const auto e = exchange_of(grid, air, ijk, direction, end);
  if (!e) return T;
  return e->film > 0.0 ? between(T, g, e->temperature, 1.0 / e->film) : e->temperature;
}

namespace {

/// Along the face at an end of depth; the flux counts from the air into the wall.
SurfaceProfile face_at(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field,
                       End end) {
  SurfaceProfile profile;
  const Axis& across = grid[Direction::across];
  const Index k = end == End::low ? 0 : grid.axis[D].cells() - 1;
  const double film = (end == End::low ? air.inside : air.outside).film;
  const auto conductance = [&](Index cell) {  // as for_each_outer_face and for_each_held_outer_face have it
    if (held_cell(grid, cell)) return film > 0.0 ? 1.0 / film : 0.0;
    return outer_conductance(1.0, grid.axis[D].width(k), grid.conductivity[D][at(cell)], film);
  };
  for (Index i = 0; i < across.cells(); ++i) {
    const Index cell = grid.cell(i, 0, k);
    profile.across.push_back(across.centre(i));
    profile.width.push_back(across.width(i));
    profile.celsius.push_back(face_temperature(grid, air, field, {i, 0, k}, Direction::depth, end));
    const double T_air = exchange_of(grid, air, {i, 0, k}, Direction::depth, end)->temperature;
    profile.heat_flux.push_back(conductance(cell) * (T_air - field.celsius[at(cell)]));
  }
  return profile;
}

}  // namespace

SurfaceProfile room_face(const ConductivityGrid& grid, const Surroundings& air,
                         const TemperatureField& field) {
  return face_at(grid, air, field, End::low);
}

SurfaceProfile outer_face(const ConductivityGrid& grid, const Surroundings& air,
                          const TemperatureField& field) {
  SurfaceProfile profile = face_at(grid, air, field, End::high);
  for (double& flux : profile.heat_flux) flux = -flux;
  return profile;
}

double celsius_at(const SurfaceProfile& profile, double across) {
  const std::vector<double>&x = profile.across, &T = profile.celsius;
  const auto beyond = std::lower_bound(x.begin(), x.end(), across);
  if (beyond == x.begin()) return T.front();
  if (beyond == x.end()) return T.back();
  const auto i = static_cast<std::size_t>(beyond - x.begin());
  return T[i - 1] + (across - x[i - 1]) / (x[i] - x[i - 1]) * (T[i] - T[i - 1]);
}

SurfaceProfile plane_at(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field,
                        double depth) {
  SurfaceProfile profile;
  const Axis& across = grid[Direction::across];
  const Index k = std::min(grid.axis[D].nearest_edge(depth), grid.axis[D].cells() - 1);
  for (Index i = 0; i < across.cells(); ++i) {
    const std::array<Index, 3> ijk{i, 0, k};
    const Index cell = grid.cell(i, 0, k);
    const double T = face_temperature(grid, air, field, ijk, Direction::depth, End::low);
    profile.across.push_back(across.centre(i));
    profile.width.push_back(across.width(i));
    profile.celsius.push_back(T);
    profile.heat_flux.push_back(2.0 * grid.conductivity[D][at(cell)] / grid.axis[D].width(k) *
                                (T - field.celsius[at(cell)]));
  }
  return profile;
}

double share_below(const SurfaceProfile& profile, double celsius) {
  double below = 0.0, width = 0.0;
  for (std::size_t i = 0; i < profile.celsius.size(); ++i) {
    if (profile.celsius[i] < celsius) below += profile.width[i];
    width += profile.width[i];
  }
  return below / width;
}

namespace {

/// The first place whose temperature, times the sign, is least but for rounding.
std::size_t first_of_least(const SurfaceProfile& profile, double sign) {
  constexpr double rounding = 1e-5;  // [K], above what a solve leaves, below what is printed
  double least = INFINITY;
  for (const double T : profile.celsius) least = std::min(least, sign * T);
  const auto first = std::find_if(profile.celsius.begin(), profile.celsius.end(),
                                  [&](double T) { return sign * T <= least + rounding; });
  return static_cast<std::size_t>(first - profile.celsius.begin());
}

}  // namespace

std::size_t coldest_place(const SurfaceProfile& profile) { return first_of_least(profile, 1.0); }
std::size_t warmest_place(const SurfaceProfile& profile) { return first_of_least(profile, -1.0); }

double temperature_at(const ConductivityGrid& grid, const Surroundings& air, const TemperatureField& field,
                      Point point) {
  const double x = std::clamp(point.across, grid.axis[A].edge(0), grid.axis[A].edges().back());
  const double y = std::clamp(point.depth, grid.axis[D].edge(0), grid.axis[D].edges().back());
  if (const auto held = held_face(grid, air, x, y)) return *held;
  const Cells is = cells_sharing(grid.axis[A], x), ks = cells_sharing(grid.axis[D], y);
  double sum = 0.0, weights = 0.0;
  for (Index k = ks.first; k <= ks.last; ++k)
    for (Index i = is.first; i <= is.last; ++i) {
      const std::array<Index, 3> ijk{i, 0, k};
      const std::size_t c = at(grid.cell(i, 0, k));
      if (const HeldCell* held = held_cell(grid, grid.cell(i, 0, k))) return held->celsius;  // or its edge
      const InsideCell p{(x - grid.axis[A].edge(i)) / grid.axis[A].width(i),
                         (y - grid.axis[D].edge(k)) / grid.axis[D].width(k)};
      const double T = temperature_in(grid, air, field, ijk, p);
      // On a shared edge the good conductor knows best: its temperature hardly varies.
      const double weight = grid.conductivity[A][c] + grid.conductivity[D][c];
      sum += weight * T;
      weights += weight;
    }
  return sum / weights;
}

}  // namespace coldbay
