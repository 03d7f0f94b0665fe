#include "tools/study/results.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <nlohmann/json.hpp>
#include <system_error>
#include <utility>

#include "tools/report/files.hpp"
#include "tools/study/rows.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

/// A file that takes its name when it is whole, in place of what has it. Until then it has none, where the
/// file system can do that, so that nothing is left of it after a kill; elsewhere a hidden one.
class Whole {
 public:
  explicit Whole(fs::path name) : name_(std::move(name)) {
    int fd = open(name_.parent_path().c_str(), O_TMPFILE | O_WRONLY | O_CLOEXEC, 0666);
    if (fd < 0) {
      std::string hidden = hidden_name();
      fd = mkstemp(hidden.data());
      if (fd < 0) fail();
      temporary_ = hidden;
    }
    file_ = fdopen(fd, "wb");
    if (!file_) fail();
  }
  Whole(const Whole&) = delete;
  Whole& operator=(const Whole&) = delete;
  ~Whole() {
    std::fclose(file_);
    if (!temporary_.empty()) std::remove(temporary_.c_str());
  }
  void add(std::string_view text) {
    if (std::fwrite(text.data(), 1, text.size(), file_) != text.size()) fail();
  }
  void publish() {
    if (std::fflush(file_) != 0 || fsync(fileno(file_)) != 0) fail();
    if (temporary_.empty()) {
      // A name that nobody else has, found by making a file of it.
      std::string hidden = hidden_name();
      const int held = mkstemp(hidden.data());
      if (held < 0) fail();
      close(held);
      std::remove(hidden.c_str());
      const std::string open_file = fmt::format("/proc/self/fd/{}", fileno(file_));
      if (linkat(AT_FDCWD, open_file.c_str(), AT_FDCWD, hidden.c_str(), AT_SYMLINK_FOLLOW) != 0) fail();
      temporary_ = hidden;
    } else {  // mkstemp makes files for their owner alone; results are for whoever the user's mask allows
      const mode_t mask = umask(0);
      umask(mask);
      if (fchmod(fileno(file_), 0666 & ~mask) != 0) fail();
    }
    if (std::rename(temporary_.c_str(), name_.c_str()) != 0) fail();
    temporary_.clear();
  }

 private:
  std::string hidden_name() const {
    return (name_.parent_path() / fmt::format(".{}.XXXXXX", name_.filename().string())).string();
  }
  [[noreturn]] void fail() const {
    throw OutputError(fmt::format("{}: {}", name_.string(), std::generic_category().message(errno)));
  }
  fs::path name_, temporary_;
  std::FILE* file_ = nullptr;
};

std::string quoted(const std::string& text) {
  return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

/// `[17, 400, "fibre", 0.2413, null]`: as the row, without the quotes of separated values.
std::string json_row(const std::string& row, const std::vector<StudyColumn>& columns) {
  const std::vector<std::string> fields = fields_of(row);
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

double number_of(const std::string& field) {
  double value = std::numeric_limits<double>::quiet_NaN();
  std::from_chars(field.data(), field.data() + field.size(), value);
  return value;
}

}  // namespace

void write_results(const fs::path& folder, const StudyCard& card, const RowIndex& index) {
  Whole csv(folder / "results.csv"), json(folder / "results.json");
  RowIndex::Reader reader(index);
  csv.add(header_line(card.columns) + "\r\n");
  json.add(json_begin(card));
  bool first = true;
  for (std::uint64_t id = 0; id < index.size(); ++id) {
    if (!index.has(id)) continue;
    const std::string row = reader.row(id);
    csv.add(row + "\r\n");
    json.add((first ? "" : ",\n") + json_row(row, card.columns));
    first = false;
  }
  json.add("\n  ]\n}\n");
  csv.publish();
  json.publish();
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
        table.numbers[c].push_back(number_of(fields.at(c + 1)));
    table.failed.push_back(std::move(fields.at(card.columns.size() + 1)));
  }
  return table;
}

}  // namespace coldbay
