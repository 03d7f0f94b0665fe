#include "tools/report/outlook_text.hpp"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "tools/report/amounts.hpp"
#include "tools/report/mornings_words.hpp"

namespace coldbay {
namespace {

/// A small difference with two decimals, so that a tenth of a kelvin is not one digit.
std::string contrast_text(double kelvin, UnitSystem u) {
  const bool metric = u == UnitSystem::metric;
  const double number = std::abs(metric ? kelvin : 1.8 * kelvin);
  return fmt::format("{:.{}f} {}", number, number < 9.95 ? 2 : 1, metric ? "K" : "°F");
}

std::string whole_difference(double kelvin, UnitSystem u) {
  return u == UnitSystem::metric ? fmt::format("{:.0f} K", kelvin) : fmt::format("{:.0f} °F", 1.8 * kelvin);
}

std::string_view side(double signed_kelvin) { return signed_kelvin < 0.0 ? "colder" : "warmer"; }

/// Distances are rounded down: nearer is never wrong.
std::string within_text(double metres, UnitSystem u) {
  const double step = u == UnitSystem::metric ? 0.1 : 0.1 * 0.3048;
  const double down = std::floor(metres / step) * step;
  return u == UnitSystem::metric ? fmt::format("{:.1f} m", down) : fmt::format("{:.1f} ft", down / 0.3048);
}

std::string camera_rows(const Outlook& o) {
  const Sight& s = o.sight;
  return row("camera", fmt::format("{} from the wall, where a pixel is {}; noise {}, emissivity {:.2f}",
                                   distance_text(s.distance, o.units),
                                   o.units == UnitSystem::metric ? fmt::format("{:.1f} mm", 1e3 * s.pixel)
                                                                 : fmt::format("{:.2f} in", s.pixel / 0.0254),
                                   contrast_text(s.noise, o.units), s.emissivity)) +
         row("", fmt::format(
                     "seen is what is {:.0f} times the noise over three by three pixels: common practice, "
                     "no source",
                     times_noise));
}

std::string table_line(std::string_view name, std::string_view reads, std::string_view where,
                       std::string_view size, std::string_view from, std::string_view standards,
                       std::string_view studs) {
  return fmt::format("  {:<10} {:<17} {:<24} {:<15} {:<11} {}{}\n", name, reads, where, size, from, standards,
                     studs);
}

/// One narrow column for each difference that some rule asks for.
template <class Says>
std::string at_standards(const Outlook& o, Says&& says) {
  std::string out;
  for (const double least : least_differences(o.wall)) out += fmt::format("{:<11}", says(least));
  return out;
}

std::string least_text(double kelvin, UnitSystem u) {
  return kelvin == standard_difference ? whole_difference(kelvin, u) : difference_text(kelvin, u);
}

/// "409 by 1210 mm", "16.1 by 47.6 in".
std::string pair_text(double a, double b, std::string_view between, UnitSystem u) {
  return u == UnitSystem::metric ? fmt::format("{:.0f}{}{:.0f} mm", 1e3 * a, between, 1e3 * b)
                                 : fmt::format("{:.1f}{}{:.1f} in", a / 0.0254, between, b / 0.0254);
}

/// Why it does not show at the standards' difference; empty where it does.
std::string why_not(const Visibility& v, UnitSystem u) {
  switch (v.showing) {
    case Showing::too_weak:
      return fmt::format("no weather shows it to this camera: it would take more than {}",
                         whole_difference(most_difference, u));
    case Showing::unsure:
      return "weaker than the solve is sure of: ask for more accuracy before you say that it does not show";
    case Showing::too_small:
      if (v.come_within.value_or(0.0) < 0.1)
        return "fewer than three by three pixels fall on it, from however near";
      return fmt::format("fewer than three by three pixels fall on it: come within {}",
                         within_text(v.come_within.value_or(0.0), u));
    case Showing::shows:
      break;
  }
  if (!v.stands_out)
    return "out of the noise, but within the normal pattern of this wall: it is told apart only beside a "
           "picture of "
           "the wall built right";
  return {};
}

std::string fault_rows(const Outlook& o, const OutlookFault& fault) {
  const Visibility& v = fault.seen;
  const UnitSystem u = o.units;
  const bool any = v.area > 0.0;
  const bool heating = o.difference >= 0.0;  // the season of the case, which the normal pattern is told in
  const double reads = heating ? v.per_kelvin : -v.per_kelvin;
  const std::string contrast =
      fmt::format("{} {}", contrast_text(standard_difference * v.per_kelvin, u), side(reads));
  std::string out =
      table_line(v.name, any ? contrast : "-", any ? pair_text(v.across, v.up, ", ", u) : "-",
                 any ? pair_text(v.width, v.height, " by ", u) : "-",
                 v.needed <= most_difference ? difference_text(v.needed, u) : "-",
                 at_standards(o, [&](double least) { return shows_at(v, least) ? "yes" : "no"; }),
                 v.of_studs ? fmt::format("{:.1f} times", *v.of_studs) : "-");
  out += fmt::format(
      "  {:<10} {}{}\n", "", fault.what,
      any ? fmt::format("; in the {} season it reads {}", heating ? "cooling" : "heating", side(-reads))
          : "");
  const std::string why = why_not(v, u);
  return why.empty() ? out : out + fmt::format("  {:<10} {}\n", "", why);
}

/// What the columns of the table mean.
std::string table_notes(const Outlook& o) {
  const UnitSystem u = o.units;
  std::string out = fmt::format("  Differences are from inside to outside. {} is what most standards ask for",
                                whole_difference(standard_difference, u));
  for (const SurveyRule& rule : survey_rules())
    if (rule.over_u > 0.0)
      out += fmt::format("; {} asks for {} here\n  ({:.0f}/U in kelvin, and {} at the least; from memory)",
                         rule.name, least_text(least_difference(rule, o.wall), u), rule.over_u,
                         difference_text(rule.difference, u));
  out +=
      ". Contrasts grow in proportion to the difference, but for a\n  few per cent where air spaces and "
      "batts "
      "conduct by their temperature. What shows must also stand out: at least half\n  of a stud's contrast, "
      "and "
      "more than sound bays differ (common practice, no source).\n";
  return out;
}

std::string fault_table(const Outlook& o) {
  std::string not_compared;
  for (const std::string& bay : o.not_compared)
    not_compared +=
        fmt::format("\nWhat would be right in {} is not known: nothing is compared with it.\n", bay);
  if (o.faults.empty())
    return not_compared.empty() ? "\nNothing is wrong with this wall: all it shows is the normal pattern.\n"
                                : not_compared;
  const UnitSystem u = o.units;
  std::string out = fmt::format("{}\nHow {} it must be to see what is wrong\n", not_compared,
                                o.difference < 0.0 ? "hot" : "cold");
  out += table_line("", fmt::format("contrast at {}", whole_difference(standard_difference, u)),
                    "across, above the floor", "size at half", "seen from",
                    at_standards(o, [&](double least) { return fmt::format("at {}", least_text(least, u)); }),
                    "of a stud's");
  for (const OutlookFault& fault : o.faults) out += fault_rows(o, fault);
  return out + table_notes(o);
}

std::string limits_rows() {
  std::string out = "\n";
  out +=
      row("not modelled", "air leakage, moisture, sun on the wall, heat stored in it, air moving inside it");
  out += row(
      "", "straight and bounded by framing means insulation; ragged, or changing with pressure, means air;");
  out += row("", "a blotch that crosses framing means moisture");
  out += row("on the day",
             "hold the picture against the one expected; take the reflected temperature from "
             "crumpled foil,");
  out += row("", "and the emissivity of painted lining as 0.90 to 0.95");
  out += row("", "check the wording of a standard before quoting it: much of it is from memory here");
  out += row("caution",
             "a forecast is not a certificate; before a wall is opened, live wiring is switched off and");
  out += row("", "tested, and old fills are tested for asbestos");
  return out;
}

}  // namespace

std::string normal_text(const NormalPattern& normal, double difference, UnitSystem u) {
  std::string out;
  const auto reads = [&](double per_kelvin) {
    return fmt::format("{} {}", contrast_text(per_kelvin * difference, u), side(per_kelvin * difference));
  };
  if (normal.studs) out += fmt::format("sound studs read {} than the bays beside them", reads(*normal.studs));
  const bool by_height = plates_told_apart(normal, difference);
  if (by_height)
    out += fmt::format("{} {} and those at the top {}",
                       normal.studs ? ", the plates at the floor" : "the plates at the floor read",
                       reads(*normal.floor_plates), reads(*normal.top_plates));
  else if (normal.plates)
    out += normal.studs ? fmt::format(", and the plates {}", reads(*normal.plates))
                        : fmt::format("the plates read {} than the bays", reads(*normal.plates));
  if (normal.bays > 1 && normal.bays_apart * std::abs(difference) >= 0.005)
    out += fmt::format("{}sound bays differ by {}", out.empty() ? "" : "; ",
                       contrast_text(normal.bays_apart * difference, u));
  return out;
}

std::string outlook_text(const Outlook& o) {
  std::string out =
      fmt::format("{}{}what an infrared survey will show\n", o.title, o.title.empty() ? "" : ": ");
  out += row("settled after",
             fmt::format("{} h: by then the face is within 5 % of what a change outside makes of it",
                         o.wall.settling));
  if (!o.without_capacity.empty())
    out += row("beware", fmt::format("it takes longer: the heat stored in {} is not known, and not counted",
                                     fmt::join(o.without_capacity, ", ")));
  const std::string normal = normal_text(o.normal, o.difference, o.units);
  if (!normal.empty()) {
    out += row("normal here",
               fmt::format("at {}: {}", difference_text(std::abs(o.difference), o.units), normal));
    out +=
        row("", "these are no faults; with the warmer air on the other side, what was colder reads warmer");
  }
  out += camera_rows(o) + fault_table(o);
  for (const std::string& note : o.notes) out += row("note", note);
  for (const std::string& warning : o.warnings) out += row("beware", warning);
  if (o.weather) out += mornings_text(o);
  return out + limits_rows();
}

}  // namespace coldbay
