#include "tools/handout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "tools/handout_pages.hpp"
#include "tools/print_pdf.hpp"
#include "tools/report/files.hpp"
#include "tools/report/handout/document.hpp"

namespace coldbay {
namespace {

void write_page(const std::filesystem::path& file, std::vector<std::uint8_t> bytes,
                bool (*is_ours)(const std::vector<std::uint8_t>&)) {
  if (file.filename().empty())
    throw OutputError(fmt::format("{}: this is a folder; name a file in it", file.string()));
  const std::filesystem::path folder =
      file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
  write_all(folder, {{file.filename().string(), std::move(bytes)}}, is_ours);
}

}  // namespace

bool handout(const std::vector<SourceText>& sources, const MaterialsFile& materials, const Words& words,
             const HandoutStyle& style, const std::filesystem::path& out,
             const std::optional<std::filesystem::path>& pdf) {
  // 1. Read the cases and solve the face of each wall, as built and built right.
  std::vector<HandoutWall> walls;
  walls.reserve(sources.size());
  for (const SourceText& source : sources) {
    Case c = read_wall_case(source, materials.library);
    walls.push_back(handout_wall(std::move(c), provenance_of(source, materials), walls.size() + 1,
                                 {style.within, 0.02}, show_progress));
  }
  show_progress("");

  // 2. Draw it all into one page.
  const std::string html = handout_html(walls, words, style);

  // 3. Write it whole or not at all.
  write_page(out, {html.begin(), html.end()}, is_handout);
  const std::size_t sheets = sheets_of(walls);
  fmt::print(stderr, "wrote {}, {} sheet{}\n", out.string(), sheets, sheets == 1 ? "" : "s");
  if (pdf) {
    show_progress("printing");
    const std::vector<std::uint8_t> printed = print_pdf(html, sheets);
    show_progress("");
    write_page(*pdf, printed, is_printed_handout);
    fmt::print(stderr, "wrote {}\n", pdf->string());
  }
  return std::all_of(walls.begin(), walls.end(), [](const HandoutWall& wall) {
    return wall.faces.built.reached && (!wall.faces.right || wall.faces.right->reached);
  });
}

}  // namespace coldbay
