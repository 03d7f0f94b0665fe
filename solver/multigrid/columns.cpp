#include "solver/multigrid/columns.hpp"

#include <algorithm>
#include <limits>

namespace coldbay {
namespace {

/// How much further apart than the closest planes of a block those may stand that are still left out. At
/// twice the distance the coupling is a quarter; tried 1.5 to 10 on a graded block: 2.5 takes the least time.
constexpr double close = 2.5;

double smallest_gap(const std::vector<double>& at) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i < at.size(); ++i) least = std::min(least, at[i] - at[i - 1]);
  return least;
}

/// Which planes are left out.
std::vector<bool> thinned(const std::vector<double>& at, double within) {
  std::vector<bool> out(at.size(), false);
  for (std::size_t i = 1; i < at.size(); ++i) {
    const double before = at[i] - at[i - 1],
                 after = i + 1 < at.size() ? at[i + 1] - at[i] : std::numeric_limits<double>::infinity();
    out[i] = !out[i - 1] && std::min(before, after) <= within;
  }
  return out;
}

void append(std::vector<Between>& all, const Between& next) {
  if (!all.empty()) {
    Between& last = all.back();
    if (next.from[0] == last.from[0] + last.count &&
        (next.from[1] < 0 ? last.from[1] < 0 : next.from[1] == last.from[1] + last.count)) {
      last.count += next.count;
      return;
    }
  }
  all.push_back(next);
}

/// `place[plane]` is the first place of a plane.
void find_links(Sorting& s, const std::vector<bool>& out, const std::vector<Index>& place, Index in_plane) {
  const auto add = [&](Index p, Index q, Index count, std::size_t way, bool q_first) {
    if (count <= 0) return;
    s.runs.push_back({p, q, count, s.links, way, q_first});
    s.links += count;
  };
  for (std::size_t plane = 0; plane < out.size(); ++plane)
    if (out[plane])
      append(s.between,
             {place[plane], in_plane, {place[plane - 1], plane + 1 < out.size() ? place[plane + 1] : -1}});
  for (const Between& b : s.between) add(b.place, b.from[0], b.count, s.direction, true);
  for (const Between& b : s.between)
    if (b.from[1] >= 0) add(b.place, b.from[1], b.count, s.direction, false);
  for (std::size_t plane = 0; plane + 1 < out.size(); ++plane)
    if (!out[plane] && !out[plane + 1]) add(place[plane], place[plane + 1], in_plane, s.direction, false);
  if (in_plane == 1) return;
  add(0, 1, s.kept - 1, 1 - s.direction, false);
  add(s.kept, s.kept + 1, s.left_out() - 1, 1 - s.direction, false);
}

}  // namespace

Sorting sort_columns(const std::array<std::vector<double>, 2>& at, bool up_fastest) {
  Sorting s;
  const Index across = std::ssize(at[0]), up = std::ssize(at[1]);
  const double gap_across = smallest_gap(at[0]), gap_up = smallest_gap(at[1]);
  s.direction = gap_across <= gap_up ? 0 : 1;
  const double within =
      across > 1 && up > 1 ? close * std::min(gap_across, gap_up) : std::numeric_limits<double>::infinity();
  const std::vector<bool> out = thinned(at[s.direction], within);

  const Index in_plane = s.direction == 0 ? up : across;
  const auto column = [&](Index plane, Index i) {
    const Index a = s.direction == 0 ? plane : i, b = s.direction == 0 ? i : plane;
    return up_fastest ? b + up * a : a + across * b;
  };
  s.place_of.resize(static_cast<std::size_t>(across * up));
  std::vector<Index> place(out.size());
  for (const bool wanted : {false, true}) {
    for (std::size_t plane = 0; plane < out.size(); ++plane) {
      if (out[plane] != wanted) continue;
      place[plane] = s.columns();
      for (Index i = 0; i < in_plane; ++i) {
        const Index c = column(static_cast<Index>(plane), i);
        s.place_of[static_cast<std::size_t>(c)] = static_cast<std::int32_t>(s.columns());
        s.column_at.push_back(static_cast<std::int32_t>(c));
      }
    }
    if (!wanted) s.kept = s.columns();
  }
  s.at = at;
  s.at[s.direction].clear();
  for (std::size_t plane = 0; plane < out.size(); ++plane)
    if (!out[plane]) s.at[s.direction].push_back(at[s.direction][plane]);
  find_links(s, out, place, in_plane);
  return s;
}

}  // namespace coldbay
