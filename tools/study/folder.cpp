#include "tools/study/folder.hpp"

#include <fcntl.h>
#include <fmt/core.h>
#include <unistd.h>

#include <cerrno>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <system_error>
#include <utility>

#include "tools/report/files.hpp"
#include "tools/study/rows.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

std::string card_text(const StudyCard& card) {
  nlohmann::ordered_json columns = nlohmann::json::array();
  for (const StudyColumn& c : card.columns) {
    nlohmann::ordered_json column{
        {"name", c.name}, {"unit", c.unit}, {"varied", c.varied}, {"text", c.is_text}};
    if (c.varied) column["drawn"] = c.drawn;
    if (c.factor) column["factor"] = *c.factor;
    columns.push_back(std::move(column));
  }
  const nlohmann::ordered_json all{{"program", "coldbay"}, {"version", card.version},
                                   {"title", card.title},  {"inputs_sha256", card.inputs},
                                   {"variants", card.n},   {"columns", columns}};
  return all.dump(2) + "\n";
}

/// Whether a folder has in it what is not of a study that is about to begin, here or in another share.
bool has_other_files(const fs::path& folder) {
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(folder, error)) {
    const std::string name = entry.path().filename().string();
    if (name != "study.json" && name != "parts" && !name.starts_with(".study.json.")) return true;
  }
  return false;
}

bool never(const std::vector<std::uint8_t>&) { return false; }

}  // namespace

StudyCard read_card(const fs::path& folder) {
  const fs::path file = folder / "study.json";
  std::ifstream in(file, std::ios::binary);
  if (!in)
    throw OutputError(fmt::format("{}: not the folder of a study: it has no study.json", folder.string()));
  const std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  try {
    const auto all = nlohmann::json::parse(text);
    if (all.at("program") != "coldbay") throw OutputError("");
    StudyCard card{all.at("title"), all.at("version"), all.at("inputs_sha256"), all.at("variants"), {}};
    for (const auto& c : all.at("columns")) {
      card.columns.push_back(
          {c.at("name"), c.at("unit"), c.at("varied"), c.at("text"), c.value("drawn", false)});
      if (c.contains("factor")) card.columns.back().factor = c.at("factor").get<std::size_t>();
    }
    return card;
  } catch (const std::exception&) {
    throw OutputError(fmt::format("{}: this is not the card of a study", file.string()));
  }
}

void open_folder(const fs::path& folder, const StudyCard& card) {
  std::error_code error;
  if (fs::exists(folder / "study.json", error)) {
    if (read_card(folder).inputs != card.inputs)
      throw OutputError(
          fmt::format("{}: this folder keeps a study of other inputs (or of another version): choose another",
                      folder.string()));
  } else {
    // Another share may have begun meanwhile: then study.json is there, and more may be.
    if (has_other_files(folder) && !fs::exists(folder / "study.json", error))
      throw OutputError(
          fmt::format("{}: this folder is not empty, and what is in it is not of a study: choose another",
                      folder.string()));
    const std::string text = card_text(card);
    try {
      write_all(folder, {{"study.json", {text.begin(), text.end()}}}, never);
    } catch (const OutputError&) {  // another share was quicker
      if (!fs::exists(folder / "study.json", error)) throw;
      return open_folder(folder, card);
    }
  }
  fs::create_directory(folder / "parts", error);
  if (error) fail_writing(folder / "parts", error.value());
}

Journal::Journal(const fs::path& folder) : parts_(folder / "parts") {}

Journal::~Journal() {
  if (fd_ >= 0) close(fd_);
}

void Journal::add(const std::string& row) {
  for (int number = 1; fd_ < 0; ++number) {
    file_ = parts_ / fmt::format("{}.rows", number);
    fd_ = open(file_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_APPEND | O_CLOEXEC, 0666);
    if (fd_ < 0 && errno != EEXIST) fail_writing(file_, errno);
  }
  const std::string line = sealed(row);
  for (std::size_t written = 0; written < line.size();) {
    const ssize_t n = write(fd_, line.data() + written, line.size() - written);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) {
      const int why = errno;
      // A torn row would be known as such; without it the file is as it was.
      if (ftruncate(fd_, static_cast<off_t>(size_)) != 0) fail_writing(file_, why);
      fail_writing(file_, why);
    }
    written += static_cast<std::size_t>(n);
  }
  size_ += line.size();
}

void Journal::sync() {
  if (fd_ >= 0 && fsync(fd_) != 0 && errno != EINVAL) fail_writing(file_, errno);
}

}  // namespace coldbay
