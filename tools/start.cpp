#include "tools/start.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "tools/input/nearest_word.hpp"
#include "tools/report/files.hpp"

namespace coldbay {
namespace {

namespace fs = std::filesystem;

/// A file name as a shell reads it.
std::string quoted(const std::string& name) {
  constexpr std::string_view plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-/";
  if (name.find_first_not_of(plain) == std::string::npos) return name;
  std::string out = "'";
  for (const char c : name) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

std::string unknown(const std::string& name, const std::vector<SourceText>& all) {
  std::vector<std::string> names(all.size());
  std::transform(all.begin(), all.end(), names.begin(), starter_name);
  const std::string nearest = nearest_word(name, names);
  return fmt::format("there is no starter named '{}'{}; 'coldbay start' lists all\n", name,
                     nearest.empty() ? "" : fmt::format("; the nearest is '{}'", nearest));
}

}  // namespace

std::string starter_name(const SourceText& starter) { return fs::path(starter.name).stem().string(); }

std::string starter_description(const SourceText& starter) {
  const std::string line = starter.text.substr(0, starter.text.find('\n'));
  return line.substr(std::min(line.size(), line.find_first_not_of("# ")));
}

std::string starter_list() {
  std::string out;
  for (const SourceText& starter : starter_cases())
    out += fmt::format("{:<23} {}\n", starter_name(starter), starter_description(starter));
  return out + "\nnext: coldbay start NAME writes one into NAME.yaml, to be changed to your wall\n";
}

std::string start(const std::string& name, const fs::path& out) {
  const std::vector<SourceText> all = starter_cases();
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const SourceText& starter) { return starter_name(starter) == name; });
  if (found == all.end()) throw UnknownStarter(unknown(name, all));
  const fs::path file = out.empty() ? fs::path(name + ".yaml") : out;
  write_new(file, {found->text.begin(), found->text.end()});
  const std::string written = quoted(file.string());
  return fmt::format("wrote {}: {}\nnext: coldbay predict {} --out forecast\n", written,
                     starter_description(*found), written);
}

}  // namespace coldbay
