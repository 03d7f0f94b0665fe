#include "tools/report/summary.hpp"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "tools/report/amounts.hpp"
#include "tools/report/cut_words.hpp"
#include "tools/report/effect_text.hpp"
#include "tools/report/loop_rows.hpp"
#include "tools/report/loop_text.hpp"
#include "tools/report/result_json.hpp"

namespace coldbay {
namespace {

/// "18.5 °C at 100 mm, 21.5 °C at 2300 mm"
std::string levels_text(const std::vector<AirLevel>& levels, UnitSystem u) {
  std::vector<std::string> words;
  words.reserve(levels.size());
  for (const AirLevel& level : levels)
    words.push_back(fmt::format("{} at {}", temperature_text(level.celsius, u), length_text(level.up, u)));
  return fmt::format("{}", fmt::join(words, ", "));
}

/// The conditions first: a slip of units shows here.
std::string air_row(const Case& c) {
  const UnitSystem u = c.units;
  std::string room = temperature_text(c.air.inside.temperature, u);
  if (c.humidity) room += fmt::format(" at {:.0f} %", 100.0 * *c.humidity);
  std::string out =
      row("air", fmt::format("room {}, outside {}", room, temperature_text(c.air.outside.temperature, u)));
  if (!c.air.by_height.empty())
    out +=
        row("", fmt::format("the room by height: {}; plan sections take it as {}",
                            levels_text(c.air.by_height, u), temperature_text(c.air.inside.temperature, u)));
  if (c.air.inside.temperature < 0.0 || c.air.inside.temperature > 45.0)
    out += row("beware", "this is no room that people live in: are the units of the temperatures right?");
  return out;
}

/// What pipes give or take; nothing where nothing is held.
std::string held_row(const Section& section, const Results& r, UnitSystem u) {
  const auto pipes = std::count_if(section.shapes.begin(), section.shapes.end(),
                                   [](const Shape& shape) { return shape.held.has_value(); });
  if (pipes == 0) return {};
  return row(fmt::format("{} the pipe{}", r.flows.held < 0.0 ? "into" : "from", pipes == 1 ? "" : "s"),
             heat_text(std::abs(r.flows.held), u));
}

std::string heat_rows(const Section& section, const Outcome& o, UnitSystem u) {
  const Results& r = o.built.results;
  std::string out;
  if (r.u_value) {
    out += row("U-value",
               fmt::format("{}  ({})", u_value_text(*r.u_value, u), u_value_text(*r.u_value, other(u))));
    out += row("R-value, with films",
               fmt::format("{}  ({})", r_value_text(*r.u_value, u), r_value_text(*r.u_value, other(u))));
  }
  out += still_air_rows(o, u);
  if (r.limits) {
    out += row("simple limits",
               fmt::format("parallel path {}, isothermal planes {}, mean {}",
                           u_value_text(r.limits->parallel_path, u),
                           u_value_text(r.limits->isothermal_planes, u), u_value_text(r.limits->mean, u)));
    if (!r.limits->combined_method_holds)
      out += row("", "the two are more than 1.5 times apart: do not use their mean on this wall");
  }
  const std::string held = held_row(section, r, u);
  out += row("heat flow", fmt::format("{} of wall {}, {}", heat_text(r.heat_flow, u),
                                      section.cut == CutKind::vertical ? "width" : "height",
                                      held.empty() ? "room to outside" : "through the room face"));
  out += held;
  if (r.flow_unlimited)
    out += row(
        "",
        "not to be relied on: two held temperatures meet at a corner, and the heat flow there has no limit");
  return out;
}

/// Where on a framed wall: ", in bay 2", ", on the stud right of bay 2", in a vertical cut ", on the plate
/// above bay 2"; nothing for a drawn section.
std::string place_on_wall(const Section& section, double across) {
  for (const FacePart& part : section.parts) {
    if (across < part.across.from || across > part.across.to) continue;
    const bool upright = section.cut == CutKind::vertical;
    if (across < part.clear.from)
      return fmt::format(", on the {} {}", upright ? "plate below" : "stud left of", part.name);
    if (across > part.clear.to)
      return fmt::format(", on the {} {}", upright ? "plate above" : "stud right of", part.name);
    return fmt::format(", in {}", part.name);
  }
  return {};
}

/// "3.4 %", of a width.
std::string share_of_two_digits(double share) { return fmt::format("{:.2g} %", 100.0 * share); }

/// The room's air held against the room face and the plane behind the frame.
std::string moisture_rows(const Section& section, const MoistureRisk& m, UnitSystem u) {
  std::string out =
      row("dew point", fmt::format("{}: {}", temperature_text(m.dew_point, u),
                                   m.face_below_dew_point > 0.0
                                       ? fmt::format("THE ROOM FACE FALLS BELOW IT, on {} of its width",
                                                     share_of_two_digits(m.face_below_dew_point))
                                       : "the room face stays above it"));
  out +=
      row("mould",
          fmt::format("{:.0f} % humidity at the coldest point; {}", 100.0 * m.humidity_at_coldest,
                      m.face_below_mould_point > 0.0
                          ? fmt::format("80 % and more, below {}, on {} of the width",
                                        temperature_text(m.mould_point, u),
                                        share_of_two_digits(m.face_below_mould_point))
                          : fmt::format("80 % would be reached at {}", temperature_text(m.mould_point, u))));
  if (!m.sheathing) return out;
  const std::string there =
      m.sheathing->below_dew_point > 0.0
          ? fmt::format("below the room's dew point on {}: room air that gets there leaves water",
                        share_of_two_digits(m.sheathing->below_dew_point))
          : std::string("above the room's dew point");
  return out + row("behind the frame",
                   fmt::format("{} at its coldest, at {}; {}", temperature_text(m.sheathing->coldest, u),
                               place_text(section, length_text(m.sheathing->coldest_at, u)), there));
}

std::string face_rows(const Section& section, const Results& r, UnitSystem u) {
  std::string out;
  if (r.stud_contrast)
    out += row("normal here", fmt::format("a stud between sound bays reads {} {} than the middle of the bay",
                                          difference_text(std::abs(*r.stud_contrast), u),
                                          *r.stud_contrast < 0.0 ? "colder" : "warmer"));
  out += row(
      r.reversed ? "warmest room face" : "coldest room face",
      fmt::format("{} at {}{}", temperature_text(r.extreme, u),
                  place_text(section, length_text(r.extreme_at, u)), place_on_wall(section, r.extreme_at)));
  if (r.temperature_factor) out += row("temperature factor", fmt::format("{:.3f}", *r.temperature_factor));
  if (r.moisture) out += moisture_rows(section, *r.moisture, u);
  return out;
}

std::string probe_rows(const Case& c, const Section& section, const Forecast& f) {
  std::string out;
  for (const Probe& p : section.probes)
    out += row(fmt::format("probe {}", p.name),
               temperature_text(temperature_at(f.grid, f.air, f.field, p.at), c.units, 2));
  return out;
}

/// "0.084 %": never finer than anyone could check.
std::string percent(double share) {
  return share < 1e-5 ? "less than 0.001 %" : fmt::format("{:.2g} %", 100.0 * share);
}

/// "U within 0.084 %, ": of the heat that passes.
std::string heat_within(const Results& r) {
  if (r.flow_unlimited) return {};
  if (!r.u_value) return fmt::format("heat flow within {:.2g} W per metre, ", r.heat_flow_uncertainty);
  return fmt::format("U within {}, ", percent(*r.u_value_uncertainty / *r.u_value));
}

std::string accuracy_rows(const Case& c, const Forecast& f) {
  const auto kelvins = [&](double K) {
    const bool metric = c.units == UnitSystem::metric;
    if (K < 1e-4) return std::string(metric ? "less than 0.0001 K" : "less than 0.0002 °F");
    return metric ? fmt::format("{:.2g} K", K) : fmt::format("{:.2g} °F", 1.8 * K);
  };
  const auto both = [&](const Accuracy& a) {
    return fmt::format("{:.2g} %, {}", 100.0 * a.heat, kelvins(a.surface));
  };
  const bool as_asked = f.accuracy.heat <= c.accuracy.heat && f.accuracy.surface <= c.accuracy.surface;
  std::string out = row("accuracy", fmt::format("{}{}room face within {} ({}: {})",
                                                f.reached ? "" : "NOT REACHED: ", heat_within(f.results),
                                                kelvins(f.results.surface_uncertainty),
                                                as_asked ? "asked" : "aimed at", both(f.accuracy)));
  if (!as_asked)
    out += row("", fmt::format("of the grid; asked was {}, but how air loops is itself not known that well",
                               both(c.accuracy)));
  if (!f.reached)
    out += row("", f.memory_ran_out
                       ? "memory ran out before that: ask for less, or leave out the smallest things"
                       : "that would take more cells than are allowed: ask for less, or leave out the "
                         "smallest things, thin "
                         "sheets that run askew before all");
  const auto n = f.refinements.size();
  out += row(
      "",
      fmt::format(
          "found by halving every cell twice, {} to {} to {} cells; the last halving changed the flow by {}",
          f.refinements[n - 3].cells, f.refinements[n - 2].cells, f.refinements[n - 1].cells,
          percent(f.doubling_change)));
  out += row("", fmt::format("criteria of ISO 10211: that change below 1 %, {}; flows sum to {:.0e} of what "
                             "passes, allowed 1e-4",
                             f.doubling_change <= doubling_allowed ? "met" : "NOT MET",
                             f.field.report.heat_imbalance));
  return out;
}

std::string part_rows(const Results& r, UnitSystem u) {
  std::string out;
  for (const PartResult& p : r.parts)
    // With a pipe that gives or takes heat, what goes through a face is no measure of the bay.
    out += row(p.name, fmt::format("{}{} {}, mean {}: {}",
                                   r.u_value ? fmt::format("U {}, ", u_value_text(p.u_value, u)) : "",
                                   r.reversed ? "warmest" : "coldest", temperature_text(p.extreme, u),
                                   temperature_text(p.mean_surface, u), p.label));
  return out;
}

}  // namespace

std::string summary(const Case& c, std::size_t index, const Outcome& outcome) {
  const Section& section = c.sections[index];
  const Forecast& f = outcome.built;
  const Results& r = f.results;
  std::string out = c.title;
  if (!section.name.empty()) out += fmt::format("{}{}", out.empty() ? "" : ": ", section.name);
  out += fmt::format("\n{}{}{}{}", air_row(c), heat_rows(section, outcome, c.units),
                     face_rows(section, r, c.units), part_rows(r, c.units));
  out += probe_rows(c, section, f);
  out += loop_rows(section, outcome, c.units);
  out += effect_rows(c, index, outcome);
  for (const StillBay& still : outcome.still_bays)
    out += row("beware", fmt::format("the air round the batt of {} stands still here; a loop makes it {}",
                                     still.bay, loop_range_text(still.loop, c.units)));
  for (const std::string& w : r.warnings) out += row("beware", w);
  out += accuracy_rows(c, f);
  std::string evidence = fmt::format("residual {:.0e}", f.field.report.relative_residual);
  if (!f.grid.cavities.empty())
    evidence += fmt::format("; {} air space{} settled in {} rounds", f.grid.cavities.size(),
                            f.grid.cavities.size() == 1 ? "" : "s", f.refinements.back().rounds);
  out += row("evidence", evidence);
  const auto limits = not_modelled(section, r, c.units);
  for (std::size_t i = 0; i < limits.size(); ++i) out += row(i == 0 ? "not modelled" : "", limits[i]);
  return out;
}

}  // namespace coldbay
