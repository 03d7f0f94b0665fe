#include "tools/input/wall_sections.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "geometry/air_paths.hpp"
#include "geometry/wall/air_round.hpp"
#include "geometry/wall/cuts.hpp"
#include "geometry/wall/faults.hpp"
#include "geometry/wall/seen.hpp"
#include "tools/input/wall_reader.hpp"

namespace coldbay {
namespace {

Section cut_section(const Wall& wall, const BuiltWall& built, const Cut& cut) {
  if (cut.kind == Cut::Kind::plan) return plan_section(wall, built, cut.at, cut.name, cut.path);
  double across = cut.at;
  if (cut.bay > 0) {
    if (cut.bay > built.bays.size())
      throw ModelError(cut.path, fmt::format("there is no bay {}", cut.bay),
                       fmt::format("the bays are counted from the left, 1 to {}", built.bays.size()));
    const Span clear = built.bays[cut.bay - 1].clear;
    across = 0.5 * (clear.from + clear.to);
  }
  return vertical_section(wall, built, across, cut.name, cut.path);
}

/// One bay with a stud on either side, cut as a section of the whole wall is.
Section alone(const Wall& wall, const Bay& bay, const Cut& cut) {
  Wall one = wall;
  one.bays = {bay};
  one.posts.clear();
  const BuiltWall built = build(one);
  if (cut.kind == Cut::Kind::plan) return plan_section(one, built, cut.at, cut.name, cut.path);
  const Span clear = built.bays[0].clear;
  return vertical_section(one, built, 0.5 * (clear.from + clear.to), cut.name, cut.path);
}

/// The sections of the wall built right, where they show anything else.
void cut_right(const Wall& wall, const Wall& right, const std::vector<Cut>& cuts, Case& out) {
  const BuiltWall built = build(right);
  for (std::size_t c = 0; c < cuts.size(); ++c) {
    Section section = cut_section(right, built, cuts[c]);
    const bool same = std::none_of(wall.bays.begin(), wall.bays.end(),
                                   [&](const Bay& bay) { return differ(out.sections[c], section, bay); });
    out.right.push_back(same ? std::nullopt : std::optional(std::move(section)));
  }
}

/// Each bay of scraps that a section shows, stuffed in as many ways as it says.
void stuff(const Wall& wall, const Wall& right, const std::vector<Cut>& cuts, Case& out) {
  for (std::size_t c = 0; c < cuts.size(); ++c)
    for (std::size_t b = 0; b < wall.bays.size(); ++b) {
      Bay bay = wall.bays[b];
      if (!bay.scraps || bay.opening || !out.right[c] || !differ(out.sections[c], *out.right[c], bay))
        continue;
      Stuffings s{c, fmt::format("bay {}", b + 1), {}, alone(wall, right.bays[b], cuts[c])};
      for (int n = 0; n < wall.bays[b].scraps->seeds; ++n, ++bay.scraps->seed)
        s.stuffed.push_back(alone(wall, bay, cuts[c]));
      out.stuffings.push_back(std::move(s));
    }
}

/// Where a cut lies: a height, or a distance across.
double place_of(const BuiltWall& built, const Cut& cut) {
  if (cut.bay == 0) return cut.at;
  const Span clear = built.bays[cut.bay - 1].clear;
  return 0.5 * (clear.from + clear.to);
}

constexpr double same_depth = 1e-6;  ///< rounding of inches and millimetres [m]

/// A fault that no section shows would be missing in every number, unsaid.
void warn_of_unseen(const Wall& wall, Case& out, const Node& root) {
  const std::vector<std::size_t> unknown = without_right_way(wall);
  const std::vector<std::vector<Fault>> faults = faults_of(wall);
  for (std::size_t b = 0; b < faults.size(); ++b) {
    if (std::find(unknown.begin(), unknown.end(), b) != unknown.end()) continue;
    const bool unseen = std::any_of(faults[b].begin(), faults[b].end(), [&](Fault f) {
      return std::none_of(out.seen.begin(), out.seen.end(), [&](const auto& section) {
        return std::find(section[b].begin(), section[b].end(), f) != section[b].end();
      });
    });
    if (!unseen) continue;
    out.warnings.push_back({node_at(root, wall.bays[b].path).where,
                            fmt::format("no section shows {} wrong with bay {}",
                                        faults[b].size() == 1 ? "what is" : "all that is", b + 1),
                            "",
                            fmt::format("add one: vertical through bay {}, or plan at its height", b + 1)});
  }
  for (const std::size_t b : unknown)
    out.warnings.push_back({node_at(root, wall.bays[b].path).where,
                            fmt::format("what would be right in bay {}? Nothing is compared with it", b + 1),
                            "", "give the bay its right fill: right: batt R-13"});
}

/// A gap beyond the law of the channel, before or behind a fill that air may go round.
void warn_of_deep_gaps(const Wall& wall, Case& out, const Node& root) {
  if (out.air.gaps == AirInGaps::still) return;
  const Depths depths = depths_of(wall);
  const Elevation e = elevation_of(wall);
  for (std::size_t b = 0; b < wall.bays.size(); ++b) {
    const AirRoundFill air = air_round(wall.bays[b], {e.bays[b], e.up, depths.frame});
    const double deepest = std::max(air.room, air.sheathing);
    if (!air.on_both_faces() || deepest <= widest_channel + same_depth) continue;
    out.warnings.push_back(
        {node_at(root, wall.bays[b].path + ".gap").where,
         fmt::format("air {:.0f} mm deep {} the fill of bay {} is no channel any more", 1e3 * deepest,
                     air.room >= air.sheathing ? "before" : "behind", b + 1),
         "",
         fmt::format(
             "what goes round in it is reckoned as in {:.0f} mm, the heat across it by the rule for air "
             "spaces",
             1e3 * widest_channel)});
  }
}

}  // namespace

void add_problems(const std::vector<Problem>& problems, const Node& root, Reading& in) {
  const std::vector<InputError> before = in.errors;
  for (const Problem& p : problems) {
    const Place where = node_at(root, p.path).where;
    const bool known = std::any_of(before.begin(), before.end(), [&](const InputError& e) {
      return e.where.line == where.line && e.where.column == where.column;
    });
    if (!known) in.error(where, p.what, p.hint);
  }
}

void read_limits(const Node& node, FillingLimits& limits, Reading& in) {
  const Fields fields(node, "limits of bad filling", {"nothing", "incomplete", "compressed"}, in);
  const auto read = [&](const char* key) {
    return read_quantity(fields.optional(key), Quantity::fraction, in);
  };
  limits = {read("nothing"), read("incomplete"), read("compressed")};
}

void read_wall_sections(const Node& wall_node, const Node* cuts, const CaseParts& wanted, Case& out,
                        const Node& root, Reading& in) {
  const Wall wall = read_wall(wall_node, in);
  add_problems(check(wall), root, in);
  if (!cuts)
    return in.error(wall_node.where, "the wall is not cut: 'sections' is missing",
                    "write sections: [plan at 48 in]");
  const auto all = read_cuts(*cuts, in);
  if (!in.errors.empty()) return;
  if (all.empty())
    return in.error(cuts->where, "there is no section to solve", "write sections: [plan at 48 in]");

  const BuiltWall built = build(wall);
  for (const Cut& cut : all) try {
      out.sections.push_back(cut_section(wall, built, cut));
    } catch (const ModelError& e) {
      add_problems(e.problems(), root, in);
    }
  if (!in.errors.empty()) return;
  out.wall = wall;
  for (const Cut& cut : all) out.plan_heights.push_back(cut.kind == Cut::Kind::plan ? cut.at : unread);
  if (wanted.right) {
    const Wall right = built_right(wall);
    cut_right(wall, right, all, out);
    if (wanted.scraps) stuff(wall, right, all, out);
  }
  if (!wanted.warnings) return;
  for (const Cut& cut : all)
    out.seen.push_back(seen_faults(wall, cut.kind == Cut::Kind::plan ? Direction::up : Direction::across,
                                   place_of(built, cut)));
  warn_of_unseen(wall, out, root);
  warn_of_deep_gaps(wall, out, root);
}

}  // namespace coldbay
