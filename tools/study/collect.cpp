#include <fmt/core.h>

#include <cstdio>
#include <system_error>

#include "tools/report/files.hpp"
#include "tools/study/command.hpp"
#include "tools/study/folder.hpp"
#include "tools/study/progress.hpp"
#include "tools/study/results.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

}  // namespace

int collect_study(const std::vector<fs::path>& folders, const fs::path& out) {
  // 1. All of one study?
  StudyCard card;
  try {
    card = read_card(folders.at(0));
    for (const fs::path& folder : folders)
      if (read_card(folder).inputs != card.inputs) {
        say(fmt::format("{} and {} keep studies of different inputs: they are not joined\n",
                        folders[0].string(), folder.string()));
        return 3;
      }
  } catch (const OutputError& e) {
    say(fmt::format("{}\n", e.what()));
    return 3;
  }
  open_folder(out, card);

  // 2. What is not in `out` yet is copied, row by row.
  RowIndex kept(card.n), all(card.n);
  kept.add_folder(out);
  all.add_folder(out);
  for (const fs::path& folder : folders) {
    std::error_code error;
    if (!fs::equivalent(folder, out, error)) all.add_folder(folder);
  }
  Journal journal(out);
  RowIndex::Reader reader(all);
  for (std::uint64_t id = 0; id < card.n; ++id)
    if (all.has(id) && !kept.has(id)) journal.add(reader.row(id));
  journal.sync();

  // 3. In order, and what is missing.
  return tell_results(out, card, false);
}

}  // namespace coldbay
