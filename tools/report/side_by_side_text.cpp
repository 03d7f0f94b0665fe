#include "tools/report/side_by_side_text.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "tools/input/input_error.hpp"
#include "tools/report/amounts.hpp"

namespace coldbay {
namespace {

using Row = std::vector<std::string>;

/// Columns as wide as what stands in them, two spaces between.
std::string aligned(const std::vector<Row>& rows) {
  std::vector<int> widths(rows.front().size(), 0);
  for (const Row& row : rows)
    for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], count_characters(row[c]));
  std::string out;
  for (const Row& row : rows) {
    std::string line = " ";
    for (std::size_t c = 0; c < row.size(); ++c) {
      const int room = widths[c] - count_characters(row[c]) + 1;
      line += ' ' + row[c];
      line.append(static_cast<std::size_t>(room), ' ');
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + '\n';
  }
  return out;
}

std::string by_words(RankedBy by) {
  return by == RankedBy::wall_u      ? "U of the whole wall"
         : by == RankedBy::section_u ? "U of the section"
                                     : "heat flow of the section";
}

std::string value_text(const SideBySide& all, double value) {
  return all.by == RankedBy::heat_flow ? heat_text(value, all.units) : u_value_text(value, all.units);
}

/// "+13.7 ± 0.2 %"; "equal, ± 0.2 %" where that is all the grids can tell. In shares of the least, with as
/// many decimals as mean something.
std::string more_text(const SideBySide& all, std::size_t i) {
  const Sure least = ranked_value(all, 0);
  if (i == 0) return "";
  const SureDifference d = difference_of(ranked_value(all, i), least);
  const double more = 100.0 * d.value / std::abs(least.value),
               within = 100.0 * d.within / std::abs(least.value);
  constexpr double most_decimals = 6.0;
  const int decimals =
      static_cast<int>(std::clamp(1.0 - std::floor(std::log10(std::max(within, 1e-9))), 0.0, most_decimals));
  if (d.equal) return fmt::format("equal, ± {:.{}f} %", within, decimals);
  return fmt::format("{:+.{}f} ± {:.{}f} %", more, decimals, within, decimals);
}

std::string extra_text(const SideBySide& all, const SideCase& c) {
  return c.extra ? per_kelvin_text(*c.extra, all.units) : "";
}

/// Who is equal to whom, one line each; cases that stand further apart in the order may be equal too.
std::string equals_text(const SideBySide& all) {
  std::string out;
  for (std::size_t i = 0; i < all.cases.size(); ++i) {
    std::string others;
    for (std::size_t j = i + 1; j < all.cases.size(); ++j)
      if (difference_of(ranked_value(all, j), ranked_value(all, i)).equal)
        others += (others.empty() ? "" : ", ") + harmless(all.cases[j].name);
    if (!others.empty())
      out += fmt::format("  equal within what the grids are sure of: {} and {}\n",
                         harmless(all.cases[i].name), others);
  }
  return out;
}

std::string airs_text(const SideBySide& all) {
  if (all.same_airs)
    return fmt::format("  air: room {}, outside {}\n", temperature_text(all.cases[0].inside, all.units),
                       temperature_text(all.cases[0].outside, all.units));
  std::string out =
      "  the airs differ: heat flows and temperatures are not to be held against each other, U may be\n";
  for (const SideCase& c : all.cases)
    out += fmt::format("    {}: room {}, outside {}\n", harmless(c.name),
                       temperature_text(c.inside, all.units), temperature_text(c.outside, all.units));
  return out;
}

/// A cut through one bay has no studs in it, and a plan no plates.
std::string mixed_text(const SideBySide& all) {
  const auto upright = [](const SideCase& c) { return c.sections[c.leading].cut == CutKind::vertical; };
  const bool mixed = std::any_of(all.cases.begin(), all.cases.end(),
                                 [&](const SideCase& c) { return upright(c) != upright(all.cases.front()); });
  if (all.by == RankedBy::wall_u || !mixed) return "";
  return "  beware: plans and vertical cuts are ranked together; neither is a whole wall\n";
}

}  // namespace

std::string side_by_side_text(const SideBySide& all) {
  const bool by_u = all.by != RankedBy::heat_flow;
  std::vector<Row> ranked{{"rank", "case", by_words(all.by)}};
  if (by_u) ranked[0].push_back("R");
  ranked[0].push_back("more than the least");
  const bool has_extra =
      std::any_of(all.cases.begin(), all.cases.end(), [](const SideCase& c) { return c.extra.has_value(); });
  if (has_extra) ranked[0].push_back("extra for workmanship");
  for (std::size_t i = 0; i < all.cases.size(); ++i) {
    const double value = ranked_value(all, i).value;
    Row row{fmt::format("{}", all.ranks[i]), harmless(all.cases[i].name), value_text(all, value)};
    if (by_u) row.push_back(r_value_text(value, all.units));
    row.push_back(more_text(all, i));
    if (has_extra) row.push_back(extra_text(all, all.cases[i]));
    ranked.push_back(std::move(row));
  }
  std::vector<Row> sections{{"case", "section", "U", "heat flow", "coldest", "factor"}};
  for (const SideCase& c : all.cases)
    for (const SideSection& s : c.sections)
      sections.push_back({harmless(c.name), harmless(s.name),
                          s.u ? u_value_text(s.u->value, all.units) : "none",
                          heat_text(s.heat.value, all.units), temperature_text(s.coldest.value, all.units),
                          s.factor ? fmt::format("{:.3f}", s.factor->value) : ""});
  std::string out =
      aligned(ranked) + equals_text(all) + mixed_text(all) + airs_text(all) + '\n' + aligned(sections);
  for (const SideCase& c : all.cases)
    if (!c.reached) out += fmt::format("  beware: in {} the accuracy was NOT REACHED\n", harmless(c.name));
  return out;
}

}  // namespace coldbay
