#include "geometry/wall/faults.hpp"

#include <algorithm>

#include "geometry/wall/build.hpp"

namespace coldbay {
namespace {

/// Less than this behind a box takes no piece of batt [m]; common practice, no source.
constexpr double least_piece = 0.010;

bool is_squeezed(const Bay& bay, double depth) {
  if (bay.fill_fraction || bay.scraps) return false;
  double batts = 0.0, others = 0.0;
  for (const Fill& f : bay.fills) (f.batt ? batts : others) += f.thickness;
  return batts > 0.0 && batts + others - depth > slack;
}

bool fits(const Fill& fill, double depth) {
  return !fill.batt || std::abs(fill.batt->thickness - depth) <= slack;
}

bool same_fill(const Fill& a, const Fill& b) { return a.material == b.material; }

std::vector<Region> spaces_of(const Wall& wall) {
  const Depths depths = depths_of(wall);
  const Elevation e = elevation_of(wall);
  std::vector<Region> all;
  for (const Span& bay : e.bays) all.push_back({bay, e.up, depths.frame});
  return all;
}

/// The single fill that most sound bays of the wall have; the first of those, where several are as many. One
/// that only faulty bays have, where no bay is sound.
std::optional<Fill> usual_fill(const Wall& wall, const std::vector<Region>& spaces) {
  std::optional<Fill> usual;
  long most = 0;
  for (const bool sound : {true, false}) {
    const auto counts = [&](std::size_t b) {
      const Bay& bay = wall.bays[b];
      return bay.fills.size() == 1 && fits(bay.fills[0], spaces[b].depth.length()) &&
             (!sound || faults_of(bay, spaces[b]).empty());
    };
    for (std::size_t b = 0; b < wall.bays.size(); ++b) {
      if (!counts(b)) continue;
      long n = 0;
      for (std::size_t c = 0; c < wall.bays.size(); ++c)
        if (counts(c) && same_fill(wall.bays[b].fills[0], wall.bays[c].fills[0])) ++n;
      if (n <= most) continue;
      most = n;
      usual = wall.bays[b].fills[0];
    }
    if (usual) break;
  }
  return usual;
}

/// A batt is split round a cable. It goes behind a pipe, which stays on the room's side, unless there is too
/// little room for it there: then it is split too.
ServiceRun::Laid right_way(const ServiceRun& run, const Region& space) {
  const double behind = space.depth.length() - (run.depth + 0.5 * run.diameter);
  const bool fits = behind >= least_local_share * space.depth.length();
  return run.kind == ServiceRun::Kind::pipe && fits ? ServiceRun::Laid::behind : ServiceRun::Laid::split;
}

/// Whether the bay must have another fill to be right: nothing is in it, or batts that are not as thick as it
/// is deep.
bool wants_other(const Bay& bay, double depth) {
  if (bay.fills.empty() || bay.intended) return true;
  if (bay.fills.size() == 1) return !fits(bay.fills[0], depth);
  double all = 0.0;
  bool takes_rest = false;
  for (const Fill& f : bay.fills) {
    all += f.thickness;
    takes_rest = takes_rest || f.thickness == 0.0;
  }
  return all - depth > slack || (!takes_rest && depth - all > slack);
}

bool can_be_put_right(const Bay& bay, const Region& space, const std::optional<Fill>& usual) {
  return !wants_other(bay, space.depth.length()) || bay.intended || usual;
}

void put_right(Bay& bay, const Region& space, const std::optional<Fill>& usual) {
  if (!can_be_put_right(bay, space, usual)) return;
  if (wants_other(bay, space.depth.length())) bay.fills = {bay.intended ? *bay.intended : *usual};
  bay.gap = {};
  bay.width.reset();
  bay.thickness.reset();
  bay.short_end.reset();
  bay.folded.reset();
  bay.fallen = bay.settled = 0.0;
  bay.staples.reset();
  bay.shoulders = 0.0;
  bay.fill_fraction.reset();
  bay.scraps.reset();
  bay.voids.clear();
  for (Enclosure& box : bay.enclosures) {
    box.margin = 0.0;
    const double left = space.depth.to - std::max(box.front + box.depth, space.depth.from);
    const bool foamed = box.behind == Enclosure::Behind::foam;
    if (!foamed) box.behind = left < least_piece ? Enclosure::Behind::foam : Enclosure::Behind::filled;
  }
  for (ServiceRun& run : bay.runs)
    if (run.laid == ServiceRun::Laid::over || run.kind != ServiceRun::Kind::pipe)
      run.laid = right_way(run, space);
}

}  // namespace

std::vector<Fault> faults_of(const Bay& bay, const Region& space) {
  std::vector<Fault> all;
  const auto note = [&all](bool is, Fault fault) {
    if (is && std::find(all.begin(), all.end(), fault) == all.end()) all.push_back(fault);
  };
  const double clear = space.across.length() - bay.gap.left - bay.gap.right;
  note(bay.fills.empty() && !bay.opening, Fault::missing);
  note(bay.gap.any(), Fault::gap);
  note(bay.width && *bay.width < clear - slack && !bay.strip_filled, Fault::narrow);
  note(bay.width && *bay.width > clear + friction_fit + slack, Fault::forced);
  note(bay.short_end && !bay.short_end->filled, Fault::short_end);
  note(bay.folded.has_value(), Fault::folded);
  note(bay.fallen > 0.0, Fault::fallen);
  note(bay.settled > 0.0, Fault::settled);
  note(bay.thickness && *bay.thickness < space.depth.length() - slack, Fault::thin);
  note(is_squeezed(bay, space.depth.length()), Fault::squeezed);
  note(bay.staples.has_value(), Fault::inset_staples);
  note(bay.shoulders > 0.0, Fault::shoulders);
  note(bay.scraps || bay.fill_fraction, Fault::scraps);
  note(!bay.voids.empty(), Fault::hole);
  for (const ServiceRun& run : bay.runs)
    if (run.kind == ServiceRun::Kind::pipe)
      note(run.laid == ServiceRun::Laid::over, Fault::cold_pipe);
    else
      note(run.laid != ServiceRun::Laid::split, Fault::pushed_over);
  using Behind = Enclosure::Behind;
  for (const Enclosure& box : bay.enclosures) {
    const bool room = space.depth.to - (box.front + box.depth) > slack;
    note(room && box.behind == Behind::open, Fault::box_open);
    note(room && box.behind == Behind::squeezed, Fault::box_squeezed);
    note(room && box.behind == Behind::piece && space.depth.to - box.front - box.depth - box.piece > slack,
         Fault::box_piece);
    note(box.margin > 0.0, Fault::box_margin);
  }
  std::sort(all.begin(), all.end());
  return all;
}

std::vector<std::vector<Fault>> faults_of(const Wall& wall) {
  const std::vector<Region> spaces = spaces_of(wall);
  std::vector<std::vector<Fault>> all;
  for (std::size_t b = 0; b < wall.bays.size(); ++b) all.push_back(faults_of(wall.bays[b], spaces[b]));
  return all;
}

Wall built_right(const Wall& wall) {
  const std::vector<Region> spaces = spaces_of(wall);
  const std::optional<Fill> usual = usual_fill(wall, spaces);
  Wall right = wall;
  for (std::size_t b = 0; b < wall.bays.size(); ++b)
    if (!faults_of(wall.bays[b], spaces[b]).empty()) put_right(right.bays[b], spaces[b], usual);
  return right;
}

std::vector<std::size_t> without_right_way(const Wall& wall) {
  const std::vector<Region> spaces = spaces_of(wall);
  const std::optional<Fill> usual = usual_fill(wall, spaces);
  std::vector<std::size_t> all;
  for (std::size_t b = 0; b < wall.bays.size(); ++b)
    if (!wall.bays[b].opening && !can_be_put_right(wall.bays[b], spaces[b], usual)) all.push_back(b);
  return all;
}

}  // namespace coldbay
