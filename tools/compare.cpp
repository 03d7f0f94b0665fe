#include "tools/compare.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>
#include <utility>

#include "tools/outcome.hpp"
#include "tools/report/files.hpp"
#include "tools/report/png.hpp"
#include "tools/report/side_by_side_picture.hpp"
#include "tools/report/side_by_side_text.hpp"
#include "tools/side_by_side.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

/// By their files' names without folder and ending where those tell them apart, else as they were given.
std::vector<std::string> names_of(const std::vector<SourceText>& sources) {
  std::vector<std::string> names;
  names.reserve(sources.size());
  for (const SourceText& source : sources) names.push_back(fs::path(source.name).stem().string());
  if (std::set<std::string>(names.begin(), names.end()).size() == names.size()) return names;
  for (std::size_t i = 0; i < sources.size(); ++i) names[i] = sources[i].name;
  return names;
}

SideCase solved(const SourceText& source, const std::string& name, const Case& c) {
  for (const InputError& warning : c.warnings) fmt::print(stderr, "{}", render(warning, source, "warning"));
  const Outcomes outcomes =
      solve_case(c, [&](const std::string& at) { show_progress(fmt::format("{}: {}", harmless(name), at)); });
  show_progress("");
  return side_case(c, outcomes, name, sha256(source.text));
}

void write(const fs::path& folder, const SideBySide& all, const PictureStyle& style) {
  const std::string json = side_by_side_json(all);
  std::string from;
  for (const SideCase& c : all.cases)
    from += fmt::format("{}{} sha256 {}", from.empty() ? "" : "; ", c.name, c.sha256);
  const std::vector<std::pair<std::string, std::string>> texts{
      {"Software", fmt::format("coldbay {}", version())}, {"Title", style.title}, {"Source", from}};
  const std::vector<OutputFile> files{
      {"compare.json", {json.begin(), json.end()}},
      {"compare.png", encode_png(side_by_side_picture(all, style).drawing.picture, texts)}};
  write_all(folder, files, is_ours);
  for (const OutputFile& file : files) fmt::print(stderr, "wrote {}\n", (folder / file.name).string());
}

}  // namespace

bool compare(const std::vector<SourceText>& sources, const MaterialsFile& materials,
             const std::optional<fs::path>& out, Palette palette) {
  if (sources.size() < 2)
    throw InputErrors({{{}, "one case alone cannot be compared: name two or more", "", ""}});
  const std::vector<std::string> names = names_of(sources);
  std::vector<Case> read;
  read.reserve(sources.size());
  for (const SourceText& source : sources) {
    read.push_back(read_case(source, materials.library));
    if (read.back().sections.empty())
      throw InputErrors({{{}, fmt::format("{} has no section to compare", source.name), "", ""}});
  }
  std::vector<SideCase> cases;
  cases.reserve(sources.size());
  for (std::size_t i = 0; i < sources.size(); ++i) cases.push_back(solved(sources[i], names[i], read[i]));
  PictureStyle style = style_of(read.front(), palette);
  style.title = fmt::format("{} cases side by side", cases.size());
  const SideBySide all = side_by_side(std::move(cases), read.front().units);
  if (out) write(*out, all, style);
  fmt::print("{}", side_by_side_text(all));
  return std::all_of(all.cases.begin(), all.cases.end(), [](const SideCase& c) { return c.reached; });
}

}  // namespace coldbay
