#include "geometry/rasterise.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "geometry/air_cavities.hpp"
#include "materials/model_error.hpp"

namespace coldbay {
namespace {

constexpr int S = Painting::samples;

/// Index of the sample in a row and a column of a cell.
constexpr std::size_t sample_at(int row, int column) {
  return static_cast<std::size_t>(row) * S + static_cast<std::size_t>(column);
}

struct CellRange {
  Index from, to;
};

/// Cells a bounding box may touch.
CellRange touched(const Axis& axis, Span span) {
  return {axis.cell_at(span.from), axis.cell_at(span.to) + 1};
}

void paint_rectangle(Painting& p, const Rectangle& r, std::uint32_t id) {
  const CellRange a{p.across.nearest_edge(r.across.from), p.across.nearest_edge(r.across.to)};
  const CellRange d{p.depth.nearest_edge(r.depth.from), p.depth.nearest_edge(r.depth.to)};
  for (Index k = d.from; k < d.to; ++k)
    for (Index i = a.from; i < a.to; ++i) {
      const Index cell = i + p.across.cells() * k;
      auto& shape = p.shape[static_cast<std::size_t>(cell)];
      if (shape == Painting::mixed) p.mixed_cells.erase(cell);
      shape = id;
    }
}

/// Cells of a range that the outline's edge may cross; all others lie wholly inside or outside it.
std::vector<bool> crossed(const Painting& p, const Outline& outline, CellRange a, CellRange d) {
  const Index na = a.to - a.from;
  std::vector<bool> out(static_cast<std::size_t>(na * (d.to - d.from)), false);
  const auto mark = [&](Index k, double from, double to) {
    const CellRange is{std::max(a.from, p.across.cell_at(from) - 1),
                       std::min(a.to, p.across.cell_at(to) + 2)};
    for (Index i = is.from; i < is.to; ++i)
      out[static_cast<std::size_t>(i - a.from + na * (k - d.from))] = true;
  };
  for (Index k = d.from; k < d.to; ++k) {
    const double low = p.depth.edge(k), high = p.depth.edge(k + 1);
    if (const auto* c = std::get_if<Circle>(&outline)) {
      // The edge runs, on either side, between its nearest and its furthest distance from the centre line.
      const auto half_chord = [&](double y) {
        const double h = y - c->centre.depth;
        return std::sqrt(std::max(0.0, c->radius * c->radius - h * h));
      };
      const double widest = half_chord(std::clamp(c->centre.depth, low, high)),
                   narrowest = std::min(half_chord(low), half_chord(high));
      mark(k, c->centre.across - widest, c->centre.across - narrowest);
      mark(k, c->centre.across + narrowest, c->centre.across + widest);
      continue;
    }
    const auto& corners = std::get<Polygon>(outline).corners;
    for (std::size_t n = 0, m = corners.size() - 1; n < corners.size(); m = n++) {
      const Point &lower = corners[n].depth < corners[m].depth ? corners[n] : corners[m],
                  &upper = corners[n].depth < corners[m].depth ? corners[m] : corners[n];
      if (upper.depth < low || lower.depth > high) continue;
      if (upper.depth == lower.depth) {
        mark(k, std::min(lower.across, upper.across), std::max(lower.across, upper.across));
        continue;
      }
      const auto across_at = [&](double y) {
        const double share = std::clamp((y - lower.depth) / (upper.depth - lower.depth), 0.0, 1.0);
        return lower.across + share * (upper.across - lower.across);
      };
      const double from = across_at(low), to = across_at(high);
      mark(k, std::min(from, to), std::max(from, to));
    }
  }
  return out;
}

void paint_sampled(Painting& p, const Outline& outline, std::uint32_t id) {
  const Rectangle box = bounding_box(outline);
  const CellRange a = touched(p.across, box.across), d = touched(p.depth, box.depth);
  const std::vector<bool> on_edge = crossed(p, outline, a, d);
  std::array<bool, sample_at(S, 0)> in{};
  for (Index k = d.from; k < d.to; ++k)
    for (Index i = a.from; i < a.to; ++i) {
      if (on_edge[static_cast<std::size_t>(i - a.from + (a.to - a.from) * (k - d.from))])
        for (int row = 0; row < S; ++row)
          for (int col = 0; col < S; ++col)
            in[sample_at(row, col)] =
                contains(outline, {p.across.edge(i) + p.across.width(i) * (col + 0.5) / S,
                                   p.depth.edge(k) + p.depth.width(k) * (row + 0.5) / S});
      else
        in.fill(contains(outline, {p.across.centre(i), p.depth.centre(k)}));
      const auto covered = std::count(in.begin(), in.end(), true);
      if (covered == 0) continue;
      const Index cell = i + p.across.cells() * k;
      auto& shape = p.shape[static_cast<std::size_t>(cell)];
      if (covered == std::ssize(in)) {
        if (shape == Painting::mixed) p.mixed_cells.erase(cell);
        shape = id;
        continue;
      }
      if (shape != Painting::mixed) p.mixed_cells[cell].assign(in.size(), shape);
      shape = Painting::mixed;
      auto& samples = p.mixed_cells[cell];
      for (std::size_t s = 0; s < in.size(); ++s)
        if (in[s]) samples[s] = id;
    }
}

void require_covered(const Painting& painting) {
  const auto bare = bare_points(painting);
  if (bare.empty()) return;
  throw ModelError(
      "section.shapes",
      fmt::format("part of the section has no material, first at across {:.1f} mm, depth {:.1f} mm",
                  1e3 * bare.front().across, 1e3 * bare.front().depth),
      "paint a shape over the whole section first, then the others over it");
}

/// Conductivity of what is held [W/(m K)]: no heat is reckoned in there, so any will do.
constexpr double no_matter = 1.0;

/// Which samples of a cell show something held; empty where none does.
std::vector<bool> held_samples(const Section& section, const std::vector<std::uint32_t>& shapes) {
  std::vector<bool> held;
  held.reserve(shapes.size());
  for (const std::uint32_t shape : shapes) held.push_back(section.shapes[shape].held.has_value());
  if (std::find(held.begin(), held.end(), true) == held.end()) held.clear();
  return held;
}

/// Gives the held samples the mean of the others.
void run_on(std::vector<double>& conductivity, const std::vector<bool>& held) {
  double sum = 0.0, others = 0.0;
  for (std::size_t s = 0; s < held.size(); ++s) {
    if (held[s]) continue;
    sum += conductivity[s];
    others += 1.0;
  }
  for (std::size_t s = 0; s < held.size(); ++s)
    if (held[s]) conductivity[s] = others > 0.0 ? sum / others : no_matter;
}

std::vector<HeldCell> held_cells(const Section& section, const Painting& p) {
  std::vector<HeldCell> all;
  for (std::size_t c = 0; c < p.shape.size(); ++c) {
    const auto cell = static_cast<Index>(c);
    if (p.shape[c] != Painting::mixed) {
      if (const auto& held = section.shapes[p.shape[c]].held) all.push_back({cell, *held});
      continue;
    }
    const auto& samples = p.mixed_cells.at(cell);
    double sum = 0.0;
    std::size_t n = 0;
    for (const std::uint32_t shape : samples)
      if (const auto& held = section.shapes[shape].held) {
        sum += *held;
        ++n;
      }
    if (2 * n >= samples.size()) all.push_back({cell, sum / static_cast<double>(n)});
  }
  return all;
}

}  // namespace

Painting paint(const Section& section, Axis across, Axis depth) {
  const auto cells = static_cast<std::size_t>(across.cells() * depth.cells());
  Painting p{std::move(across), std::move(depth), std::vector<std::uint32_t>(cells, Painting::bare), {}};
  for (std::size_t s = 0; s < section.shapes.size(); ++s) {
    const Outline& outline = section.shapes[s].outline;
    if (const auto* rectangle = std::get_if<Rectangle>(&outline))
      paint_rectangle(p, *rectangle, static_cast<std::uint32_t>(s));
    else
      paint_sampled(p, outline, static_cast<std::uint32_t>(s));
  }
  return p;
}

std::vector<Point> bare_points(const Painting& p) {
  std::vector<Point> bare;
  for (Index k = 0; k < p.depth.cells(); ++k)
    for (Index i = 0; i < p.across.cells(); ++i) {
      const Index cell = i + p.across.cells() * k;
      const std::uint32_t shape = p.shape[static_cast<std::size_t>(cell)];
      bool is_bare = shape == Painting::bare;
      if (shape == Painting::mixed) {
        const auto& samples = p.mixed_cells.at(cell);
        is_bare = std::find(samples.begin(), samples.end(), Painting::bare) != samples.end();
      }
      if (is_bare) bare.push_back({p.across.centre(i), p.depth.centre(k)});
    }
  return bare;
}

std::vector<std::size_t> hidden_shapes(const Section& section, const Painting& painting) {
  std::vector<bool> seen(section.shapes.size(), false);
  const auto see = [&](std::uint32_t shape) {
    if (shape < seen.size()) seen[shape] = true;
  };
  for (const std::uint32_t shape : painting.shape) see(shape);
  for (const auto& [cell, samples] : painting.mixed_cells)
    for (const std::uint32_t shape : samples) see(shape);
  std::vector<std::size_t> hidden;
  for (std::size_t s = 0; s < seen.size(); ++s)
    if (!seen[s]) hidden.push_back(s);
  return hidden;
}

ConductivityGrid conductivity_grid(const Section& section, const Painting& p, const AirSpaces& air,
                                   const std::vector<double>& celsius) {
  require_covered(p);
  const auto conductivity = [&](std::uint32_t id, std::size_t cell, Direction d) {
    const Shape& shape = section.shapes[id];
    const Material& m = section.materials[shape.material];
    if (m.is_air_space) {
      if (shape.held) return no_matter;
      const AirCavity& cavity = air.cavities[static_cast<std::size_t>(air.of_cell[cell])];
      return d == Direction::depth ? cavity.conductivity : cavity.conductivity_sideways;
    }
    if (m.along_grain && shape.grain == d) return *m.along_grain;
    return conductivity_at(m, celsius.empty() ? 10.0 : celsius[cell]);
  };
  ConductivityGrid grid{{p.across, Axis({0.0, 1.0}), p.depth}, {}, air.cavities, {}};
  for (const Direction d : {Direction::across, Direction::depth}) {
    auto& k = grid.conductivity[static_cast<std::size_t>(d)];
    k.resize(p.shape.size());
    for (std::size_t c = 0; c < k.size(); ++c)
      if (p.shape[c] != Painting::mixed) k[c] = conductivity(p.shape[c], c, d);
  }
  const bool any_held = std::any_of(section.shapes.begin(), section.shapes.end(),
                                    [](const Shape& shape) { return shape.held.has_value(); });
  for (const auto& [cell, shapes] : p.mixed_cells) {
    const auto c = static_cast<std::size_t>(cell);
    std::vector<double> across, depth;
    for (const std::uint32_t shape : shapes) {
      across.push_back(conductivity(shape, c, Direction::across));
      depth.push_back(conductivity(shape, c, Direction::depth));
    }
    std::vector<bool> held;
    if (any_held) held = held_samples(section, shapes);
    run_on(across, held);
    run_on(depth, held);
    grid.conductivity[0][c] = bounds_of(S, [&](int r, int q) { return across[sample_at(r, q)]; }).mean();
    grid.conductivity[2][c] = bounds_of(S, [&](int r, int q) { return depth[sample_at(q, r)]; }).mean();
    grid.mixed[cell] = {S, std::move(depth), std::move(held)};
  }
  if (any_held) grid.held = held_cells(section, p);
  for (const HeldCell& held : grid.held)
    if (const auto c = static_cast<std::size_t>(held.cell); p.shape[c] != Painting::mixed)
      grid.conductivity[0][c] = grid.conductivity[2][c] = no_matter;
  return grid;
}

ConductivityGrid rasterise(const Section& section, const Axis& across, const Axis& depth) {
  const Painting painting = paint(section, across, depth);
  return conductivity_grid(section, painting, find_air_spaces(section, painting));
}

}  // namespace coldbay
