#include <fmt/core.h>

#include <cstdio>

#include "tools/study/command.hpp"
#include "tools/study/opened.hpp"
#include "tools/study/rows.hpp"

namespace coldbay {

int list_study(const std::filesystem::path& file, const MaterialsFile& materials) {
  const auto s = open_study(file, materials);
  if (!s) return 3;
  fmt::print(stderr, "{} variant{}\n", s->n, s->n == 1 ? "" : "s");
  std::string header = header_line(s->varied);
  header.resize(header.size() - std::string_view(",failed").size());
  fmt::print("{}\n", header);
  for (std::uint64_t id = 0; id < s->n; ++id) {
    const Variant variant = variant_at(s->study, s->varied, id);
    std::string line = row_line(id, s->varied, variant.cells, {}, 0, "");
    line.back() = '\n';  // the comma before what failed
    fmt::print("{}", line);
  }
  return 0;
}

}  // namespace coldbay
