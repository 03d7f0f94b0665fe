#include "tools/study/results.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "tools/study/results_netcdf.hpp"
#include "tools/study/rows.hpp"
#include "tools/study/whole_file.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

std::string quoted(const std::string& text) {
  return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

/// `[17, 400, "fibre", 0.2413, null]`: as the row, without the quotes of separated values.
std::string json_row(const std::vector<std::string>& fields, const std::vector<StudyColumn>& columns) {
  std::string text = "    [" + fields.at(0);
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const std::string& field = fields.at(c + 1);
    text += ", ";
    text += columns[c].is_text ? quoted(field) : field.empty() ? "null" : field;
  }
  const std::string& failed = fields.at(columns.size() + 1);
  return text + ", " + (failed.empty() ? "null" : quoted(failed)) + "]";
}

std::string json_begin(const StudyCard& card) {
  std::string text = fmt::format(
      "{{\n  \"program\": \"coldbay\",\n  \"version\": {},\n  \"title\": {},\n  \"inputs_sha256\": {},\n"
      "  \"variants\": {},\n  \"columns\": [\n    {{\"name\": \"variant\", \"unit\": \"\"}}",
      quoted(card.version), quoted(card.title), quoted(card.inputs), card.n);
  for (const StudyColumn& c : card.columns)
    text += fmt::format(",\n    {{\"name\": {}, \"unit\": {}, \"varied\": {}}}", quoted(c.name),
                        quoted(c.unit), c.varied);
  return text + ",\n    {\"name\": \"failed\", \"unit\": \"\"}\n  ],\n  \"rows\": [\n";
}

}  // namespace

void write_results(const fs::path& folder, const StudyCard& card, const RowIndex& index) {
  WholeFile csv(folder / "results.csv"), json(folder / "results.json"),
      netcdf(folder / "results.nc", WholeFile::Until::hidden);
  csv.add(header_line(card.columns) + "\r\n");
  json.add(json_begin(card));
  std::vector<std::size_t> longest(card.columns.size() + 2, 1);  // by field [bytes]
  RowIndex::Reader reader(index);
  bool first = true;
  for (std::uint64_t id = 0; id < index.size(); ++id) {
    if (!index.has(id)) continue;
    const std::string row = reader.row(id);
    const std::vector<std::string> fields = fields_of(row);
    csv.add(row + "\r\n");
    json.add((first ? "" : ",\n") + json_row(fields, card.columns));
    for (std::size_t f = 0; f < longest.size(); ++f) longest[f] = std::max(longest[f], fields.at(f).size());
    first = false;
  }
  json.add("\n  ]\n}\n");
  if (index.there() > 0) write_netcdf(netcdf, card, index, longest);
  csv.publish();
  json.publish();
  if (index.there() > 0) netcdf.publish();
}

void Ranges::add(std::uint64_t id) {
  ++count_;
  if (!ranges_.empty() && !more_ && ranges_.back().second + 1 == id)
    ranges_.back().second = id;
  else if (ranges_.size() < most_)
    ranges_.emplace_back(id, id);
  else
    more_ = true;
}

std::string Ranges::text() const {
  std::string text;
  for (const auto& [from, to] : ranges_) {
    text += fmt::format("{}{}", text.empty() ? "" : ", ", from);
    if (to > from) text += fmt::format("-{}", to);
  }
  return text + (more_ ? ", and more" : "");
}

StudyTable read_study_results(const fs::path& folder) {
  const StudyCard card = read_card(folder);
  RowIndex index(card.n);
  index.add_folder(folder);
  RowIndex::Reader reader(index);
  StudyTable table;
  table.columns = card.columns;
  table.numbers.resize(card.columns.size());
  table.texts.resize(card.columns.size());
  for (std::uint64_t id = 0; id < card.n; ++id) {
    if (!index.has(id)) continue;
    std::vector<std::string> fields = fields_of(reader.row(id));
    table.ids.push_back(id);
    for (std::size_t c = 0; c < card.columns.size(); ++c)
      if (card.columns[c].is_text)
        table.texts[c].push_back(std::move(fields.at(c + 1)));
      else
        table.numbers[c].push_back(number_in(fields.at(c + 1)));
    table.failed.push_back(std::move(fields.at(card.columns.size() + 1)));
  }
  return table;
}

}  // namespace coldbay
