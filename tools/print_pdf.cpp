#include "tools/print_pdf.hpp"

#include <fcntl.h>
#include <fmt/core.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <string_view>
#include <thread>

#include "tools/report/files.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

/// Readers of PDF look for the end of it in the last 1024 bytes (ISO 32000-1, appendix H, from memory), so
/// that a comment may follow.
constexpr std::string_view made_by = "% made by coldbay handout\n";

/// A new folder that is gone with all that is in it when the name is.
class Workplace {
 public:
  Workplace() {
    std::string pattern = (fs::temp_directory_path() / "coldbay-print-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr)
      throw OutputError(
          fmt::format("{}: no folder can be made there to print in", fs::temp_directory_path().string()));
    folder_ = pattern;
  }
  ~Workplace() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  Workplace(const Workplace&) = delete;
  Workplace& operator=(const Workplace&) = delete;
  const fs::path& folder() const { return folder_; }

 private:
  fs::path folder_;
};

std::optional<std::string> installed_browser() {
  const char* path = std::getenv("PATH");
  if (path == nullptr) return std::nullopt;
  for (const char* name : {"chromium", "chromium-browser", "google-chrome"}) {
    std::string_view rest = path;
    while (!rest.empty()) {
      const std::size_t end = std::min(rest.find(':'), rest.size());
      const fs::path program = fs::path(rest.substr(0, end)) / name;
      if (access(program.c_str(), X_OK) == 0) return program.string();
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
  }
  return std::nullopt;
}

std::string browser() {
  if (const auto program = installed_browser()) return *program;
  throw OutputError(
      "no Chromium is installed to print with: install one (Debian: chromium), or leave --pdf out, open the "
      "page and "
      "print it");
}

/// Runs a program in a process group of its own, its words thrown away, until it ends or time is up.
void run_for(const std::vector<std::string>& arguments, std::chrono::seconds most) {
  std::vector<char*> argv;
  argv.reserve(arguments.size() + 1);
  for (const std::string& a : arguments)
    argv.push_back(const_cast<char*>(a.c_str()));  // posix_spawn writes to none
  argv.push_back(nullptr);
  posix_spawn_file_actions_t files;
  posix_spawnattr_t group;
  posix_spawn_file_actions_init(&files);
  posix_spawnattr_init(&group);
  for (const int fd : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
    posix_spawn_file_actions_addopen(&files, fd, "/dev/null", O_RDWR, 0);
  posix_spawnattr_setflags(&group, POSIX_SPAWN_SETPGROUP);
  pid_t child = 0;
  const int error = posix_spawn(&child, argv.front(), &files, &group, argv.data(), environ);
  posix_spawn_file_actions_destroy(&files);
  posix_spawnattr_destroy(&group);
  if (error != 0) return;  // no file will come of it
  const auto until = std::chrono::steady_clock::now() + most;
  while (waitpid(child, nullptr, WNOHANG) == 0) {
    if (std::chrono::steady_clock::now() > until) {
      kill(-child, SIGKILL);
      waitpid(child, nullptr, 0);
      return;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  kill(-child, SIGKILL);  // what it left running
}

std::vector<std::uint8_t> bytes_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// How many page objects a PDF has that keeps them in the open, as Chromium's do.
std::size_t pages_in(std::string_view pdf) {
  std::size_t n = 0;
  constexpr std::string_view page = "/Type /Page";
  for (std::size_t at = 0; (at = pdf.find(page, at)) != std::string_view::npos; at += page.size())
    if (at + page.size() < pdf.size() && pdf[at + page.size()] != 's') ++n;
  return n;
}

}  // namespace

std::vector<std::uint8_t> print_pdf(const std::string& html, std::size_t sheets, std::chrono::seconds most) {
  const std::string program = browser();
  const Workplace place;
  const fs::path page = place.folder() / "page.html", printed = place.folder() / "page.pdf";
  std::ofstream(page, std::ios::binary) << html;
  std::vector<std::string> arguments{program,
                                     "--headless",
                                     "--disable-gpu",
                                     "--no-first-run",
                                     "--disable-background-networking",
                                     "--disable-component-update",
                                     "--disable-sync",
                                     "--disable-extensions",
                                     "--no-pdf-header-footer",
                                     "--user-data-dir=" + (place.folder() / "profile").string(),
                                     "--print-to-pdf=" + printed.string(),
                                     "file://" + page.string()};
  if (geteuid() == 0)
    arguments.insert(arguments.begin() + 2, "--no-sandbox");  // it will not start for root with one
  run_for(arguments, most);
  std::vector<std::uint8_t> pdf = bytes_of(printed);
  const std::string_view text(reinterpret_cast<const char*>(pdf.data()), pdf.size());
  if (!text.starts_with("%PDF-") ||
      text.substr(text.size() - std::min<std::size_t>(text.size(), 32)).find("%%EOF") ==
          std::string_view::npos)
    throw OutputError(
        fmt::format("{} made no PDF within {} s; open the page and print it", program, most.count()));
  if (const std::size_t n = pages_in(text); n != sheets)
    throw OutputError(fmt::format("{} printed {} pages where {} are meant; open the page and print it",
                                  program, n, sheets));
  pdf.insert(pdf.end(), made_by.begin(), made_by.end());
  return pdf;
}

void require_browser() { (void)browser(); }

bool is_printed_handout(const std::vector<std::uint8_t>& bytes) {
  return bytes.size() >= made_by.size() && std::equal(made_by.rbegin(), made_by.rend(), bytes.rbegin());
}

}  // namespace coldbay
