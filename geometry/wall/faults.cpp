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
  return !fill.batt || (fill.batt->thickness - depth <= slack && depth - fill.batt->thickness <= fluff);
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
  struct Counted {
    const Fill* fill;
    long bays;
  };
  for (const bool sound : {true, false}) {
    std::vector<Counted> fills;  // each once, in the order of the bays: few
    for (std::size_t b = 0; b < wall.bays.size(); ++b) {
      const Bay& bay = wall.bays[b];
      if (bay.fills.size() != 1 || !fits(bay.fills[0], spaces[b].depth.length()) ||
          (sound && !faults_of(bay, spaces[b]).empty()))
        continue;
      const auto same = std::find_if(fills.begin(), fills.end(),
                                     [&](const Counted& c) { return same_fill(*c.fill, bay.fills[0]); });
      if (same == fills.end())
        fills.push_back({bay.fills.data(), 1});
      else
        ++same->bays;
    }
    const auto most = std::max_element(fills.begin(), fills.end(),
                                       [](const Counted& x, const Counted& y) { return x.bays < y.bays; });
    if (most != fills.end()) return *most->fill;
  }
  return std::nullopt;
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
  return all - depth > slack || (!takes_rest && depth - all > fluff);
}

bool can_be_put_right(const Bay& bay, const Region& space, const std::optional<Fill>& usual) {
  return !wants_other(bay, space.depth.length()) || bay.intended || usual;
}

/// Puts one fault of a bay right.
void put_right(Bay& bay, Fault fault, const Region& space, const std::optional<Fill>& usual) {
  using Behind = Enclosure::Behind;
  const auto behind_boxes = [&](Behind what) {
    for (Enclosure& box : bay.enclosures) {
      const double left = space.depth.to - std::max(box.front + box.depth, space.depth.from);
      if (box.behind == what) box.behind = left < least_piece ? Behind::foam : Behind::filled;
    }
  };
  switch (fault) {
    case Fault::missing:
    case Fault::squeezed:
      break;  // that is another fill, below
    case Fault::gap:
      bay.gap = {};
      break;
    case Fault::narrow:
    case Fault::forced:
      bay.width.reset();
      break;
    case Fault::short_end:
      bay.short_end.reset();
      break;
    case Fault::folded:
      bay.folded.reset();
      break;
    case Fault::fallen:
      bay.fallen = 0.0;
      break;
    case Fault::settled_fill:
      bay.settled = 0.0;
      break;
    case Fault::thin:
      bay.thickness.reset();
      break;
    case Fault::inset_staples:
      bay.staples.reset();
      break;
    case Fault::shoulders:
      bay.shoulders = 0.0;
      break;
    case Fault::scraps:
      bay.fill_fraction.reset();
      bay.scraps.reset();
      break;
    case Fault::hole:
      bay.voids.clear();
      break;
    case Fault::pushed_over:
    case Fault::cold_pipe:
      for (ServiceRun& run : bay.runs)
        if ((run.kind == ServiceRun::Kind::pipe) == (fault == Fault::cold_pipe) &&
            (run.laid == ServiceRun::Laid::over || fault == Fault::pushed_over))
          run.laid = right_way(run, space);
      break;
    case Fault::box_open:
      behind_boxes(Behind::open);
      break;
    case Fault::box_squeezed:
      behind_boxes(Behind::squeezed);
      break;
    case Fault::box_piece:
      behind_boxes(Behind::piece);
      break;
    case Fault::box_margin:
      for (Enclosure& box : bay.enclosures) box.margin = 0.0;
      break;
  }
  const bool other_fill = fault == Fault::missing || fault == Fault::squeezed || fault == Fault::gap;
  if (other_fill && wants_other(bay, space.depth.length()) && (bay.intended || usual))
    bay.fills = {bay.intended ? *bay.intended : *usual};
}

}  // namespace

std::vector<Fault> faults_of(const Bay& bay, const Region& space) {
  // Round an opening there is room for a fill only over its header and under its sill.
  const bool holds_fill = !bay.opening || bay.opening->sill > 0.0 ||
                          bay.opening->head + bay.opening->header < space.up.to - slack;
  std::vector<Fault> all;
  const auto note = [&all](bool is, Fault fault) {
    if (is && std::find(all.begin(), all.end(), fault) == all.end()) all.push_back(fault);
  };
  const double clear = space.across.length() - bay.gap.left - bay.gap.right;
  note(bay.fills.empty() && holds_fill, Fault::missing);
  note(bay.gap.any(), Fault::gap);
  note(bay.width && *bay.width < clear - slack && !bay.strip_filled, Fault::narrow);
  note(bay.width && *bay.width > clear + friction_fit + slack, Fault::forced);
  note(bay.short_end && !bay.short_end->filled, Fault::short_end);
  note(bay.folded.has_value(), Fault::folded);
  note(bay.fallen > 0.0, Fault::fallen);
  note(bay.settled > 0.0, Fault::settled_fill);
  note(bay.thickness && *bay.thickness < space.depth.length() - slack, Fault::thin);
  note(is_squeezed(bay, space.depth.length()), Fault::squeezed);
  note(bay.staples.has_value(), Fault::inset_staples);
  note(bay.shoulders > 0.0, Fault::shoulders);
  note(bay.scraps || (bay.fill_fraction && *bay.fill_fraction < 1.0), Fault::scraps);
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
  for (std::size_t b = 0; b < wall.bays.size(); ++b) {
    const std::vector<Fault> faults = faults_of(wall.bays[b], spaces[b]);
    if (faults.empty() || !can_be_put_right(wall.bays[b], spaces[b], usual)) continue;
    Bay& bay = right.bays[b];
    for (const Fault f : faults) put_right(bay, f, spaces[b], usual);
    if (wants_other(bay, spaces[b].depth.length())) bay.fills = {bay.intended ? *bay.intended : *usual};
  }
  return right;
}

Bay put_right(const Wall& wall, std::size_t bay, Fault fault) {
  const std::vector<Region> spaces = spaces_of(wall);
  Bay right = wall.bays[bay];
  put_right(right, fault, spaces[bay], usual_fill(wall, spaces));
  return right;
}

std::vector<std::size_t> without_right_way(const Wall& wall) {
  const std::vector<Region> spaces = spaces_of(wall);
  const std::optional<Fill> usual = usual_fill(wall, spaces);
  std::vector<std::size_t> all;
  for (std::size_t b = 0; b < wall.bays.size(); ++b)
    if (!faults_of(wall.bays[b], spaces[b]).empty() && !can_be_put_right(wall.bays[b], spaces[b], usual))
      all.push_back(b);
  return all;
}

}  // namespace coldbay
