#pragma once

#include <chrono>
#include <cstdint>
#include <string>

namespace coldbay {

/// To a person. Where not even that can be written there is nobody to tell, so it never fails.
void say(const std::string& message);

/// Tells how far a study is, on stderr: one line on a terminal that is written over, else a line now and
/// then.
class StudyProgress {
 public:
  explicit StudyProgress(std::uint64_t total);
  void tell(std::uint64_t solved, std::uint64_t failed);
  void end(std::uint64_t solved, std::uint64_t failed);

 private:
  using Clock = std::chrono::steady_clock;
  std::uint64_t total_;
  bool terminal_;
  Clock::time_point begin_ = Clock::now(), next_;
  std::chrono::seconds wait_;
};

}  // namespace coldbay
