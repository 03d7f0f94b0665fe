#include "tools/report/loop_rows.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "geometry/air_paths.hpp"
#include "tools/report/amounts.hpp"
#include "tools/report/cut_words.hpp"

namespace coldbay {
namespace {

constexpr double foot_per_minute = metres_per_foot / 60.0;  // [m/s]

/// Two digits: a loop is not known better.
double rounded(double value) {
  if (!(value > 0.0)) return 0.0;
  const double unit = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
  return unit * std::round(value / unit);
}

std::string speed_text(double speed, UnitSystem u) {
  return u == UnitSystem::metric ? fmt::format("{:.4g} mm/s", rounded(1e3 * speed))
                                 : fmt::format("{:.4g} ft/min", rounded(speed / foot_per_minute));
}

std::string about(double metres, UnitSystem u) {
  return u == UnitSystem::metric ? fmt::format("{:.4g} mm", rounded(1e3 * metres))
                                 : fmt::format("{:.4g} in", rounded(metres / metres_per_inch));
}

/// "cold foot", "warm head"
std::string name_of(const LoopMark& mark) {
  return fmt::format("{} {}", mark.change < 0.0 ? "cold" : "warm", mark.at_top ? "head" : "foot");
}

std::string mark_row(const Section& section, const LoopMark& mark, std::string_view face, UnitSystem u) {
  return row(
      name_of(mark),
      fmt::format("on the {}: up to {} {} than with still air, {}; {} {}, to where a third of that is "
                  "left",
                  face, difference_text(std::abs(mark.change), u), mark.change < 0.0 ? "colder" : "warmer",
                  place_text(section, length_text(mark.change_at, u)), about(mark.height, u),
                  mark.at_top ? "deep" : "high"));
}

/// How the mark on the room face differs from what looks like it.
std::string told_apart_rows(const LoopMark& mark, bool reversed) {
  const std::string_view part = mark.at_top ? "head" : "foot";
  std::string out =
      row("tell it from", fmt::format("leakage: the {} stays as it is when the pressure changes, has no "
                                      "streaks, and ends level across the bay",
                                      part));
  const bool slump_there_too = mark.at_top;  // what has slumped is open at its top, in any season
  out +=
      row("", fmt::format("a slump: that is {} at the top and ends sharply; the {} is {} and fades {}",
                          reversed ? "warm" : "cold", part, slump_there_too ? "there too" : "at the bottom",
                          mark.at_top ? "downward" : "upward"));
  return out + row("", "a room warmer above than below: that runs evenly over the whole wall, studs too");
}

std::string limit_rows(const LoopFlow& loop, UnitSystem u) {
  std::string out;
  if (loop.widest > widest_channel)
    out += row("beware",
               fmt::format("a gap of {} is no channel: air in it is reckoned to flow as in one of {}, and "
                           "to conduct by the rule for air spaces; take the loop for a rough guess",
                           length_text(loop.widest, u), length_text(widest_channel, u)));
  if (loop.reynolds >= laminar_below)
    out += row("beware",
               fmt::format("its Reynolds number is {:.2g}, and the law for channels ends at {:.0f}: it "
                           "flows less than reckoned",
                           loop.reynolds, laminar_below));
  return out;
}

}  // namespace

bool channel_law_holds(const LoopFlow& loop) {
  return loop.widest <= widest_channel && loop.reynolds < laminar_below;
}

std::string still_air_rows(const Outcome& o, UnitSystem u) {
  if (o.built.results.loop_left_out)
    return row("air loops", "left out, as asked: air could loop round the fill, and this is with still air");
  if (!o.loop) return {};
  const Results& still = o.still->results;
  const std::string U = still.u_value ? fmt::format("U {}  ({}), ", u_value_text(*still.u_value, u),
                                                    u_value_text(*still.u_value, other(u)))
                                      : std::string();
  const double more = o.built.results.reversed ? -o.loop->extra : o.loop->extra;
  return row("with still air", fmt::format("{}{}; the loop: {}, {}", U, heat_text(still.heat_flow, u),
                                           signed_percent(o.loop->share), heat_text(more, u)));
}

std::string loop_rows(const Section& section, const Outcome& o, UnitSystem u) {
  if (!o.loop) return {};
  const LoopFlow& flow = *o.built.results.loop;
  const LoopEffect& e = *o.loop;
  const bool reversed = o.built.results.reversed;
  if (e.is_nothing() && !e.room_face && !e.outer_face)
    return row("air loops",
               "so little that neither heat nor faces are changed by more than they are uncertain");
  const Loop& strongest = flow.loops[0];
  std::string out = row(
      "air loops",
      fmt::format("{}it {} on the room side of the fill and {} behind it, at up to {}, between {} "
                  "and {}",
                  flow.loops.size() > 1 ? fmt::format("in {} loops; in the strongest ", flow.loops.size())
                                        : std::string(),
                  reversed ? "falls" : "rises", reversed ? "rises" : "falls", speed_text(strongest.speed, u),
                  length_text(strongest.up.from, u), place_text(section, length_text(strongest.up.to, u))));
  if (e.is_nothing()) out += row("", "the heat it carries is less than the uncertainty: call it none");
  if (e.room_face) out += mark_row(section, *e.room_face, "room face", u);
  if (e.outer_face) out += mark_row(section, *e.outer_face, "outer face", u);
  if (!e.room_face && !e.outer_face) out += row("", "it changes neither face enough to be seen");
  if (e.room_face) out += told_apart_rows(*e.room_face, reversed);
  out += limit_rows(flow, u);
  return out + row("how sure", fmt::format("the loop is {}", loop_checked_against));
}

}  // namespace coldbay
