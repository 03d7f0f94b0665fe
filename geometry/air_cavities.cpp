#include "geometry/air_cavities.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "geometry/air_pieces.hpp"

namespace coldbay {
namespace {

constexpr double throat = 0.002;  ///< a passage up to this wide parts two cavities [m]; [ISO10077] 6.3

/// Share of each cell that is air [0, 1].
std::vector<double> air_shares(const Section& section, const Painting& painting) {
  const auto is_air = [&](std::uint32_t shape) {
    return shape != Painting::bare && !section.shapes[shape].held &&
           section.materials[section.shapes[shape].material].is_air_space;
  };
  std::vector<double> share(painting.shape.size());
  for (std::size_t c = 0; c < share.size(); ++c) {
    if (painting.shape[c] != Painting::mixed) {
      share[c] = is_air(painting.shape[c]) ? 1.0 : 0.0;
      continue;
    }
    const auto& samples = painting.mixed_cells.at(static_cast<Index>(c));
    share[c] = static_cast<double>(std::count_if(samples.begin(), samples.end(), is_air)) /
               static_cast<double>(samples.size());
  }
  return share;
}

/// Cells that are mostly air and stand in a passage no wider than a throat, one way or the other.
std::vector<bool> throat_cells(const Painting& p, const std::vector<double>& share) {
  std::vector<bool> narrow(share.size(), false);
  const Index na = p.across.cells(), nd = p.depth.cells();
  // Marks the runs of air along one axis that are short; `cell(line, i)` numbers the cells.
  const auto mark = [&](const Axis& axis, Index lines, auto cell) {
    for (Index line = 0; line < lines; ++line)
      for (Index i = 0; i < axis.cells();) {
        Index end = i;
        while (end < axis.cells() && share[at(cell(line, end))] >= 0.5) ++end;
        const bool is_short = end > i && axis.edge(end) - axis.edge(i) <= throat * (1.0 + 1e-9);
        for (; is_short && i < end; ++i) narrow[at(cell(line, i))] = true;
        i = std::max(end, i) + 1;
      }
  };
  mark(p.across, nd, [na](Index line, Index i) { return i + na * line; });
  mark(p.depth, na, [na](Index line, Index i) { return line + na * i; });
  return narrow;
}

std::array<Index, 4> neighbours(const Painting& painting, Index cell) {
  const Index na = painting.across.cells(), nd = painting.depth.cells(), i = cell % na, k = cell / na;
  return {i > 0 ? cell - 1 : -1, i + 1 < na ? cell + 1 : -1, k > 0 ? cell - na : -1,
          k + 1 < nd ? cell + na : -1};
}

/// Labels the region of `start` with `label`, over cells that `joins` admits, and returns it.
template <class Joins>
std::vector<Index> flood(const Painting& painting, Index start, int label, std::vector<int>& labels,
                         Joins joins) {
  std::vector<Index> region{start};
  labels[at(start)] = label;
  for (std::size_t next = 0; next < region.size(); ++next)
    for (const Index n : neighbours(painting, region[next]))
      if (n >= 0 && labels[at(n)] < 0 && joins(n)) {
        labels[at(n)] = label;
        region.push_back(n);
      }
  return region;
}

AirCavity cavity_of(const Painting& p, const std::vector<Index>& region, const std::vector<double>& share) {
  AirCavity c;
  c.across = {p.across.length(), 0.0};
  c.depth = {p.depth.length(), 0.0};
  for (const Index cell : region) {
    const Index i = cell % p.across.cells(), k = cell / p.across.cells();
    c.across = {std::min(c.across.from, p.across.edge(i)), std::max(c.across.to, p.across.edge(i + 1))};
    c.depth = {std::min(c.depth.from, p.depth.edge(k)), std::max(c.depth.to, p.depth.edge(k + 1))};
    c.area += share[at(cell)] * p.across.width(i) * p.depth.width(k);
    c.cut_left = c.cut_left || i == 0;
    c.cut_right = c.cut_right || i + 1 == p.across.cells();
  }
  return c;
}

}  // namespace

namespace {

/// What cavities meet at either end of both directions: the mean emissivity of solid surfaces, an ordinary
/// one where there is none; and how much of the left and right sides is open to other air.
void set_ends(const Section& section, const Painting& p, AirSpaces& spaces) {
  struct Mean {
    double sum = 0.0, length = 0.0;
  };
  std::vector<std::array<std::array<Mean, 2>, 2>> means(spaces.cavities.size());
  std::vector<std::array<Mean, 2>> open(spaces.cavities.size());  // of the left and right sides
  const Index na = p.across.cells(), nd = p.depth.cells();
  for (Index cell = 0; cell < na * nd; ++cell) {
    const int cavity = spaces.of_cell[at(cell)];
    if (cavity < 0) continue;
    for (const bool outward : {true, false})
      for (const bool high : {false, true}) {
        const Index along = outward ? cell / na : cell % na, last = (outward ? nd : na) - 1;
        const bool edge = along == (high ? last : 0);
        const Index next = cell + (high ? 1 : -1) * (outward ? na : 1);
        if (!outward && (edge || spaces.of_cell[at(next)] != cavity)) {
          Mean& side = open[static_cast<std::size_t>(cavity)][high ? 1 : 0];
          side.length += p.depth.width(cell / na);
          if (edge || spaces.of_cell[at(next)] >= 0) side.sum += p.depth.width(cell / na);
        }
        if (edge) continue;
        const std::uint32_t shape = p.shape[at(next)];
        if (spaces.of_cell[at(next)] >= 0 || shape == Painting::mixed || shape == Painting::bare) continue;
        const double width = outward ? p.across.width(cell % na) : p.depth.width(cell / na);
        Mean& m = means[static_cast<std::size_t>(cavity)][outward ? 0 : 1][high ? 1 : 0];
        m.sum += width * section.materials[section.shapes[shape].material].emissivity;
        m.length += width;
      }
  }
  for (std::size_t c = 0; c < means.size(); ++c)
    for (const bool outward : {true, false}) {
      AirState& state = outward ? spaces.cavities[c].outward : spaces.cavities[c].sideways;
      const auto& [low, high] = means[c][outward ? 0 : 1];
      if (low.length > 0.0) state.emissivity_low = low.sum / low.length;
      if (high.length > 0.0) state.emissivity_high = high.sum / high.length;
    }
  for (std::size_t c = 0; c < open.size(); ++c) {
    const auto share = [](const Mean& m) { return m.length > 0.0 ? m.sum / m.length : 0.0; };
    spaces.cavities[c].open_left = share(open[c][0]);
    spaces.cavities[c].open_right = share(open[c][1]);
  }
}

}  // namespace

AirSpaces find_air_spaces(const Section& section, const Painting& painting) {
  const std::vector<double> share = air_shares(section, painting);
  // Throats part the cavities of frames; spaces in walls are parted where their depth steps.
  const std::vector<bool> narrow = section.air_rule == AirRule::cavity
                                       ? throat_cells(painting, share)
                                       : std::vector<bool>(share.size(), false);
  AirSpaces spaces;
  spaces.of_cell.assign(share.size(), -1);
  const auto open_region = [&](std::size_t c, auto joins) {
    const int first = static_cast<int>(spaces.cavities.size());
    std::vector<Index> region = flood(painting, static_cast<Index>(c), first, spaces.of_cell, joins);
    std::vector<std::vector<Index>> pieces;
    if (section.air_rule == AirRule::layer)
      pieces = pieces_of(painting, std::move(region));
    else
      pieces.push_back(std::move(region));
    bool ventilated = false;
    for (std::size_t n = 0; n < pieces.size(); ++n) {
      spaces.cavities.push_back(cavity_of(painting, pieces[n], share));
      for (const Index cell : pieces[n]) {
        spaces.of_cell[at(cell)] = first + static_cast<int>(n);
        const std::uint32_t shape = painting.shape[at(cell)];
        ventilated =
            ventilated || (shape < section.shapes.size() && section.shapes[shape].slightly_ventilated);
      }
    }
    for (std::size_t n = 0; n < pieces.size(); ++n) {
      AirCavity& cavity = spaces.cavities[static_cast<std::size_t>(first) + n];
      cavity.slightly_ventilated = ventilated;
    }
  };
  for (const bool passage : {false, true})
    for (std::size_t c = 0; c < share.size(); ++c)
      if (share[c] >= 0.5 && spaces.of_cell[c] < 0 && narrow[c] == passage)
        open_region(c, [&](Index n) { return share[at(n)] >= 0.5 && narrow[at(n)] == passage; });
  // Cells that are mostly something else take the air of a neighbour; air all by itself (a sliver
  // thinner than a cell) is a space of its own.
  for (std::size_t c = 0; c < share.size(); ++c) {
    if (!(share[c] > 0.0) || spaces.of_cell[c] >= 0) continue;
    for (const Index n : neighbours(painting, static_cast<Index>(c)))
      if (n >= 0 && share[at(n)] >= 0.5) spaces.of_cell[c] = spaces.of_cell[at(n)];
    if (spaces.of_cell[c] < 0) open_region(c, [](Index) { return false; });
  }
  set_ends(section, painting, spaces);
  for (AirCavity& cavity : spaces.cavities) apply_rule(cavity, section.air_rule);
  return spaces;
}

namespace {

/// The rectangle that a cavity is reckoned as, for heat that goes along a direction.
AirSpace space_of(const AirCavity& c, Direction direction) {
  // Equal area and the proportions of the enclosing rectangle: both its sides shrink alike.
  const double shrink = std::sqrt(std::min(1.0, c.area / (c.across.length() * c.depth.length())));
  const bool outward = direction == Direction::depth;
  const AirState& state = outward ? c.outward : c.sideways;
  // Beyond an open side it goes on, as its mirror image; a side half open counts half.
  const double closed = 1.0 - 0.5 * (c.open_left + c.open_right), across = shrink * c.across.length();
  const double goes_on = closed > 1e-6 ? across / closed : std::numeric_limits<double>::infinity();
  AirSpace space;
  space.thickness = outward ? shrink * c.depth.length() : goes_on;
  space.width = outward ? goes_on : shrink * c.depth.length();
  space.emissivity_warm = state.emissivity_low;
  space.emissivity_cold = state.emissivity_high;
  space.mean_temperature = state.mean_temperature;
  space.difference = state.difference;
  return space;
}

/// Resistance of a cavity along a direction, and the thickness it has there.
struct Passed {
  double thickness, resistance;
};
Passed passed(const AirCavity& c, Direction direction, AirRule rule) {
  const AirSpace space = space_of(c, direction);
  return {space.thickness, air_space_resistance(space, rule) / (c.slightly_ventilated ? 2.0 : 1.0)};
}

}  // namespace

void apply_rule(AirCavity& c, AirRule rule) {
  const Passed p = passed(c, rule == AirRule::layer ? Direction::depth : c.heat_goes, rule);
  c.resistance = p.resistance;
  c.conductivity = c.conductivity_sideways = p.thickness / p.resistance;
  if (rule == AirRule::cavity || c.cut_left || c.cut_right || c.open_left + c.open_right > 1.999) return;
  // Along a flat layer neither air nor radiation gets as far as the rule for its thickness would have it.
  const Passed across = passed(c, Direction::across, rule);
  c.conductivity_sideways = std::min(c.conductivity, across.thickness / across.resistance);
}

double radiative_coefficient(const AirCavity& cavity, Direction direction, AirRule rule) {
  return radiative_coefficient(space_of(cavity, direction), rule);
}

std::vector<Problem> open_air_spaces(const Section& section, const Surroundings& air, const Painting& p,
                                     const AirSpaces& spaces) {
  std::vector<Problem> problems;
  std::vector<bool> said(spaces.cavities.size(), false);
  const auto look = [&](Index cell, const char* what, const char* hint) {
    const int cavity = spaces.of_cell[at(cell)];
    if (cavity < 0 || said[static_cast<std::size_t>(cavity)]) return;
    said[static_cast<std::size_t>(cavity)] = true;
    const std::uint32_t shape = p.shape[at(cell)];
    problems.push_back(
        {shape < section.shapes.size() ? section.shapes[shape].path : "section.shapes", what, hint});
  };
  const Index na = p.across.cells(), nd = p.depth.cells();
  constexpr auto close =
      "close it with a layer, or end the section at its inner face and give the film of that face";
  for (Index i = 0; i < na; ++i) look(i, "this air space is open to the room", close);
  for (Index i = 0; i < na; ++i) look(i + na * (nd - 1), "this air space is open to the outside", close);
  for (Index k = 0; k < nd; ++k) {
    if (air.left)
      look(na * k, "this air space is open to the left side", "close it there, or leave the side adiabatic");
    if (air.right)
      look(na * k + na - 1, "this air space is open to the right side",
           "close it there, or leave the side adiabatic");
  }
  return problems;
}

void start_from(AirSpaces& spaces, const AirSpaces& other, AirRule rule) {
  if (spaces.cavities.size() != other.cavities.size()) return;
  for (std::size_t i = 0; i < spaces.cavities.size(); ++i) {
    AirCavity& c = spaces.cavities[i];
    c.heat_goes = other.cavities[i].heat_goes;
    c.outward = other.cavities[i].outward;
    c.sideways = other.cavities[i].sideways;
    apply_rule(c, rule);
  }
}

}  // namespace coldbay
