#include "tools/study/progress.hpp"

#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <string>

namespace coldbay {
namespace {

constexpr std::chrono::seconds first_line{10}, longest_wait{600};

std::string time_text(double seconds) {
  if (seconds < 99.5) return fmt::format("{:.0f} s", seconds);
  if (seconds < 99.5 * 60) return fmt::format("{:.0f} min", seconds / 60);
  return fmt::format("{:.1f} h", seconds / 3600);
}

}  // namespace

void say(const std::string& message) { std::fputs(message.c_str(), stderr); }

StudyProgress::StudyProgress(std::uint64_t total)
    : total_(total), terminal_(isatty(STDERR_FILENO) != 0), next_(begin_ + first_line), wait_(first_line) {}

void StudyProgress::tell(std::uint64_t solved, std::uint64_t failed) {
  const auto now = Clock::now();
  if (!terminal_) {
    if (now < next_) return;
    wait_ = std::min(2 * wait_, longest_wait);  // a log of hours is to be read, too
    next_ = now + wait_;
  }
  const double seconds = std::chrono::duration<double>(now - begin_).count();
  const double rate = static_cast<double>(solved) / seconds;
  std::string text = fmt::format("{} of {} variants, {:.3g} a second", solved, total_, rate);
  if (solved > 0) text += fmt::format(", {} left", time_text(static_cast<double>(total_ - solved) / rate));
  if (failed > 0) text += fmt::format(", {} failed", failed);
  say(terminal_ ? "\r\x1b[K" + text : text + "\n");
  std::fflush(stderr);
}

void StudyProgress::end(std::uint64_t solved, std::uint64_t failed) {
  const double seconds = std::chrono::duration<double>(Clock::now() - begin_).count();
  say(fmt::format("{}solved {} variant{} in {}, {:.3g} a second{}\n", terminal_ ? "\r\x1b[K" : "", solved,
                  solved == 1 ? "" : "s", time_text(seconds), static_cast<double>(solved) / seconds,
                  failed > 0 ? fmt::format("; {} failed", failed) : ""));
}

}  // namespace coldbay
