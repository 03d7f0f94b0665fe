#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/section_checks.hpp"
#include "geometry/wall/build.hpp"
#include "geometry/wall/check_services.hpp"
#include "geometry/wall/fill.hpp"
#include "geometry/wall/lengths.hpp"
#include "geometry/wall/services.hpp"

namespace coldbay {
namespace {

/// Lengths that differ by less are equal: rounding of inches and millimetres [m].

using Problems = std::vector<Problem>;

/// More scraps in one bay are refused: they would take minutes, and smaller ones make no other answer.
constexpr double most_lumps = 20'000;

void check_gap(const Bay& bay, double depth, Problems& problems) {
  const Gap& g = bay.gap;
  if (g.left + g.right >= bay.clear_width)
    problems.push_back(
        {bay.path + ".gap",
         fmt::format("gaps of {} leave nothing of a bay {} wide", mm(g.left + g.right), mm(bay.clear_width)),
         "for a bay without insulation write 'nothing'"});
  if (g.room + g.sheathing >= depth)
    problems.push_back(
        {bay.path + ".gap",
         fmt::format("gaps of {} leave nothing of a bay {} deep", mm(g.room + g.sheathing), mm(depth)),
         "for a bay without insulation write 'nothing'"});
}

/// A batt has the depth of its bay, or is squeezed into it, or says where the rest is.
void check_thickness(const Bay& bay, double room, Problems& problems) {
  if (bay.fills.empty() || bay.fill_fraction || bay.scraps) return;
  double batts = 0.0, others = 0.0;
  bool takes_rest = false;
  for (const Fill& f : bay.fills) {
    (f.batt ? batts : others) += f.thickness;
    takes_rest = takes_rest || f.thickness == 0.0;
  }
  const std::string name = bay.fills.size() == 1 ? bay.fills[0].material.name : "what is in this bay";
  if (bay.thickness) {
    if (*bay.thickness > room + slack)
      problems.push_back({bay.path + ".thickness",
                          fmt::format("a batt {} thick has {} here", mm(*bay.thickness), mm(room)),
                          "give the thickness that it has recovered to, or leave it out"});
    if (!bay.fills.empty() && bay.fills[0].batt && *bay.thickness > bay.fills[0].batt->thickness + slack &&
        *bay.thickness <= room + slack)
      problems.push_back({bay.path + ".thickness",
                          fmt::format("{} is {} thick by its label and does not recover to {}", name,
                                      mm(bay.fills[0].batt->thickness), mm(*bay.thickness)),
                          "give the thickness that it has recovered to, or another batt"});
    if (!bay.fills.empty() && bay.fills[0].batt &&
        *bay.thickness < least_thickness_share * bay.fills[0].batt->thickness)
      problems.push_back(
          {bay.path + ".thickness",
           fmt::format("{} is {} thick: squeezed to {} it cannot be reckoned", name,
                       mm(bay.fills[0].batt->thickness), mm(*bay.thickness)),
           fmt::format("from {} up it can", mm(least_thickness_share * bay.fills[0].batt->thickness))});
    return;
  }
  if (bay.fills.size() == 1 && !bay.fills[0].batt) return;
  if (others >= room - same_measure && (batts > 0.0 || takes_rest || others > room + slack))
    problems.push_back({bay.path,
                        fmt::format("{} of other fill leave no room in a bay {} deep", mm(others), mm(room)),
                        "make them thinner, or leave one out"});
  else if (takes_rest && batts + others > room - slack)
    problems.push_back({bay.path,
                        fmt::format("fills of {} leave nothing of {} for the one that is to take the rest",
                                    mm(batts + others), mm(room)),
                        "leave it out, or make the others thinner"});
  else if (batts > 0.0 && room - others < least_thickness_share * batts)
    problems.push_back(
        {bay.path,
         fmt::format("{} is {} thick and has {} here: that is more than a batt can be squeezed", name,
                     mm(batts), mm(room - others)),
         "choose a batt made for this depth, or give a fill by its conductivity"});
  else if (!takes_rest && room - others - batts > fluff)
    problems.push_back(
        {bay.path,
         fmt::format("{} is {} thick in {}: where is the rest?", name, mm(batts + others), mm(room)),
         fmt::format("say on which side the air is: gap: {{sheathing: {}}} or gap: {{room: {}}}",
                     mm(room - others - batts), mm(room - others - batts))});
}

/// A gap at an end that something else fills, or has given already.
void check_ends(const Bay& bay, Problems& problems) {
  const auto check = [&](double gap, BayEnd end, const char* word) {
    if (!(gap > 0.0)) return;
    const bool is_short = bay.short_end && bay.short_end->at == end;
    const bool slumped = end == BayEnd::bottom && bay.fallen + bay.settled > 0.0;
    const bool folded = bay.folded && bay.folded->at == end;
    const std::string path = fmt::format("{}.gap.{}", bay.path, word);
    if (is_short && bay.short_end->filled)
      problems.push_back({path, fmt::format("the {} of this batt is filled: no gap is left there", word),
                          fmt::format("leave out '{}', or 'end: filled'", word)});
    else if (is_short)
      problems.push_back({path, fmt::format("this batt is short at the {} already: which is it?", word),
                          fmt::format("give what it lacks once: short: {0}, at: {1}, or gap: {{{1}: {0}}}",
                                      mm(bay.short_end->by), word)});
    else if (folded)
      problems.push_back({path,
                          fmt::format("the {} of this batt is folded under: no gap is left there", word),
                          fmt::format("leave out '{}', or 'folded'", word)});
    else if (slumped)
      problems.push_back({path, "what has slumped or settled stands on the plate: no gap is left below it",
                          "leave out 'bottom'"});
  };
  check(bay.gap.top, BayEnd::top, "top");
  check(bay.gap.bottom, BayEnd::bottom, "bottom");
}

/// How the piece was cut, against the bay it is in.
void check_piece(const Bay& bay, const Region& space, Problems& problems) {
  const double room = space.across.length() - bay.gap.left - bay.gap.right, height = space.up.length();
  // What is left of the bay to the batt itself.
  const std::vector<Laid> laid = laid_fills(bay, space);
  const double width = laid.empty() ? room : laid.front().at.across.length();
  const double depth =
      laid.empty() ? space.depth.length() : laid.back().at.depth.to - laid.front().at.depth.from;
  const double piece = piece_height(bay, space);
  const auto problem = [&](const char* key, std::string what, std::string hint) {
    problems.push_back({bay.path + key, std::move(what), std::move(hint)});
  };
  const double roundest = std::min(0.5 * width, depth);
  if (bay.width && *bay.width > room + friction_fit + roundest + same_measure)
    problem(".width", fmt::format("a batt {} wide does not go into {}", mm(*bay.width), mm(room)),
            fmt::format("one of up to {} can be forced in", mm(room + friction_fit + roundest)));
  if (bay.shoulders > roundest + same_measure)
    problem(".shoulders",
            fmt::format("shoulders rounded by {} are more than this batt has", mm(bay.shoulders)),
            fmt::format("at most {} here", mm(roundest)));
  if (bay.short_end && bay.short_end->by >= height)
    problem(".short",
            fmt::format("a batt {} too short for a bay {} high is none", mm(bay.short_end->by), mm(height)),
            fmt::format("less than {}, or write 'nothing'", mm(height)));
  else if (piece < same_measure)
    problem(".gap",
            fmt::format("gaps of {} at the ends leave nothing of a bay {} high",
                        mm(bay.gap.top + bay.gap.bottom), mm(height)),
            "for a bay without insulation write 'nothing'");
  check_ends(bay, problems);
  if (piece > 0.0 && bay.fallen >= 0.6 * piece)
    problem(".fallen", fmt::format("a batt {} high cannot slump by {}", mm(piece), mm(bay.fallen)),
            fmt::format("at most {}: it is squeezed to 40 % then", mm(0.6 * piece)));
  else if (piece > 0.0 && bay.settled >= piece - bay.fallen)
    problem(".settled",
            fmt::format("a fill settled by {} of {} is none", mm(bay.settled), mm(piece - bay.fallen)),
            fmt::format("less than {}, or write 'nothing'", mm(piece - bay.fallen)));
  if (bay.folded && bay.folded->by + depth > 0.5 * height)
    problem(".folded",
            fmt::format("an end of {} does not fold under in a bay {} high", mm(bay.folded->by), mm(height)),
            fmt::format("at most {}", mm(0.5 * height - depth)));
  if (bay.folded && (bay.short_end || bay.fallen > 0.0 || bay.settled > 0.0))
    problem(".folded", "a batt is too long or too short, not both", "leave 'short' and 'fallen' out");
  if (bay.staples && 2.0 * bay.staples->pocket >= width)
    problem(".staples",
            fmt::format("pockets of {} along both studs are wider than a bay of {}", mm(bay.staples->pocket),
                        mm(width)),
            fmt::format("less than {}", mm(0.5 * width)));
  if (bay.staples && bay.staples->depth > (1.0 - least_local_share) * depth)
    problem(".staples",
            fmt::format("pockets {} deep leave {} of the batt", mm(bay.staples->depth),
                        mm(depth - bay.staples->depth)),
            fmt::format("at most {} here", mm((1.0 - least_local_share) * depth)));
  for (const Void& v : bay.voids) {
    const Rectangle box = bounding_box(v.outline);
    const double first = v.along == Direction::up ? space.across.length() : space.up.to;
    if (box.across.from < -same_measure || box.across.to > first + same_measure ||
        box.depth.from < -same_measure || box.depth.to > depth + same_measure)
      problems.push_back({v.path, "this void reaches out of its bay",
                          fmt::format("the bay is {} by {} deep here", mm(first), mm(depth))});
    check_outline(v.outline, v.path, problems);
    if (!v.reach) continue;
    const bool up = v.along == Direction::up;
    const Span whole = up ? space.up : Span{0.0, space.across.length()};
    if (v.reach->to <= whole.from || v.reach->from >= whole.to)
      problems.push_back({v.path + (up ? ".up" : ".across"), "this void lies outside its bay",
                          fmt::format("the bay reaches from {} to {}", mm(whole.from), mm(whole.to))});
  }
}

/// Words that speak of one batt make no sense in a bay of several, or of none.
void check_one_batt(const Bay& bay, Problems& problems) {
  const auto needs = [&](bool there, const char* key, bool batt) {
    if (!there || (bay.fills.size() == 1 && (!batt || bay.fills[0].batt))) return;
    problems.push_back({bay.path + key,
                        bay.fills.empty() ? "there is nothing in this bay that this could be said of"
                                          : "this can be said of a bay with one batt only",
                        "give the bay its batt: batt: R-13"});
  };
  needs(bay.width.has_value(), ".width", false);
  needs(bay.thickness.has_value(), ".thickness", false);
  needs(bay.short_end.has_value(), ".short", false);
  needs(bay.folded.has_value(), ".folded", true);
  needs(bay.fallen > 0.0, ".fallen", true);
  needs(bay.settled > 0.0, ".settled", false);
  if (bay.settled > 0.0 && bay.fills.size() == 1 && bay.fills[0].batt)
    problems.push_back(
        {bay.path + ".settled", "a batt does not settle", "loose fill does; of a batt say fallen: 6 in"});
  needs(bay.staples.has_value(), ".staples", false);
  needs(bay.shoulders > 0.0, ".shoulders", false);
  needs(bay.fill_fraction.has_value() && !bay.scraps, ".fill fraction", true);
  needs(bay.scraps.has_value(), ".scraps", true);
  needs(!bay.voids.empty(), ".void", false);
}

/// What is done to a batt in several ways at once may be more than it can bear.
void check_density(const Wall& wall, const Bay& bay, const Region& space, Problems& problems) {
  const std::size_t before = problems.size();
  for (const Laid& laid : laid_fills(bay, space)) {
    const double most = 1.0 / least_thickness_share;
    if (laid.fill->batt && laid.squeezed > most + 1e-9)
      problems.push_back({bay.path,
                          fmt::format("all this together squeezes {} to {:.1f} times its density",
                                      laid.fill->material.name, laid.squeezed),
                          fmt::format("up to {:.1f} times it can be reckoned", most)});
    if (bay.scraps) {
      const auto along = [&](Span s) { return std::max(1.0, s.length() / bay.scraps->lump); };
      const double lumps = along(laid.at.across) * 0.5 * along(laid.at.up) * along(laid.at.depth);
      if (lumps > most_lumps)
        problems.push_back({bay.path + ".scraps",
                            fmt::format("scraps of {} are {:.0f} in this bay", mm(bay.scraps->lump), lumps),
                            fmt::format("up to {:.0f} can be drawn: give a larger lump", most_lumps)});
    }
    if (laid.fill->batt && bay.scraps && laid.squeezed * (1.0 - 0.5) < least_density_share)
      problems.push_back({bay.path + ".scraps", "scraps as thin as this cannot be reckoned in lumps",
                          "give a fill fraction of 60 % or more"});
  }
  // Folds and dents are in what is squeezed already.
  if (problems.size() > before || bay.fills.size() != 1 || !bay.fills[0].batt) return;
  std::vector<Piece> pieces;
  add_fill(wall, bay, space, pieces);
  if (!bay.opening) fit_round_services(wall, bay, space, pieces);
  double densest = 0.0;
  for (const Piece& p : pieces)
    if (p.role == Piece::Role::fill) densest = std::max(densest, p.squeezed);
  if (densest > 1.0 / least_local_share + 1e-9)
    problems.push_back({bay.path,
                        fmt::format("all this together squeezes {} to {:.1f} times its density somewhere",
                                    bay.fills[0].material.name, densest),
                        fmt::format("up to {:.1f} times it can be reckoned", 1.0 / least_local_share)});
}

void check_opening(const Wall& wall, const Bay& bay, const Region& space, Problems& problems) {
  const Opening& o = *bay.opening;
  const auto problem = [&](const char* key, std::string what, std::string hint) {
    problems.push_back({o.path + key, std::move(what), std::move(hint)});
  };
  if (o.head + o.header > space.up.to + same_measure)
    problem(".head", fmt::format("head and header reach to {}", mm(o.head + o.header)),
            fmt::format("the top plates begin at {}", mm(space.up.to)));
  if (o.sill >= o.head)
    problem(".sill", "the sill is not below the head", "give their heights above the floor");
  if (o.sill > 0.0 && o.sill - wall.frame.member_width < space.up.from)
    problem(".sill", fmt::format("there is no room for a sill plate under {}", mm(o.sill)),
            "leave the sill out for a door");
  if (o.u_value && *o.u_value >= 1.0 / 0.17)
    problem(".U", "an opening with such a U-value has no resistance but its films",
            "a window has 1 to 3 W/m2K, films included");
  if (wall.frame.sheet)
    problem("", "openings are known in wooden frames only",
            "describe the wall beside it: a window is not part of its insulation");
  if (!bay.enclosures.empty() || !bay.runs.empty() || !bay.voids.empty())
    problem("", "nothing can stand in, or run through, the bay of an opening",
            "describe it in the bay beside it");
}

/// Members that stand or lie in a bay: rows of blocking, and the flat stud of an open corner. A run may be
/// drilled through those that cross its way.
std::vector<Region> members_in(const Wall& wall, std::size_t b) {
  const Elevation e = elevation_of(wall);
  const Span depth = depths_of(wall).frame, bay = e.bays[b];
  const double half = 0.5 * wall.frame.member_width, deep = wall.frame.member_depth;
  std::vector<Region> all;
  for (const double at : wall.frame.blocking) all.push_back({bay, {at - half, at + half}, depth});
  const Span thick{depth.from, depth.from + wall.frame.member_width};
  if (b == 0 && post_of(wall, 0).kind == Post::Kind::corner_open)
    all.push_back({{bay.from, bay.from + deep}, e.up, thick});
  if (b + 1 == wall.bays.size() && post_of(wall, b + 1).kind == Post::Kind::corner_open)
    all.push_back({{bay.to - deep, bay.to}, e.up, thick});
  return all;
}

void check_bay(const Wall& wall, std::size_t b, const Region& space, Problems& problems) {
  const Bay& bay = wall.bays[b];
  if (bay.clear_width <= 0.0) {
    problems.push_back(
        {bay.path, fmt::format("this bay is {} wide", mm(bay.clear_width)),
         "the spacing of the studs must be more than their width, or give the bay a clear width"});
    return;
  }
  const std::size_t before = problems.size();
  const double depth = space.depth.length();
  check_gap(bay, depth, problems);
  if (problems.size() > before) return;
  check_thickness(bay, depth - bay.gap.room - bay.gap.sheathing, problems);
  check_one_batt(bay, problems);
  if (bay.opening) check_opening(wall, bay, space, problems);
  // Round an opening, what is wrong with the fill is so above and below it.
  if (!bay.opening) check_piece(bay, space, problems);
  if (bay.opening && problems.size() == before)
    for (const Region& at : round_opening(wall, *bay.opening, space)) {
      if (problems.size() == before) check_piece(bay, at, problems);
      if (problems.size() == before) check_density(wall, bay, at, problems);
    }
  check_services(bay, space, members_in(wall, b), problems);
  if (!bay.opening && problems.size() == before) check_density(wall, bay, space, problems);
}

void check_frame(const Wall& wall, Problems& problems) {
  const Frame& f = wall.frame;
  // A steel stud is a thin C; a solid bar of its outside size would conduct thirty times as well.
  if (f.material.conductivity > 10.0 && !f.sheet)
    problems.push_back({"wall.frame.member",
                        "a frame of solid metal is no wall: a steel stud is a thin sheet",
                        "say how thick: sheet: 1.1 mm (or 0.043 in)"});
  if (f.sheet && 4.0 * *f.sheet > std::min(f.member_width, f.member_depth))
    problems.push_back({"wall.frame.sheet",
                        fmt::format("a sheet of {} is too thick for its member", mm(*f.sheet)),
                        "a usual one is 0.5 to 1.5 mm"});
  if (f.sheet && (f.bottom_plates > 1 || f.top_plates > 1))
    problems.push_back({"wall.frame.plates", "steel plates are single: a track below and one above",
                        "write plates: {bottom: 1, top: 1}"});
  const double plate = f.sheet.value_or(f.member_width);
  const double plates = (f.bottom_plates + f.top_plates) * plate;
  if (plates >= wall.height)
    problems.push_back(
        {"wall.height",
         fmt::format("plates of {} leave nothing of a wall {} high", mm(plates), mm(wall.height)), ""});
  for (std::size_t r = 0; r < f.blocking.size(); ++r) {
    const double half = 0.5 * f.member_width, low = f.bottom_plates * plate + half,
                 high = wall.height - f.top_plates * plate - half;
    if (f.blocking[r] < low || f.blocking[r] > high)
      problems.push_back({fmt::format("wall.frame.blocking[{}]", r),
                          fmt::format("blocking at {} reaches into a plate", mm(f.blocking[r])),
                          fmt::format("its middle can be from {} to {}", mm(low), mm(high))});
  }
  for (std::size_t p = 0; p < wall.posts.size(); ++p) {
    const Post& post = wall.posts[p];
    if (post.kind == Post::Kind::studs) continue;
    if (p > 0 && p + 1 < wall.posts.size())
      problems.push_back({post.path, "a corner stands at an end of the wall", "give it left or right"});
    if (f.sheet)
      problems.push_back({post.path, "corners are known for wooden frames only", "write 'studs: 2'"});
    if (post.kind == Post::Kind::corner_open && p < wall.bays.size() + 1 && !wall.bays.empty()) {
      const Bay& bay = p == 0 ? wall.bays.front() : wall.bays.back();
      const bool two = wall.bays.size() == 1 && wall.posts.front().kind == post.kind &&
                       wall.posts.back().kind == post.kind;
      const double flat = (two ? 2.0 : 1.0) * f.member_depth;
      if (bay.clear_width <= flat)
        problems.push_back({post.path, "the bay beside this corner has no room for the stud laid flat",
                            fmt::format("make it wider than {}", mm(flat))});
    }
  }
}

}  // namespace

std::vector<Problem> check(const Wall& wall) {
  Problems problems;
  int frames = 0;
  for (const Layer& layer : wall.layers) frames += layer.is_frame ? 1 : 0;
  if (frames != 1)
    problems.push_back({"wall.layers", fmt::format("the wall has {} frame layers", frames),
                        "write 'frame' once among the layers"});
  check_frame(wall, problems);
  if (wall.bays.empty())
    problems.push_back({"wall.bays", "the wall has no bays", "give at least one, left to right"});
  if (!problems.empty()) return problems;
  const Depths depths = depths_of(wall);
  const Elevation e = elevation_of(wall);
  for (std::size_t b = 0; b < wall.bays.size(); ++b)
    check_bay(wall, b, {e.bays[b], e.up, depths.frame}, problems);
  return problems;
}

}  // namespace coldbay
