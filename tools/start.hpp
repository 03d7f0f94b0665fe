#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "tools/input/input_error.hpp"

namespace coldbay {

/// The cases to start from that are built into the program, cases/starters/*.yaml.
std::vector<SourceText> starter_cases();

/// The name of a starter, that of its file, and what it is, the first line of it.
std::string starter_name(const SourceText& starter);
std::string starter_description(const SourceText& starter);

/// Every starter on a line, and how to get one.
std::string starter_list();

/// Writes the starter of a name into a file that is not there yet, NAME.yaml where `out` is empty, and
/// returns what to tell of it. Throws UnknownStarter, and OutputError where it cannot be written.
std::string start(const std::string& name, const std::filesystem::path& out);

/// No starter has this name; the message says which ones there are.
class UnknownStarter : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace coldbay
