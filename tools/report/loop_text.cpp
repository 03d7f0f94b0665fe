#include "tools/report/loop_text.hpp"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "tools/report/amounts.hpp"
#include "tools/report/loop_rows.hpp"

namespace coldbay {
namespace {

/// No more digits than the model is good for.
std::string u_number(double U, UnitSystem u) {
  return is_metric(u) ? fmt::format("{:.2f}", U) : fmt::format("{:.3f}", U / ip_transmittance);
}

std::string small_length(double m, UnitSystem u) {
  return is_metric(u) ? fmt::format("{:.2g} mm", 1e3 * m) : fmt::format("{:.2g} in", m / 0.0254);
}

std::string power_text(double W, UnitSystem u) {
  return is_metric(u) ? fmt::format("{:.1f} W", W) : fmt::format("{:.1f} Btu/h", 3.412142 * W);
}

/// "+9.1 to +49 %"
std::string range_text(double low, double high) {
  const std::string first = signed_percent(low);
  return fmt::format("{} to {}", first.substr(0, first.find(' ')), signed_percent(high));
}

/// Where the room face and the outer face tell of it. What rises on the warm side crosses to the cold one at
/// the top: with the warmer air outside it is the room face that is warm there, and the outer face cold
/// below.
std::string signature(const LoopEstimate& e, UnitSystem u) {
  if (e.reversed)
    return e.foot ? fmt::format(
                        "warm head {} high at the top of the room face, cold foot at the bottom of the outer "
                        "face",
                        length_text(*e.foot, u))
                  : "the room face warmer above, the outer face colder below";
  return e.foot
             ? fmt::format(
                   "cold foot {} high at the bottom of the room face, warm head at the top of the outer face",
                   length_text(*e.foot, u))
             : "the room face colder below, the outer face warmer above";
}

std::string_view why(NoLoop none) {
  switch (none) {
    case NoLoop::touches_lining:
      return "no loop: the batt touches the lining";
    case NoLoop::touches_sheathing:
      return "no loop: the batt touches the sheathing";
    case NoLoop::closed:
      return "no loop: its ends and sides are closed";
    case NoLoop::even:
      return "no loop: it is as warm inside as outside";
    case NoLoop::unsettled:
      break;
  }
  return "air can loop round its batt, in a way that could not be reckoned: the heat given is a lower bound";
}

/// "bay 2", "bays 2 and 4", "bays 2, 3 and 4"
std::string names(const std::vector<std::size_t>& bays) {
  if (bays.size() == 1) return fmt::format("bay {}", bays[0]);
  return fmt::format("bays {} and {}", fmt::join(bays.begin(), bays.end() - 1, ", "), bays.back());
}

}  // namespace

std::string loop_range_text(const LoopEstimate& e, UnitSystem u) {
  return fmt::format("U {} {} ({} to {} with gaps {} narrower or wider), still air {}; {} ({})",
                     u_number(e.loop.u_loop, u), is_metric(u) ? "W/m2K" : "Btu/h·ft2·°F",
                     u_number(e.narrower.u_loop, u), u_number(e.wider.u_loop, u),
                     small_length(e.tolerance, u), u_number(e.loop.u_still, u),
                     signed_percent(loop_share(e.loop.u_still, e.loop.u_loop)),
                     range_text(loop_share(e.narrower.u_still, e.narrower.u_loop),
                                loop_share(e.wider.u_still, e.wider.u_loop)));
}

std::string loop_text(const LoopEstimate& e, UnitSystem u) {
  if (e.none) return std::string(why(*e.none));
  std::string out = fmt::format("air can loop round its batt: {}", loop_range_text(e, u));
  // A foot of a loop that adds next to nothing is not there to be seen.
  if (loop_share(e.loop.u_still, e.loop.u_loop) >= 0.005)
    out += fmt::format(", {} more; {}", power_text(e.extra_heat, u), signature(e, u));
  if (e.beyond_channel)
    out += fmt::format("; a gap wider than {0} flows and conducts here as one of {0}",
                       small_length(widest_channel, u));
  return out;
}

std::vector<std::string> loop_lines(const std::vector<std::optional<LoopEstimate>>& bays, UnitSystem units) {
  struct Line {
    std::string says;
    std::vector<std::size_t> bays;
  };
  std::vector<Line> lines;
  for (std::size_t b = 0; b < bays.size(); ++b) {
    if (!bays[b]) continue;
    std::string says = loop_text(*bays[b], units);
    const auto same =
        std::find_if(lines.begin(), lines.end(), [&](const Line& line) { return line.says == says; });
    if (same == lines.end())
      lines.push_back({std::move(says), {b + 1}});
    else
      same->bays.push_back(b + 1);
  }
  std::vector<std::string> out;
  out.reserve(lines.size());
  for (const Line& line : lines) out.push_back(fmt::format("{}: {}", names(line.bays), line.says));
  return out;
}

std::string loop_rows(const std::vector<std::optional<LoopEstimate>>& bays, UnitSystem units) {
  std::string out;
  for (const std::string& line : loop_lines(bays, units)) out += row(out.empty() ? "air loops" : "", line);
  const bool any = std::any_of(bays.begin(), bays.end(), [](const auto& e) { return e && !e->none; });
  return any ? out + row("", fmt::format("between the studs, by an estimate {}", loop_checked_against)) : out;
}

}  // namespace coldbay
