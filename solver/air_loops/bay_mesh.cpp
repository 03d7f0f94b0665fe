#include "solver/air_loops/bay_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace coldbay {
namespace {

using Index = Eigen::Index;

/// Where the bay is the same across, rows cost nothing; else twice as many of either change the heat of a
/// loop by 1 to 2 %.
constexpr int rows_alone = 96, rows_beside = 32;
constexpr int n_across = 8;  ///< over the width, or the half of it

/// Edges from 0 to 1, finest at the ends that are asked for.
std::vector<double> edges(int n, bool fine_first, bool fine_last) {
  std::vector<double> all;
  all.reserve(static_cast<std::size_t>(n) + 1);
  for (int i = 0; i <= n; ++i) {
    const double s = static_cast<double>(i) / n;
    if (fine_first && fine_last)
      all.push_back(0.5 * (1.0 - std::cos(std::numbers::pi * s)));
    else if (fine_first)
      all.push_back(s * s);
    else
      all.push_back(fine_last ? s * (2.0 - s) : s);
  }
  return all;
}

/// A cell across the bay.
struct Across {
  double width = 0.0;
  const LoopStrip* strip = nullptr;
};

bool same_across(const BayLoop& bay) {
  return bay.strips.size() == 1 && bay.left_joint == 0.0 && bay.right_joint == 0.0;
}

std::vector<Across> cells_across(const BayLoop& bay) {
  const double total = width_of(bay);
  std::vector<Across> cells;
  for (std::size_t s = 0; s < bay.strips.size(); ++s) {
    const LoopStrip& strip = bay.strips[s];
    const int n =
        same_across(bay) ? 1 : std::max(1, static_cast<int>(std::ceil(n_across * strip.width / total)));
    const std::vector<double> at =
        edges(n, s == 0 && bay.left_joint > 0.0, s + 1 == bay.strips.size() && bay.right_joint > 0.0);
    for (std::size_t i = 0; i + 1 < at.size(); ++i)
      cells.push_back({strip.width * (at[i + 1] - at[i]), &strip});
  }
  return cells;
}

double channel(double depth) {
  const double d = std::min(depth, widest_channel);
  return d * d * d / 12.0;
}

/// Two in series; none where one of them is none.
double series(double a, double b) { return a > 0.0 && b > 0.0 ? a * b / (a + b) : 0.0; }

bool same_from_both_sides(const BayLoop& bay) {
  return bay.left_joint == bay.right_joint &&
         std::equal(bay.strips.begin(), bay.strips.end(), bay.strips.rbegin());
}

/// The left half of a bay that is the same from both sides.
BayLoop half_of(const BayLoop& bay) {
  BayLoop half = bay;
  half.right_joint = 0.0;
  const std::size_t n = bay.strips.size();
  half.strips.resize((n + 1) / 2);
  if (n % 2 == 1) half.strips.back().width *= 0.5;
  return half;
}

class Mesher {
 public:
  Mesher(const BayLoop& bay, const LoopModel& model) : bay_(bay), model_(model), across_(cells_across(bay)) {
    mesh_.rows = same_across(bay) ? rows_alone : rows_beside;
    mesh_.width = width_of(bay);
    mesh_.height = bay.height;
    const std::vector<double> at = edges(mesh_.rows, true, true);
    for (std::size_t z = 0; z + 1 < at.size(); ++z) rows_.push_back(bay.height * (at[z + 1] - at[z]));
  }

  BayMesh mesh() {
    number();
    for (const bool room : {true, false}) add_sheet(room);
    add_slot(bay_.bottom_slot, true);
    add_slot(bay_.top_slot, false);
    add_through_batt();
    add_joint(bay_.left_joint, 0);
    add_joint(bay_.right_joint, across_.size() - 1);
    return std::move(mesh_);
  }

 private:
  double gap(std::size_t x, bool room) const {
    return room ? across_[x].strip->room_gap : across_[x].strip->sheathing_gap;
  }
  BayColumn& column(std::size_t x, std::size_t z) { return mesh_.columns[x * rows_.size() + z]; }
  std::optional<Index> node(std::size_t x, std::size_t z, bool room) {
    return room ? column(x, z).air_1 : column(x, z).air_2;
  }

  void number() {
    for (const Across& a : across_) {
      const ColumnLayers layers = layers_at(bay_, *a.strip, model_);
      for (const double row : rows_) {
        BayColumn c;
        c.area = a.width * row;
        c.layers = layers;
        if (a.strip->room_gap > 0.0) c.air_1 = mesh_.nodes++;
        if (a.strip->sheathing_gap > 0.0) c.air_2 = mesh_.nodes++;
        mesh_.columns.push_back(c);
      }
    }
  }

  void add_sheet(bool room) {
    for (std::size_t x = 0; x < across_.size(); ++x) {
      if (!(gap(x, room) > 0.0)) continue;
      const double shape = channel(gap(x, room));
      const double area = std::min(gap(x, room), widest_channel) * across_[x].width;
      for (std::size_t z = 0; z < rows_.size(); ++z) {
        if (z + 1 < rows_.size()) {
          const double below = 0.5 * rows_[z], above = 0.5 * rows_[z + 1];
          AirLink up{*node(x, z, room),
                     *node(x, z + 1, room),
                     shape * across_[x].width / (below + above),
                     below,
                     above,
                     area,
                     0.0,
                     0.0,
                     {}};
          if (room) up.room_row = static_cast<int>(z) + 1;
          mesh_.links.push_back(up);
        }
        if (x + 1 < across_.size() && gap(x + 1, room) > 0.0) {
          const double here = rows_[z] / (0.5 * across_[x].width),
                       next = rows_[z] / (0.5 * across_[x + 1].width), d = gap(x, room),
                       d_next = gap(x + 1, room);
          AirLink aside{*node(x, z, room), *node(x + 1, z, room),
                        series(channel(d) * here, channel(d_next) * next)};
          aside.conducts = series(d * here, d_next * next);
          mesh_.links.push_back(aside);
        }
      }
    }
  }

  /// A channel over, or under, the end of the batt, with a node at every strip.
  void add_slot(double height, bool bottom) {
    if (!(height > 0.0)) return;
    const std::size_t z = bottom ? 0 : rows_.size() - 1;
    const Index first = mesh_.nodes;
    for (std::size_t x = 0; x < across_.size(); ++x) {
      const Index slot = mesh_.nodes++;
      const double width = across_[x].width, half_row = 0.5 * rows_[z];
      for (const bool room : {true, false}) {
        const double d = gap(x, room);
        if (!(d > 0.0)) continue;
        const double through = channel(height) * width / (0.5 * bay_.path);
        const Index end = *node(x, z, room);
        AirLink link{slot,
                     end,
                     series(through, channel(d) * width / half_row),
                     0.0,
                     half_row,
                     std::min(d, widest_channel) * width,
                     0.5 * model_.heads,
                     0.0,
                     {}};
        link.conducts = series(height * width / (0.5 * bay_.path), d * width / half_row);
        if (!bottom) {
          std::swap(link.from, link.to);
          std::swap(link.lift_from, link.lift_to);
        }
        if (room) link.room_row = bottom ? 0 : mesh_.rows;
        mesh_.links.push_back(link);
      }
      if (x == 0) continue;
      const double shape = bay_.path / (0.5 * (width + across_[x - 1].width));
      AirLink aside{first + static_cast<Index>(x) - 1, slot, channel(height) * shape};
      aside.conducts = height * shape;
      mesh_.links.push_back(aside);
    }
  }

  /// From gap to gap, through the batt.
  void add_through_batt() {
    if (!(bay_.permeability > 0.0)) return;
    for (BayColumn& c : mesh_.columns)
      if (c.air_1 && c.air_2) {
        c.through = mesh_.links.size();
        mesh_.links.push_back({*c.air_1, *c.air_2, bay_.permeability * c.area / bay_.path});
      }
  }

  /// From gap to gap, between a side of the batt and its stud.
  void add_joint(double width, std::size_t x) {
    if (!(width > 0.0)) return;
    for (std::size_t z = 0; z < rows_.size(); ++z) {
      const BayColumn& c = column(x, z);
      if (c.air_1 && c.air_2)
        mesh_.links.push_back({*c.air_1, *c.air_2, channel(width) * rows_[z] / bay_.path});
    }
  }

  const BayLoop& bay_;
  const LoopModel& model_;
  std::vector<Across> across_;
  std::vector<double> rows_;  ///< heights [m]
  BayMesh mesh_;
};

}  // namespace

BayMesh bay_mesh(const BayLoop& bay, const LoopModel& model) {
  if (!same_from_both_sides(bay)) return Mesher(bay, model).mesh();
  const BayLoop half = half_of(bay);
  return Mesher(half, model).mesh();
}

}  // namespace coldbay
