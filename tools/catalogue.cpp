#include "tools/catalogue.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/wall/cuts.hpp"
#include "tools/input/case.hpp"
#include "tools/input/document.hpp"
#include "tools/outcome.hpp"
#include "tools/report/amounts.hpp"
#include "tools/report/fault_words.hpp"
#include "tools/report/files.hpp"
#include "tools/report/loop_rows.hpp"
#include "tools/report/loop_text.hpp"
#include "tools/report/png.hpp"
#include "tools/report/result_json.hpp"
#include "tools/report/section_picture.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view page_begins = "<!-- made by coldbay catalogue";

/// The line of a file on which a bay stands, without its dash.
std::string line_of(const SourceText& source, const Node& bay) {
  std::size_t from = 0;
  for (int line = 1; line < bay.where.line; ++line) from = source.text.find('\n', from) + 1;
  std::string text = source.text.substr(from, source.text.find('\n', from) - from);
  const std::size_t begin = text.find_first_not_of(" -");
  text = text.substr(begin == std::string::npos ? 0 : begin);
  return text;
}

std::vector<std::uint8_t> drawn(const Case& c, const Outcome& o, const SourceText& source) {
  const bool ip = c.units == UnitSystem::inch_pound;
  const PictureStyle style{Palette::hearth,
                           ip ? TemperatureUnit::fahrenheit : TemperatureUnit::celsius,
                           ip ? LengthUnit::inch : LengthUnit::millimetre,
                           c.title,
                           c.sections[0].name,
                           false};
  const std::vector<std::pair<std::string, std::string>> text{
      {"Software", fmt::format("coldbay {}", version())},
      {"Title", c.title},
      {"Source",
       fmt::format("{} sha256 {}", fs::path(source.name).filename().string(), sha256(source.text))}};
  return encode_png(materials_picture(c.sections[0], o.built.grid, style), text);
}

/// "36 °F and 55 °F": where pipes are, in the order of the bays.
std::string pipes(const Case& c, const Outcome& o) {
  std::string out;
  for (const Probe& p : c.sections[0].probes)
    out += fmt::format(
        "{}{} is at {}", out.empty() ? " The " : ", the ", p.name,
        temperature_text(temperature_at(o.built.grid, o.built.air, o.built.field, p.at), c.units));
  return out.empty() ? out : out + ".";
}

bool is_of_catalogue(const std::vector<std::uint8_t>& bytes) {
  if (const auto software = png_text(bytes, "Software")) return software->starts_with("coldbay");
  return bytes.size() >= page_begins.size() &&
         std::equal(page_begins.begin(), page_begins.end(), bytes.begin());
}

}  // namespace

CatalogueEntry catalogue_entry(const SourceText& source, const Library& library) {
  const Case c = read_case(source, library);
  const auto refuse = [](const std::string& why) {
    throw InputErrors({{{}, why, "", "a case of the catalogue is a wall whose first section shows a fault"}});
  };
  if (!c.wall || !c.right[0]) refuse("there is no fault to show in this case");
  const auto& faults = c.seen[0];
  std::size_t b = 0;
  while (b < faults.size() && faults[b].empty()) ++b;
  if (b == faults.size()) refuse("the first section shows no fault");

  Outcomes all = solve_case(c, [](const std::string&) {});
  const Outcome o = std::move(all.sections[0]);
  const Effect& e = *o.effect;
  const bool plan = c.sections[0].cut == CutKind::plan, by_bay = b < e.parts.size();
  const double share = by_bay ? e.parts[b].share : e.share, extra = by_bay ? e.parts[b].extra : e.extra;
  const Node root = read_document(source);
  CatalogueEntry entry;
  entry.name = fs::path(source.name).stem().string();
  entry.title = c.title;
  entry.wrong = line_of(source, node_at(root, c.wall->bays[b].path));
  if (b + 1 < faults.size() && faults_of(*c.wall)[b + 1].empty())
    entry.right = line_of(source, node_at(root, c.wall->bays[b + 1].path));
  entry.share = signed_percent(share);
  entry.of = by_bay ? "its bay"
             : plan ? "the section"
                    : fmt::format("a wall {} high", length_text(c.sections[0].width, c.units));
  entry.surface = fmt::format("{} {}", difference_text(std::abs(e.surface), c.units),
                              e.surface < 0.0 ? "colder" : "warmer");
  entry.costs = fmt::format(
      "{} of the heat of {}, {} of {}; at its worst the room face is {} than built right.{}", entry.share,
      entry.of, heat_text(extra, c.units), plan ? "height" : "width", entry.surface, pipes(c, o));
  for (const ScrapsRange& range : o.scraps) {
    const auto [low, high] = std::minmax_element(range.shares.begin(), range.shares.end());
    entry.costs += fmt::format(" By itself, over {} stuffings of the same scraps, the bay is at {} to {}.",
                               range.shares.size(), signed_percent(*low), signed_percent(*high));
  }
  for (const Fault f : faults[b]) entry.advice.push_back(fmt::format("Right: {}.", words_of(f).right));
  for (const Fault f : faults[b])
    if (!words_of(f).note.empty()) entry.advice.push_back(fmt::format("Note: {}.", words_of(f).note));
  if (const auto& loop = all.loops[b])
    entry.advice.push_back(fmt::format("Note: {}{}.", loop_text(*loop, c.units),
                                       loop->none ? "" : fmt::format(" ({})", loop_checked_against)));
  entry.picture = drawn(c, o, source);
  return entry;
}

std::string catalogue_page(const std::vector<CatalogueEntry>& entries,
                           const std::vector<std::string>& cases) {
  std::string page = fmt::format(
      "{}: do not edit; change the cases, and make it anew -->\n\n"
      "# Faults, wrong beside right\n\n"
      "Each fault is a small case: two bays, the left one wrong, the right one as it should be. What it "
      "costs is the "
      "difference from the same wall built right. Air on both faces of a batt goes round it in the vertical "
      "sections; in a plan it stands still. A box or a pipe in a plan section is drawn "
      "from "
      "floor to ceiling: the share is that of the heat at its height.\n\n"
      "| fault | extra heat | of that of | room face at its worst |\n|---|---|---|---|\n",
      page_begins);
  for (const CatalogueEntry& e : entries)
    page += fmt::format("| [{}](#{}) | {} | {} | {} |\n", e.title, e.name, e.share, e.of, e.surface);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const CatalogueEntry& e = entries[i];
    page += fmt::format("\n<a id=\"{0}\"></a>\n\n## {1}\n\n```yaml\n- {2}\n", e.name, e.title, e.wrong);
    if (!e.right.empty()) page += fmt::format("- {}    # right\n", e.right);
    page += fmt::format("```\n\n![the section, drawn](pictures/{}.png)\n\n{}\n", e.name, e.costs);
    for (const std::string& advice : e.advice) page += fmt::format("{}\n", advice);
    page += fmt::format("\nCase: [{0}]({0})\n", cases[i]);
  }
  page +=
      "\nLive wiring behind boxes: switch it off, and leave it to a licensed electrician. Keep insulation "
      "and foam clear "
      "of flues, chimneys and recessed lights not rated for contact. Gloves, goggles and a mask with mineral "
      "fibre; old fills may hold asbestos. Local codes and licensed practice come first; a forecast is not a "
      "certificate.\n";
  return page;
}

void write_catalogue(const std::vector<SourceText>& sources, const Library& library, const fs::path& folder) {
  std::vector<CatalogueEntry> entries;
  std::vector<std::string> cases;
  std::vector<OutputFile> pictures;
  for (const SourceText& source : sources) {
    entries.push_back(catalogue_entry(source, library));
    cases.push_back(fs::proximate(source.name, folder).generic_string());
    pictures.push_back({entries.back().name + ".png", entries.back().picture});
  }
  const std::string page = catalogue_page(entries, cases);
  write_all(folder / "pictures", pictures, is_of_catalogue);
  write_all(folder, {{"README.md", {page.begin(), page.end()}}}, is_of_catalogue);
}

}  // namespace coldbay
