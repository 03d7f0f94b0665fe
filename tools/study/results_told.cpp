#include <fmt/core.h>

#include <cstdio>
#include <string>
#include <vector>

#include "tools/report/files.hpp"
#include "tools/report/study/page.hpp"
#include "tools/study/progress.hpp"
#include "tools/study/results.hpp"
#include "tools/study/rows.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_ranges = 1000;  ///< told of, one after another

/// Rows up to which their page is drawn, for it takes them all into memory: 100,000 take a second.
constexpr std::uint64_t most_on_a_page = 100'000;

/// study.html: what a researcher would plot first.
void write_page(const fs::path& folder, const StudyCard& card) {
  const StudyTable table = read_study_results(folder);
  std::vector<std::string> provenance{fmt::format("coldbay {}", card.version),
                                      fmt::format("inputs sha256 {}", card.inputs)};
  if (table.ids.size() < card.n)
    provenance.push_back(fmt::format("the whole study is {} variants: not all are here", card.n));
  const std::string html = study_html(table, card.title.empty() ? folder.string() : card.title, provenance);
  write_all(folder, {{"study.html", {html.begin(), html.end()}}}, is_study_page);
}

const char* ending(std::uint64_t n) { return n == 1 ? "" : "s"; }

}  // namespace

int tell_results(const fs::path& folder, const StudyCard& card, bool share) {
  RowIndex index(card.n);
  index.add_folder(folder);
  write_results(folder, card, index);
  if (index.there() > 0 && index.there() <= most_on_a_page) write_page(folder, card);
  Ranges missing(most_ranges), failed(most_ranges);
  RowIndex::Reader reader(index);
  std::string first_failure;
  for (std::uint64_t id = 0; id < card.n; ++id) {
    if (!index.has(id)) {
      missing.add(id);
      continue;
    }
    const std::string row = reader.row(id);
    if (!has_failed(row)) continue;
    if (failed.count() == 0) first_failure = fmt::format("variant {}: {}", id, fields_of(row).back());
    failed.add(id);
  }
  say(fmt::format("{}: {} of {} variant{}\n", (folder / "results.csv").string(), index.there(), card.n,
                  ending(card.n)));
  if (missing.count() > 0 && !share)
    say(fmt::format("missing: {} variant{}: {}\n", missing.count(), ending(missing.count()), missing.text()));
  if (failed.count() > 0)
    say(fmt::format("failed: {} variant{}: {}\n  {}\n", failed.count(), ending(failed.count()), failed.text(),
                    first_failure));
  return failed.count() > 0 || (missing.count() > 0 && !share) ? 4 : 0;
}

}  // namespace coldbay
