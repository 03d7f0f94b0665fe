#include "tools/study/whole_file.hpp"

#include <fcntl.h>
#include <fmt/core.h>
#include <signal.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <charconv>
#include <system_error>
#include <utility>

#include "tools/report/files.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

/// ".results.csv.host-": before the number of the process.
std::string hidden_prefix(const fs::path& name) {
  std::array<char, 256> host{};
  if (gethostname(host.data(), host.size() - 1) != 0) host[0] = '\0';
  return fmt::format(".{}.{}-", name.filename().string(), host.data());
}

/// Removes what processes of this machine that are no more have left of a file.
void remove_left_over(const fs::path& name) {
  const std::string prefix = hidden_prefix(name);
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(name.parent_path(), error)) {
    const std::string found = entry.path().filename().string();
    if (!found.starts_with(prefix)) continue;
    pid_t process = 0;
    const char* end = found.data() + found.size();
    const auto read = std::from_chars(found.data() + prefix.size(), end, process);
    if (read.ec != std::errc() || read.ptr != end || process <= 0) continue;
    if (process == getpid() || (kill(process, 0) != 0 && errno == ESRCH)) fs::remove(entry.path(), error);
  }
}

}  // namespace

WholeFile::WholeFile(fs::path name, Until until) : name_(std::move(name)) {
  remove_left_over(name_);
  int fd = -1;
  if (until == Until::nameless)
    fd = open(name_.parent_path().c_str(), O_TMPFILE | O_WRONLY | O_CLOEXEC, 0666);
  if (fd < 0) {
    hidden_ = name_.parent_path() / fmt::format("{}{}", hidden_prefix(name_), getpid());
    fd = open(hidden_.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
  }
  if (fd < 0) fail();
  file_ = fdopen(fd, "wb");
  if (!file_) fail();
}

WholeFile::~WholeFile() {
  std::fclose(file_);
  std::error_code error;
  if (!hidden_.empty()) fs::remove(hidden_, error);
}

void WholeFile::add(std::string_view text) {
  if (std::fwrite(text.data(), 1, text.size(), file_) != text.size()) fail();
}

void WholeFile::publish() {
  if (std::fflush(file_) != 0 || fsync(fileno(file_)) != 0) fail();
  if (hidden_.empty()) {
    const fs::path hidden = name_.parent_path() / fmt::format("{}{}", hidden_prefix(name_), getpid());
    const std::string nameless = fmt::format("/proc/self/fd/{}", fileno(file_));
    if (linkat(AT_FDCWD, nameless.c_str(), AT_FDCWD, hidden.c_str(), AT_SYMLINK_FOLLOW) != 0) fail();
    hidden_ = hidden;
  }
  if (std::rename(hidden_.c_str(), name_.c_str()) != 0) fail();
  hidden_.clear();
}

void WholeFile::fail() const {
  throw OutputError(fmt::format("{}: {}", name_.string(), std::generic_category().message(errno)));
}

}  // namespace coldbay
