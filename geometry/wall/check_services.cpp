#include "geometry/wall/check_services.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "geometry/wall/lengths.hpp"
#include "geometry/wall/services.hpp"

namespace coldbay {
namespace {

using Problems = std::vector<Problem>;

const char* name_of(Enclosure::Kind kind) {
  if (kind == Enclosure::Kind::duct) return "duct";
  return kind == Enclosure::Kind::cabinet ? "cabinet" : "box";
}
const char* name_of(ServiceRun::Kind kind) {
  if (kind == ServiceRun::Kind::pipe) return "pipe";
  return kind == ServiceRun::Kind::conduit ? "conduit" : "cable";
}

void check_enclosure(const Bay& bay, const Enclosure& box, const Region& space, Problems& problems) {
  const char* name = name_of(box.kind);
  const Region at = space_of(box, space);
  const auto problem = [&](const char* key, std::string what, std::string hint) {
    problems.push_back({box.path + key, std::move(what), std::move(hint)});
  };
  if (box.width > space.across.length() + same_measure)
    problem(".width",
            fmt::format("a {} {} wide does not fit a bay {} wide", name, mm(box.width),
                        mm(space.across.length())),
            fmt::format("at most {} here", mm(space.across.length())));
  if (at.depth.to > space.depth.to + same_measure)
    problem(".depth", fmt::format("a {} {} deep reaches through the frame", name, mm(box.depth)),
            fmt::format("from its front to the back of the frame are {}", mm(space.depth.to - box.front)));
  if (2.0 * box.wall >= box.width || box.wall + (box.cover ? cover_plate : box.wall) >= box.depth)
    problem(".wall", fmt::format("the walls of the {} leave no room inside it", name),
            "a usual wall is 1.5 mm thick");
  if (at.up.from < space.up.from - same_measure || at.up.to > space.up.to + same_measure)
    problem(".at",
            fmt::format("a {} {} high at {} reaches into a plate or past the wall", name, mm(box.height),
                        mm(box.centre)),
            box.height < space.up.length()
                ? fmt::format("its middle can be from {} to {} above the floor",
                              mm(space.up.from + 0.5 * box.height), mm(space.up.to - 0.5 * box.height))
                : fmt::format("the bay is {} high", mm(space.up.length())));
  const double left = space.depth.to - std::max(at.depth.to, space.depth.from);
  const std::vector<Laid> laid = laid_fills(bay, space);
  if (box.margin > space.across.length() - box.width + same_measure && box.margin > 0.0)
    problem(".margin", fmt::format("a margin of {} reaches out of the bay", mm(box.margin)),
            fmt::format("beside the {} are {}", name, mm(space.across.length() - box.width)));
  using Behind = Enclosure::Behind;
  if (box.behind == Behind::squeezed && !laid.empty() && laid.back().fill->batt && left > same_measure) {
    const double least = least_local_share * laid.back().at.depth.length() * laid.back().squeezed;
    if (left < least - same_measure)
      problem(".behind",
              fmt::format("behind this {} are {}: the batt cannot be squeezed into that", name, mm(left)),
              fmt::format("from {} it can; cut a piece to it (behind: filled), or foam it", mm(least)));
  }
  if (box.behind == Behind::piece && box.piece > left + slack)
    problem(".piece", fmt::format("a piece {} thick does not fit behind this {}", mm(box.piece), name),
            fmt::format("there are {}", mm(left)));
  if ((box.behind == Behind::filled || box.behind == Behind::squeezed || box.behind == Behind::piece) &&
      laid.empty())
    problem(".behind", "there is no fill in this bay to put behind it", "write behind: open, or foam");
}

void check_run(const Bay& bay, const ServiceRun& run, const Region& space, Problems& problems) {
  const char* name = name_of(run.kind);
  const double half = 0.5 * run.diameter;
  const auto problem = [&](const char* key, std::string what, std::string hint) {
    problems.push_back({run.path + key, std::move(what), std::move(hint)});
  };
  const double deep = space.depth.length();
  if (run.depth < half - same_measure || run.depth > deep - half + same_measure)
    problem(
        ".depth",
        fmt::format("a {} {} thick at a depth of {} leaves its bay", name, mm(run.diameter), mm(run.depth)),
        2.0 * half > deep ? fmt::format("the frame is {} deep", mm(deep))
                          : fmt::format("its middle can be {} to {} from the room side of the frame",
                                        mm(half), mm(deep - half)));
  const Span room = run.runs_up ? Span{0.0, space.across.length()} : space.up;
  if (run.at < room.from + half - same_measure || run.at > room.to - half + same_measure)
    problem(".at", fmt::format("a {} {} thick at {} leaves its bay", name, mm(run.diameter), mm(run.at)),
            fmt::format("its middle can be at {} to {}", mm(room.from + half), mm(room.to - half)));
  if (run.wall > 0.0 && run.wall > 0.4 * run.diameter)
    problem(".wall",
            fmt::format("a wall of {} leaves no hole in a {} of {}", mm(run.wall), name, mm(run.diameter)),
            "");
  if (run.laid == ServiceRun::Laid::split) return;
  const std::vector<Laid> laid = laid_fills(bay, space);
  if (laid.empty()) return;
  if (laid.size() > 1) {
    problem(".batt", fmt::format("which of the fills of this bay goes over the {}?", name),
            "in a bay of several fills write batt: split");
    return;
  }
  const double whole = laid[0].at.depth.length(), rest = whole - pocket_depth(run, laid[0], space);
  if (laid[0].fill->batt && rest < whole * laid[0].squeezed * least_local_share - same_measure)
    problem(".batt",
            fmt::format("the batt would have {} of its {} beside this {}", mm(rest), mm(whole), name),
            fmt::format("it can be squeezed to {}; split it, or move the {}",
                        mm(whole * laid[0].squeezed * least_local_share), name));
}

/// What takes up room in the bay: two things cannot be in one place.
struct Taken {
  Region at;
  std::string path;
  const char* name;
};

void check_overlaps(const Bay& bay, const Region& space, const std::vector<Region>& members,
                    Problems& problems) {
  std::vector<Taken> taken;
  for (const Enclosure& box : bay.enclosures)
    taken.push_back({space_of(box, space), box.path, name_of(box.kind)});
  for (const ServiceRun& run : bay.runs) {
    const RunPlace p = passage_of(run, space);
    const double half = 0.5 * run.diameter;
    const Span first{p.middle.across - half, p.middle.across + half};
    taken.push_back({{run.runs_up ? first : space.across,
                      run.runs_up ? space.up : first,
                      {p.middle.depth - half, p.middle.depth + half}},
                     run.path,
                     name_of(run.kind)});
  }
  const auto meet = [](Span a, Span b) {
    return a.from < b.to - same_measure && b.from < a.to - same_measure;
  };
  for (std::size_t i = 0; i < taken.size(); ++i)
    for (std::size_t j = i + 1; j < taken.size(); ++j)
      if (meet(taken[i].at.across, taken[j].at.across) && meet(taken[i].at.up, taken[j].at.up) &&
          meet(taken[i].at.depth, taken[j].at.depth))
        problems.push_back(
            {taken[j].path,
             fmt::format("this {} goes through the {} in the same bay", taken[j].name, taken[i].name),
             "move one of them"});
  for (const Taken& t : taken)
    for (const Region& m : members) {
      const bool across = m.across.length() > space.across.length() - same_measure;  // a row of blocking
      const bool goes_through = across ? t.at.up.length() > space.up.length() - same_measure
                                       : t.at.across.length() > space.across.length() - same_measure;
      if (!goes_through && meet(t.at.across, m.across) && meet(t.at.up, m.up) && meet(t.at.depth, m.depth))
        problems.push_back({t.path,
                            fmt::format("this {} is where {} is", t.name,
                                        across ? "a row of blocking" : "the flat stud of the corner"),
                            "move it, or stand it at the other stud"});
    }
}

}  // namespace

void check_services(const Bay& bay, const Region& space, const std::vector<Region>& members,
                    Problems& problems) {
  const std::size_t before = problems.size();
  for (const Enclosure& box : bay.enclosures) check_enclosure(bay, box, space, problems);
  for (const ServiceRun& run : bay.runs) check_run(bay, run, space, problems);
  if (problems.size() == before) check_overlaps(bay, space, members, problems);
}

}  // namespace coldbay
