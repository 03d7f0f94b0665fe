#include "tools/handout.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "tools/handout_pages.hpp"
#include "tools/print_pdf.hpp"
#include "tools/report/files.hpp"
#include "tools/report/handout/document.hpp"
#include "tools/source_files.hpp"

namespace coldbay {
namespace {

void require_page(const std::filesystem::path& file, bool (*is_ours)(const std::vector<std::uint8_t>&)) {
  std::error_code error;
  if (file.filename().empty() || std::filesystem::is_directory(file, error))
    throw OutputError(fmt::format("{}: this is a folder; name a file in it", file.string()));
  require_free(file, is_ours);
}

void write_page(const std::filesystem::path& file, std::vector<std::uint8_t> bytes,
                bool (*is_ours)(const std::vector<std::uint8_t>&)) {
  const std::filesystem::path folder =
      file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
  write_all(folder, {{file.filename().string(), std::move(bytes)}}, is_ours);
}

struct ReadCase {
  SourceText source;
  Case c;
};

/// How sure the heat of each bay is asked to be, as a share: a trainer tells per cents.
constexpr double heat_tolerance = 0.02;

}  // namespace

int handout(const std::vector<std::string>& files, const MaterialsFile& materials, const Words& words,
            const HandoutStyle& style, const std::filesystem::path& out,
            const std::optional<std::filesystem::path>& pdf) {
  // 1. Read the cases, and see that what comes of them can be written: nothing is solved for nothing.
  std::vector<ReadCase> cases;
  cases.reserve(files.size());
  int code = exit_code::done;
  for (const std::string& file : files)
    if (const int one = with_case(file,
                                  [&](const SourceText& source) {
                                    cases.push_back({source, read_wall_case(source, materials.library)});
                                    return exit_code::done;
                                  });
        one != exit_code::done)
      code = one;
  if (code != exit_code::done) return code;
  require_page(out, is_handout);
  if (pdf) {
    require_page(*pdf, is_printed_handout);
    require_browser();
  }

  // 2. Solve the face of each wall, as built and built right, and gather what its pages tell.
  std::vector<HandoutWall> walls;
  walls.reserve(cases.size());
  for (ReadCase& one : cases) {
    code = guarded(one.source, [&] {
      walls.push_back(handout_wall(std::move(one.c), provenance_of(one.source, materials), walls.size() + 1,
                                   {style.within, heat_tolerance}, show_progress));
      return exit_code::done;
    });
    if (code != exit_code::done) return code;
  }
  show_progress("");

  // 3. Draw it all into one page, and write that whole or not at all.
  const std::string html = handout_html(walls, words, style);
  write_page(out, {html.begin(), html.end()}, is_handout);
  const std::size_t sheets = sheets_of(walls, words, style);
  fmt::print(stderr, "wrote {}, {} sheet{}\n", out.string(), sheets, sheets == 1 ? "" : "s");
  if (pdf) {
    show_progress("printing");
    const std::vector<std::uint8_t> printed = print_pdf(html, sheets);
    show_progress("");
    write_page(*pdf, printed, is_printed_handout);
    fmt::print(stderr, "wrote {}\n", pdf->string());
  }
  const bool reached = std::all_of(walls.begin(), walls.end(), [](const HandoutWall& wall) {
    return wall.faces.built.reached && (!wall.faces.right || wall.faces.right->reached);
  });
  return reached ? exit_code::done : exit_code::not_reached;
}

}  // namespace coldbay
