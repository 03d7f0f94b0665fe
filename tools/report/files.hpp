#pragma once

#include <cstdint>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

namespace coldbay {

/// A file to be, whole in memory.
struct OutputFile {
  std::string name;  ///< inside the output folder
  std::vector<std::uint8_t> bytes;
};

/// Thrown where an output could not be written; the message names the file and the reason.
class OutputError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Throws OutputError: the file and what the system says of `error`, a value of errno.
[[noreturn]] void fail_writing(const std::filesystem::path& file, int error);

/// Writes all files into a folder, or none: each is written under a name of its own, synced, and only
/// when all are safe do they take their names. The folder is made where it is missing.
///
/// Files of those names that coldbay made before are replaced (`is_ours` tells); anything else is
/// left alone. Throws OutputError where a file is in the way, the folder cannot be used or the disk is
/// full; nothing is left behind then.
void write_all(const std::filesystem::path& folder, const std::vector<OutputFile>& files,
               bool (*is_ours)(const std::vector<std::uint8_t>& bytes));

/// Throws OutputError where something of that name is there that coldbay did not make: to be asked before
/// long work, so that it is not for nothing.
void require_free(const std::filesystem::path& name, bool (*is_ours)(const std::vector<std::uint8_t>& bytes));

/// Writes one file where nothing of that name is yet, whole or not at all; folders above it are made. Throws
/// OutputError, saying what to do, where something is there already: it is left as it is.
void write_new(const std::filesystem::path& file, const std::vector<std::uint8_t>& bytes);

}  // namespace coldbay
