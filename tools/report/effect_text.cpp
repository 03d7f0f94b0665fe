#include "tools/report/effect_text.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "tools/report/amounts.hpp"
#include "tools/report/cut_words.hpp"
#include "tools/report/fault_words.hpp"
#include "tools/report/loop_text.hpp"

namespace coldbay {
namespace {

/// In a warm season heat comes in: more of it is more, too.
double more(double extra, const Outcome& o) { return o.built.results.reversed ? -extra : extra; }

std::string bay_row(const Outcome& o, const std::string& name, const std::vector<Fault>& faults,
                    UnitSystem u) {
  const auto part = std::find_if(o.effect->parts.begin(), o.effect->parts.end(),
                                 [&](const PartEffect& p) { return p.name == name; });
  std::string out;
  const std::string cost =
      part == o.effect->parts.end()
          ? std::string()
          : fmt::format("{}, {}: ", signed_percent(part->share), heat_text(more(part->extra, o), u));
  out += row(fmt::format("wrong in {}", name), fmt::format("{}{}", cost, names_of(faults)));
  std::string right;
  for (const Fault f : faults)
    if (right.find(words_of(f).right) == std::string::npos)
      right += fmt::format("{}{}", right.empty() ? "" : "; ", words_of(f).right);
  return out + row("", fmt::format("right: {}", right));
}

std::string limit_text(double share, const std::optional<double>& limit) {
  std::string amount = fmt::format("{:.1f} %", 100.0 * share);
  if (!limit) return amount;
  return fmt::format("{} ({} your {:.3g} %)", amount, share > *limit ? "MORE THAN" : "within",
                     100.0 * *limit);
}

}  // namespace

std::string effect_rows(const Case& c, std::size_t index, const Outcome& o) {
  if (!o.effect) return {};
  const Section& section = c.sections[index];
  const Effect& e = *o.effect;
  const UnitSystem u = c.units;
  std::string cost =
      fmt::format("{} heat than built right, {}", signed_percent(e.share), heat_text(more(e.extra, o), u));
  if (e.of_u)
    cost += fmt::format(", U {} instead of {}", u_value_text(*o.built.results.u_value, u),
                        u_value_text(*o.right->results.u_value, u));
  std::string out = row("workmanship", cost);
  if (std::abs(e.extra) <= e.uncertainty)
    out += row("", "less than the uncertainty of the two: call them equal");
  if (e.stands_for > 0.0)
    out += row("", fmt::format("{} over the {} of {} that this cut stands for",
                               per_kelvin_text(e.per_kelvin * e.stands_for, u), length_text(e.stands_for, u),
                               section.cut == CutKind::vertical ? "width" : "height"));
  out += row("", fmt::format("at its worst the room face is {} {} than it should be, {}{}",
                             difference_text(std::abs(e.surface), u), e.surface < 0.0 ? "colder" : "warmer",
                             section.cut == CutKind::vertical ? "" : "at ",
                             place_text(section, length_text(e.surface_at, u))));
  const auto& faults = c.seen[index];
  std::set<std::string_view> notes;
  for (std::size_t b = 0; b < faults.size(); ++b) {
    if (faults[b].empty()) continue;
    out += bay_row(o, fmt::format("bay {}", b + 1), faults[b], u);
    const auto& runs = c.wall->bays[b].runs;
    const bool may_freeze = !o.built.results.reversed &&
                            std::none_of(runs.begin(), runs.end(),
                                         [](const ServiceRun& run) { return run.temperature.has_value(); });
    for (const Fault f : faults[b])
      if (!words_of(f).note.empty() && (f != Fault::cold_pipe || may_freeze)) notes.insert(words_of(f).note);
  }
  for (const ScrapsRange& range : o.scraps) {
    const auto [low, high] = std::minmax_element(range.shares.begin(), range.shares.end());
    out += row("scraps",
               fmt::format("{} by itself, over {} stuffing{}: {} to {} heat", range.bay, range.shares.size(),
                           range.shares.size() == 1 ? "" : "s", signed_percent(*low), signed_percent(*high)));
  }
  for (const std::string_view words : notes) out += row("note", words);
  return out;
}

std::string wall_summary(const Case& c, const Outcomes& all) {
  if (!all.measured) return {};
  const UnitSystem u = c.units;
  const Measured& m = *all.measured;
  std::string out = "\nThe whole wall\n";
  const bool metric = u == UnitSystem::metric;
  out += row("area", fmt::format("{:.2f} {}, {:.1f} % of it framing", metric ? m.area : m.area / 0.09290304,
                                 metric ? "m2" : "ft2", 100.0 * m.framing));
  if (all.wall) {
    const WholeWall& w = *all.wall;
    const std::string at_least = w.unseen.empty() ? "" : "at least ";
    if (w.extra != 0.0 || !w.unseen.empty()) {
      out += row("U-value",
                 fmt::format("{}{} as built, {} built right: {}", at_least, u_value_text(w.u_built, u),
                             u_value_text(w.u_right, u), signed_percent(w.u_built / w.u_right - 1.0)));
      out += row("extra heat", fmt::format("{}{}", at_least, per_kelvin_text(w.extra, u)));
    } else {
      out += row("U-value", u_value_text(w.u_built, u));
    }
    for (const WholeWall::Unseen& unseen : w.unseen)
      out += row(
          "", fmt::format("what is wrong in {} over {:.0f} % of its height is in no section, and not in it",
                          unseen.bay, 100.0 * unseen.share));
    out += row("",
               "summed bay by bay from the sections; framing that no plan shows is reckoned beside them "
               "(parallel path)");
  } else {
    out += row("U-value",
               "not known: it takes a plan section clear of openings, and no pipe that gives or takes heat");
  }
  out += loop_rows(all.loops, u);
  out +=
      row("filled badly", fmt::format("nothing {}, incomplete {}, compressed {} of the area between members",
                                      limit_text(m.all.nothing, c.limits.nothing),
                                      limit_text(m.all.incomplete, c.limits.incomplete),
                                      limit_text(m.all.compressed, c.limits.compressed)));
  out += row("", "measured from the description: a measurement, not a certificate");
  return out;
}

}  // namespace coldbay
