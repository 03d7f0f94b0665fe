#include "tools/handout.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tools/handout_pages.hpp"
#include "tools/report/files.hpp"
#include "tools/report/handout/document.hpp"

namespace coldbay {

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
  const std::filesystem::path folder = out.has_parent_path() ? out.parent_path() : std::filesystem::path(".");
  write_all(folder, {{out.filename().string(), {html.begin(), html.end()}}}, is_handout);
  fmt::print(stderr, "wrote {}, {} sheets\n", out.string(), sheets_of(walls));
  (void)pdf;
  return std::all_of(walls.begin(), walls.end(), [](const HandoutWall& wall) {
    return wall.faces.built.reached && (!wall.faces.right || wall.faces.right->reached);
  });
}

}  // namespace coldbay
