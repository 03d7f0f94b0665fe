#include "tests/bench/peak_memory.hpp"

#include <malloc.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

namespace coldbay::bench {
namespace {

/// One line of this process's status [bytes]; the kernel writes kB.
std::optional<double> status(const std::string& key) {
  std::ifstream file("/proc/self/status");
  for (std::string word; file >> word;)
    if (double kilobytes = 0.0; word == key + ":" && file >> kilobytes) return 1024.0 * kilobytes;
  return {};
}

std::string read_all(int from) {
  std::string text;
  char buffer[256];
  for (ssize_t n = 0; (n = read(from, buffer, sizeof buffer)) > 0;)
    text.append(buffer, static_cast<std::size_t>(n));
  return text;
}

}  // namespace

std::optional<double> number_from_another_process(const std::vector<std::string>& arguments) {
  // Made before the fork: the child may only call exec, since another thread may hold the heap's lock.
  std::string program = "/proc/self/exe";
  std::vector<std::string> words = arguments;
  std::vector<char*> argv{program.data()};
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);

  int ends[2];
  if (pipe(ends) != 0) return {};
  const pid_t child = fork();
  if (child == 0) {
    dup2(ends[1], STDOUT_FILENO);
    close(ends[0]);
    close(ends[1]);
    execv(program.c_str(), argv.data());
    _exit(127);
  }
  close(ends[1]);
  const std::string text = child > 0 ? read_all(ends[0]) : "";
  close(ends[0]);
  int code = 1;
  if (child <= 0 || waitpid(child, &code, 0) != child || code != 0) return {};
  std::istringstream in(text);
  double number = 0.0;
  if (in >> number) return number;
  return {};
}

std::optional<double> peak_rise(const std::function<void()>& f) {
  malloc_trim(0);  // else what is free in the heap, but still mapped, would be used for nothing
  std::ofstream reset("/proc/self/clear_refs");
  if (!(reset << "5" << std::flush)) return {};  // 5: the high-water mark falls to the present level
  const auto before = status("VmRSS");
  f();
  const auto peak = status("VmHWM");
  if (!before || !peak) return {};
  return *peak - *before;
}

}  // namespace coldbay::bench
