#include <fcntl.h>
#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <system_error>
#include <utility>

#include "tools/report/files.hpp"
#include "tools/study/folder.hpp"
#include "tools/study/rows.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

constexpr int offset_bits = 44;
constexpr std::uint64_t offset_mask = (std::uint64_t{1} << offset_bits) - 1;
constexpr std::size_t most_files = std::size_t{1} << (64 - offset_bits);
constexpr std::size_t piece = 1u << 18;        ///< read at a time [bytes]
constexpr std::size_t most_windows = 32;       ///< files open at a time
constexpr std::size_t longest_row = 1u << 20;  ///< what is longer is no row of ours [bytes]

/// The number of "17.rows"; 0 for any other name.
std::uint64_t number_of(const fs::path& file) {
  const std::string name = file.filename().string();
  std::uint64_t number = 0;
  const auto [stop, error] = std::from_chars(name.data(), name.data() + name.size(), number);
  return error == std::errc() && std::string_view(stop) == ".rows" ? number : 0;
}

/// Reads up to as many bytes as `bytes` has room for; shortens it at the end of the file.
void read_at(int fd, const fs::path& file, std::uint64_t offset, std::string& bytes) {
  std::size_t got = 0;
  while (got < bytes.size()) {
    const ssize_t n = pread(fd, bytes.data() + got, bytes.size() - got, static_cast<off_t>(offset + got));
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) fail_writing(file, errno);
    if (n == 0) break;
    got += static_cast<std::size_t>(n);
  }
  bytes.resize(got);
}

int open_to_read(const fs::path& file) {
  const int fd = open(file.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) fail_writing(file, errno);
  return fd;
}

/// Closes what it holds.
struct Descriptor {
  int fd;
  explicit Descriptor(int number) : fd(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() { close(fd); }
};

}  // namespace

void RowIndex::add_folder(const fs::path& folder) {
  std::vector<std::pair<std::uint64_t, fs::path>> parts;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(folder / "parts", error))
    if (const std::uint64_t number = number_of(entry.path())) parts.emplace_back(number, entry.path());
  if (error && error != std::errc::no_such_file_or_directory) fail_writing(folder / "parts", error.value());
  std::sort(parts.begin(), parts.end());
  for (const auto& part : parts) add_file(part.second);
}

void RowIndex::add_file(const fs::path& path) {
  if (files_.size() >= most_files)
    throw OutputError(fmt::format("{}: too many files of rows", path.string()));
  const std::size_t file = files_.size();
  files_.push_back(path);
  const Descriptor in(open_to_read(path));
  Reader known(*this);
  std::string bytes, rest;  // the rest: a line that is not at its end yet
  std::uint64_t at = 0;     // of the next piece
  do {
    bytes.resize(piece);
    read_at(in.fd, path, at, bytes);
    std::uint64_t begin = at - rest.size();  // of the line
    at += bytes.size();
    rest += bytes;
    std::size_t from = 0;
    for (std::size_t end; (end = rest.find('\n', from)) != std::string::npos; from = end + 1) {
      const std::string_view line(rest.data() + from, end - from);
      if (const auto row = unsealed(line))
        if (const auto id = id_of(*row); id && *id < places_.size()) add_row(*id, file, begin, *row, known);
      begin += line.size() + 1;
    }
    rest.erase(0, from);
    if (rest.size() > longest_row) rest.clear();
  } while (!bytes.empty());
}

void RowIndex::add_row(std::uint64_t id, std::size_t file, std::uint64_t offset, std::string_view row,
                       Reader& known) {
  if (has(id)) {
    if (known.row(id) != row)
      throw OutputError(fmt::format("{}: says something else of variant {} than {}", files_[file].string(),
                                    id, files_[places_[id] >> offset_bits].string()));
    return;
  }
  places_[id] = std::uint64_t{file} << offset_bits | (offset + 1);
  ++there_;
}

RowIndex::Reader::~Reader() {
  for (const Window& w : windows_) close(w.fd);
}

RowIndex::Reader::Window& RowIndex::Reader::window_of(std::size_t file) {
  const auto open_one =
      std::find_if(windows_.begin(), windows_.end(), [&](const Window& w) { return w.file == file; });
  if (open_one != windows_.end()) return *open_one;
  const int fd = open_to_read(index_.files_[file]);
  if (windows_.size() < most_windows) {
    windows_.push_back({file, fd, 0, {}});
    return windows_.back();
  }
  Window& w = windows_[next_++ % most_windows];
  close(w.fd);
  w = {file, fd, 0, {}};
  return w;
}

std::string RowIndex::Reader::row(std::uint64_t id) {
  const std::uint64_t place = index_.places_[id];
  const std::size_t file = place >> offset_bits;
  const std::uint64_t offset = (place & offset_mask) - 1;
  Window& w = window_of(file);
  for (std::size_t size = piece; size <= 4 * longest_row; size *= 4) {
    const bool inside = offset >= w.from && offset - w.from < w.bytes.size();
    const std::size_t begin = inside ? static_cast<std::size_t>(offset - w.from) : 0;
    const std::size_t end = inside ? w.bytes.find('\n', begin) : std::string::npos;
    if (end != std::string::npos) {
      const auto row = unsealed(std::string_view(w.bytes).substr(begin, end - begin));
      if (row) return std::string(*row);
      break;
    }
    w.from = offset;
    w.bytes.resize(size);
    read_at(w.fd, index_.files_[file], offset, w.bytes);
  }
  throw OutputError(fmt::format("{}: changed while it was read", index_.files_[file].string()));
}

}  // namespace coldbay
