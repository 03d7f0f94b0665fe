#include "tools/report/files.hpp"

#include <fcntl.h>
#include <fmt/core.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <system_error>
#include <utility>

namespace coldbay {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void already_there(const fs::path& file) {
  throw OutputError(fmt::format(
      "{}: is there already, and was left as it is; move it away, or give another name with --out FILE",
      file.string()));
}

/// A file on its way: open and without a name where the file system can do that, so that nothing is
/// left of it even if the program is killed; under a hidden name elsewhere.
struct Staged {
  int fd = -1;
  fs::path temporary;  ///< empty while it has no name
  fs::path final_name;
};

/// Files on their way: gone again unless they took their names.
class Staging {
 public:
  explicit Staging(fs::path folder) : folder_(std::move(folder)) {}
  Staging(const Staging&) = delete;
  Staging& operator=(const Staging&) = delete;
  ~Staging() {
    std::error_code ignored;
    for (const Staged& file : files_) {
      close(file.fd);
      if (!file.temporary.empty()) fs::remove(file.temporary, ignored);
    }
    for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder)
      fs::remove(*folder, ignored);  // only if empty
  }

  /// Makes the folder and those above it that are missing.
  void make_folder() {
    std::vector<fs::path> missing;
    std::error_code error;
    for (fs::path p = fs::absolute(folder_).lexically_normal(); !p.empty() && !fs::exists(p, error);
         p = p.parent_path()) {
      missing.push_back(p);
      if (p == p.parent_path()) break;
    }
    for (auto p = missing.rbegin(); p != missing.rend(); ++p) {
      if (p->filename().empty()) continue;  // a trailing slash
      if (!fs::create_directory(*p, error) && error) fail_writing(*p, error.value());
      made_.push_back(*p);
    }
    if (!fs::is_directory(folder_, error))
      throw OutputError(fmt::format("{}: not a folder", folder_.string()));
  }

  void write(const OutputFile& file) {
    Staged staged;
    staged.final_name = folder_ / file.name;
    staged.fd = open(folder_.c_str(), O_TMPFILE | O_WRONLY | O_CLOEXEC, 0666);
    if (staged.fd < 0) {
      std::string hidden = (folder_ / ("." + file.name + ".XXXXXX")).string();
      staged.fd = mkstemp(hidden.data());
      if (staged.fd < 0) fail_writing(staged.final_name, errno);
      staged.temporary = hidden;
    }
    files_.push_back(staged);
    if (const int error = fill(staged.fd, file.bytes)) fail_writing(staged.final_name, error);
  }

  /// All files are safe on the disk: give them their names.
  ///
  /// A new name is given in one step. A file that replaces another waits under a hidden name, since a link
  /// cannot replace, until all that could fail is done. New names are taken back where a later one fails.
  void publish() {
    std::vector<fs::path> named;
    try {
      for (Staged& file : files_) {
        if (!file.temporary.empty()) continue;
        if (link(file.fd, file.final_name))
          named.push_back(file.final_name);
        else
          file.temporary = hide(file);
      }
      for (Staged& file : files_) {
        if (file.temporary.empty()) continue;
        if (std::rename(file.temporary.c_str(), file.final_name.c_str()) != 0)
          fail_writing(file.final_name, errno);
        file.temporary.clear();
      }
    } catch (...) {
      std::error_code ignored;
      for (const fs::path& name : named) fs::remove(name, ignored);
      throw;
    }
    made_.clear();
  }

  /// The same for one file that may replace nothing.
  void publish_new() {
    Staged& file = files_.front();
    if (file.temporary.empty()) {
      if (!link(file.fd, file.final_name)) already_there(file.final_name);
    } else {  // no links here: an empty file holds the name until the whole one takes it
      const int held = open(file.final_name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
      if (held < 0 && errno == EEXIST) already_there(file.final_name);
      if (held < 0) fail_writing(file.final_name, errno);
      close(held);
      if (std::rename(file.temporary.c_str(), file.final_name.c_str()) != 0) {
        const int error = errno;
        std::remove(file.final_name.c_str());
        fail_writing(file.final_name, error);
      }
      file.temporary.clear();
    }
    made_.clear();
  }

 private:
  /// Names an open file that has no name; false where something of that name is there already.
  static bool link(int fd, const fs::path& name) {
    const std::string open_file = fmt::format("/proc/self/fd/{}", fd);
    if (linkat(AT_FDCWD, open_file.c_str(), AT_FDCWD, name.c_str(), AT_SYMLINK_FOLLOW) == 0) return true;
    if (errno != EEXIST) fail_writing(name, errno);
    return false;
  }

  static fs::path hide(const Staged& file) {
    fs::path hidden =
        file.final_name.parent_path() / fmt::format(".{}.{}", file.final_name.filename().string(), getpid());
    if (link(file.fd, hidden)) return hidden;
    fs::remove(hidden);  // left of a killed run that happened to have this number
    if (!link(file.fd, hidden)) fail_writing(hidden, EEXIST);
    return hidden;
  }

  /// Returns 0, or the error.
  static int fill(int fd, const std::vector<std::uint8_t>& bytes) {
    std::size_t written = 0;
    while (written < bytes.size()) {
      const ssize_t n = ::write(fd, bytes.data() + written, bytes.size() - written);
      if (n < 0 && errno == EINTR) continue;
      if (n < 0) return errno;
      written += static_cast<std::size_t>(n);
    }
    // mkstemp makes files for their owner alone; results are for whoever the user's mask allows
    const mode_t mask = umask(0);
    umask(mask);
    if (fchmod(fd, 0666 & ~mask) != 0) return errno;
    return fsync(fd) == 0 ? 0 : errno;
  }

  fs::path folder_;
  std::vector<fs::path> made_;
  std::vector<Staged> files_;
};

}  // namespace

void fail_writing(const fs::path& file, int error) {
  throw OutputError(fmt::format("{}: {}", file.string(), std::generic_category().message(error)));
}

void require_free(const fs::path& name, bool (*is_ours)(const std::vector<std::uint8_t>& bytes)) {
  std::error_code error;
  if (!fs::exists(fs::symlink_status(name, error))) return;
  if (fs::is_regular_file(name, error)) {
    std::ifstream in(name, std::ios::binary);
    const std::vector<std::uint8_t> bytes{std::istreambuf_iterator<char>(in),
                                          std::istreambuf_iterator<char>()};
    if (is_ours(bytes)) return;
  }
  throw OutputError(fmt::format(
      "{}: stands in the way and was not made by coldbay; choose another name or folder", name.string()));
}

void write_all(const fs::path& folder, const std::vector<OutputFile>& files,
               bool (*is_ours)(const std::vector<std::uint8_t>& bytes)) {
  for (const OutputFile& file : files) require_free(folder / file.name, is_ours);
  Staging staging(folder);
  staging.make_folder();
  for (const OutputFile& file : files) staging.write(file);
  staging.publish();
}

void write_new(const fs::path& file, const std::vector<std::uint8_t>& bytes) {
  std::error_code error;
  if (file.filename().empty() || fs::is_directory(file, error))
    throw OutputError(fmt::format("{}: this is a folder; name a file in it", file.string()));
  if (fs::exists(fs::symlink_status(file, error))) already_there(file);
  Staging staging(file.has_parent_path() ? file.parent_path() : fs::path("."));
  staging.make_folder();
  staging.write({file.filename().string(), bytes});
  staging.publish_new();
}

}  // namespace coldbay
