#pragma once

#include <cstdio>
#include <filesystem>
#include <string>
#include <string_view>

namespace coldbay {

/// A file that takes its name when it is whole, in place of what has it. All throw OutputError, with the
/// file's name and the reason.
///
/// Until then it has none, where the file system can do that, so that nothing is left of it after a kill.
/// Elsewhere, and where a library opens it by its path, it is hidden under the name of this process; those of
/// processes that are no more are removed by the next.
class WholeFile {
 public:
  enum class Until { nameless, hidden };

  explicit WholeFile(std::filesystem::path name, Until until = Until::nameless);
  WholeFile(const WholeFile&) = delete;
  WholeFile& operator=(const WholeFile&) = delete;
  ~WholeFile();

  void add(std::string_view text);
  void publish();

  const std::filesystem::path& name() const { return name_; }

  /// Where it is until it is whole; empty where it has no name.
  const std::filesystem::path& hidden() const { return hidden_; }

 private:
  [[noreturn]] void fail() const;

  std::filesystem::path name_, hidden_;
  std::FILE* file_ = nullptr;
};

}  // namespace coldbay
