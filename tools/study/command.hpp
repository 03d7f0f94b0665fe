#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tools/outputs.hpp"

namespace coldbay {

/// Some of the variants: those whose number leaves `part` - 1 when divided by `of`.
struct Share {
  std::uint64_t part = 1, of = 1;
};

/// What is asked of a study.
struct StudyWishes {
  std::filesystem::path file;         ///< the study file
  std::filesystem::path out;          ///< the folder that keeps it
  unsigned jobs = 0;                  ///< variants at a time; 0: as many as the machine has processors
  std::optional<std::uint64_t> only;  ///< one variant alone
  Share share;
};

/// `1/8`; nothing where it is none.
std::optional<Share> read_share(const std::string& text);

/// The commands. Each says what is wrong on stderr and returns the exit code of the program: 0 done, 3 the
/// study is wrong, 4 variants failed or are missing. Throws OutputError where something could not be written.
int run_study(const StudyWishes& wishes, const MaterialsFile& materials);

/// Count on stderr; on stdout every variant and what it varies, as separated values. Solves nothing.
int list_study(const std::filesystem::path& file, const MaterialsFile& materials);

/// Joins what several folders keep of one study in `out`, and writes its results. `out` may be one of them.
int collect_study(const std::vector<std::filesystem::path>& folders, const std::filesystem::path& out);

}  // namespace coldbay
