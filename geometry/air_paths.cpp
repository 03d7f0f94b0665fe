#include "geometry/air_paths.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <tuple>

namespace coldbay {
namespace {

constexpr std::array every{Direction::depth, Direction::across, Direction::up};

std::size_t n(Direction d) { return static_cast<std::size_t>(d); }

/// A face between two rows, or a way through fill, before those of the same two rows are taken together.
struct Way {
  Index a, b;
  double conductance;
  double area, turn;  // of the face; of it where the speed is greatest, 0 where there is no turn
  AirPaths::Face face;
};

class Finder {
 public:
  Finder(const std::array<Axis, 3>& axis, const std::vector<Passage>& passages, Direction up)
      : axis_(axis), passages_(passages) {
    out_.up = up;
    for (std::size_t d = 0; d < 3; ++d) cells_[d] = axis[d].cells();
    stride_ = {1, cells_[0], cells_[0] * cells_[1]};
  }

  AirPaths find() {
    find_rows();
    find_ways();
    find_ways_through_fill();
    keep_loops();
    join();
    measure();
    return std::move(out_);
  }

 private:
  std::array<Index, 3> place(Index c) const {
    return {c % cells_[0], c / cells_[0] % cells_[1], c / stride_[2]};
  }
  double width(const std::array<Index, 3>& ijk, Direction d) const { return axis_[n(d)].width(ijk[n(d)]); }

  /// f(first cell, number of cells) for every stretch along d of cells for which `holds`.
  template <class Holds, class F>
  void for_each_stretch(Direction d, Holds holds, F f) const {
    const Index step = stride_[n(d)], along = cells_[n(d)];
    for (Index block = 0; block < std::ssize(passages_); block += step * along)
      for (Index c = block; c < block + step; ++c)
        for (Index i = 0; i < along;) {
          const Index first = c + i * step;
          Index count = 0;
          while (i + count < along && holds(first, c + (i + count) * step)) ++count;
          if (count > 0) f(first, count);
          i += std::max<Index>(count, 1);
        }
  }

  double length_of(Direction d, Index first, Index count) const {
    const Index i = place(first)[n(d)];
    return axis_[n(d)].edge(i + count) - axis_[n(d)].edge(i);
  }

  /// Across which direction the gap lies at each cell: that in which the air reaches least far.
  std::vector<Direction> gap_directions() const {
    std::vector<double> least(passages_.size(), std::numeric_limits<double>::infinity());
    std::vector<Direction> across(passages_.size(), Direction::depth);
    for (const Direction d : every) {
      if (cells_[n(d)] == 1) continue;
      for_each_stretch(
          d, [&](Index, Index c) { return passages_[at(c)].gap; },
          [&](Index first, Index count) {
            const double reach = length_of(d, first, count);
            for (Index i = 0; i < count; ++i) {
              const std::size_t c = at(first + i * stride_[n(d)]);
              if (reach < least[c] * (1.0 - 1e-9)) std::tie(least[c], across[c]) = std::tuple(reach, d);
            }
          });
    }
    return across;
  }

  void find_rows() {
    const std::vector<Direction> across = gap_directions();
    out_.row_of.assign(passages_.size(), -1);
    for (const Direction d : every)
      for_each_stretch(
          d, [&](Index, Index c) { return passages_[at(c)].gap && across[at(c)] == d; },
          [&](Index first, Index count) {
            const std::array<Index, 3> ijk = place(first);
            const Axis& up = axis_[n(out_.up)];
            const double half = d == out_.up ? 0.5 * length_of(d, first, count) : 0.0;
            const double height = half > 0.0 ? up.edge(ijk[n(d)]) + half : up.centre(ijk[n(out_.up)]);
            for (Index i = 0; i < count; ++i)
              out_.row_of[at(first + i * stride_[n(d)])] = std::ssize(out_.rows);
            out_.rows.push_back({first, stride_[n(d)], count, d, length_of(d, first, count), height});
          });
  }

  /// What a cell has of the flow along its gap: of the parabola between the two walls.
  double share(Index cell, const AirPaths::Row& row) const {
    const Axis& axis = axis_[n(row.across)];
    const double from = axis.edge(place(row.first)[n(row.across)]);
    const Index i = place(cell)[n(row.across)];
    const auto below = [&](double x) {
      const double y = (x - from) / row.thickness;
      return y * y * (3.0 - 2.0 * y);
    };
    return below(axis.edge(i + 1)) - below(axis.edge(i));
  }

  /// Resistance over the viscosity, from the middle of a cell to its face along d [1/m3].
  double half_cell(Index cell, const AirPaths::Row& row, Direction d) const {
    if (d == row.across) return 0.0;
    const std::array<Index, 3> ijk = place(cell);
    const double t = std::min(row.thickness, widest_channel);
    double breadth = 1.0;  // the third direction
    for (const Direction other : every)
      if (other != d && other != row.across) breadth = width(ijk, other);
    return 0.5 * width(ijk, d) * 12.0 / (breadth * t * t * t * share(cell, row));
  }

  void find_ways() {
    for (const Direction d : every) {
      if (cells_[n(d)] == 1) continue;
      const Index step = stride_[n(d)];
      for (Index c = 0; c + step < std::ssize(passages_); ++c) {
        const Index a = out_.row_of[at(c)], b = out_.row_of[at(c + step)];
        if (a < 0 || b < 0 || a == b) continue;
        const std::array<Index, 3> ijk = place(c);
        if (ijk[n(d)] + 1 == cells_[n(d)]) continue;
        const AirPaths::Row &from = out_.rows[at(a)], &to = out_.rows[at(b)];
        const double R = half_cell(c, from, d) + half_cell(c + step, to, d);
        if (!(R > 0.0)) continue;
        double area = 1.0;
        for (const Direction other : every)
          if (other != d) area *= width(ijk, other);
        double turn = 0.0;
        if (from.across != to.across) {
          // Of the two gaps the one that lies along the way tells how the speed in the other compares.
          const AirPaths::Row &along = from.across == d ? to : from, &other = from.across == d ? from : to;
          turn = area * std::min(1.0, other.thickness / along.thickness);
        }
        ways_.push_back({a, b, 1.0 / R, area, turn, {c, c + step, 1.0}});
      }
    }
  }

  /// From gap to gap, straight through fill in depth.
  void find_ways_through_fill() {
    constexpr Direction d = Direction::depth;
    const Index step = stride_[n(d)];
    for_each_stretch(
        d, [&](Index, Index c) { return !passages_[at(c)].gap && passages_[at(c)].permeability > 0.0; },
        [&](Index first, Index count) {
          const std::array<Index, 3> ijk = place(first);
          if (ijk[n(d)] == 0 || ijk[n(d)] + count == cells_[n(d)]) return;
          const Index a = out_.row_of[at(first - step)], b = out_.row_of[at(first + count * step)];
          if (a < 0 || b < 0) return;
          const double area = width(ijk, Direction::across) * width(ijk, Direction::up);
          double R = 0.0;
          for (Index i = 0; i < count; ++i)
            R += width(place(first + i * step), d) / (area * passages_[at(first + i * step)].permeability);
          through_.push_back({a, b, first - step, count + 1, 1.0 / R});
        });
  }

  Index root(Index row) {
    while (root_[at(row)] != row) row = root_[at(row)] = root_[at(root_[at(row)])];
    return row;
  }

  /// Leaves out connected air that nowhere lies behind other air of its own.
  void keep_loops() {
    root_.resize(out_.rows.size());
    std::iota(root_.begin(), root_.end(), Index{0});
    for (const Way& w : ways_) root_[at(root(w.a))] = root(w.b);
    for (const Through& t : through_) root_[at(root(t.a))] = root(t.b);
    std::vector<bool> loops(out_.rows.size(), false);
    const Index columns = stride_[2];
    for (Index c = 0; c < columns; ++c) {
      std::vector<std::pair<Index, Index>> met;  // part, row
      for (Index k = 0; k < cells_[2]; ++k) {
        const Index row = out_.row_of[at(c + k * columns)];
        if (passages_[at(c + k * columns)].held) met.clear();
        if (row < 0 || out_.rows[at(row)].across != Direction::depth) continue;
        const Index part = root(row);
        for (const auto& [other_part, other] : met)
          if (other_part == part && other != row &&
              std::min(out_.rows[at(row)].thickness, out_.rows[at(other)].thickness) <= widest_channel)
            loops[at(part)] = true;
        if (met.empty() || met.back().second != row) met.emplace_back(part, row);
      }
    }
    std::vector<Index> number(out_.rows.size(), -1), part(out_.rows.size(), -1);
    std::vector<AirPaths::Row> kept;
    for (Index r = 0; r < std::ssize(out_.rows); ++r) {
      const Index its = root(r);
      if (!loops[at(its)]) continue;
      if (part[at(its)] < 0) part[at(its)] = out_.parts++;
      number[at(r)] = std::ssize(kept);
      kept.push_back(out_.rows[at(r)]);
      out_.part_of.push_back(part[at(its)]);
    }
    out_.rows = std::move(kept);
    for (Index& r : out_.row_of) r = r < 0 ? -1 : number[at(r)];
    const auto gone = [&](const auto& w) { return number[at(w.a)] < 0; };
    std::erase_if(ways_, gone);
    std::erase_if(through_, gone);
    for (Way& w : ways_) std::tie(w.a, w.b) = std::tuple(number[at(w.a)], number[at(w.b)]);
    for (Through& t : through_) std::tie(t.a, t.b) = std::tuple(number[at(t.a)], number[at(t.b)]);
  }

  /// Takes the faces between the same two rows together.
  void join() {
    for (Way& w : ways_)
      if (w.a > w.b) {
        std::swap(w.a, w.b);
        std::swap(w.face.from, w.face.to);
      }
    std::stable_sort(ways_.begin(), ways_.end(),
                     [](const Way& x, const Way& y) { return std::pair(x.a, x.b) < std::pair(y.a, y.b); });
    out_.faces.reserve(ways_.size());
    for (const Way& w : ways_) {
      if (out_.links.empty() || out_.links.back().a != w.a || out_.links.back().b != w.b)
        out_.links.push_back({w.a, w.b, 0.0, 0.0, std::ssize(out_.faces), 0});
      AirPaths::Link& link = out_.links.back();
      link.conductance += w.conductance;
      link.turn_area += w.turn;
      ++link.faces;
      out_.faces.push_back(w.face);
      out_.faces.back().share = w.conductance;
    }
    for (const AirPaths::Link& link : out_.links)
      for (Index f = link.first_face; f < link.first_face + link.faces; ++f)
        out_.faces[at(f)].share /= link.conductance;
    for (const Through& t : through_) {
      out_.links.push_back({t.a, t.b, t.conductance, 0.0, std::ssize(out_.faces), t.count});
      for (Index i = 0; i < t.count; ++i)
        out_.faces.push_back({t.first + i * stride_[2], t.first + (i + 1) * stride_[2], 1.0});
    }
  }

  void measure() {
    out_.reach.assign(passages_.size(), 0.0);
    for (const AirPaths::Row& row : out_.rows)
      for (Index i = 0; i < row.count; ++i) {
        const Index c = row.first + i * row.stride;
        out_.reach[at(c)] = width(place(c), row.across);
      }
  }

  struct Through {
    Index a, b, first, count;
    double conductance;
  };
  const std::array<Axis, 3>& axis_;
  const std::vector<Passage>& passages_;
  std::array<Index, 3> cells_{}, stride_{};
  std::vector<Way> ways_;
  std::vector<Through> through_;
  std::vector<Index> root_;
  AirPaths out_;
};

}  // namespace

AirPaths air_paths(const std::array<Axis, 3>& axis, const std::vector<Passage>& passages, Direction up) {
  const auto is_gap = [](const Passage& p) { return p.gap; };
  if (std::none_of(passages.begin(), passages.end(), is_gap)) {
    AirPaths none;
    none.up = up;
    none.row_of.assign(passages.size(), -1);
    none.reach.assign(passages.size(), 0.0);
    return none;
  }
  return Finder(axis, passages, up).find();
}

}  // namespace coldbay
