#include "tools/source_files.hpp"

#include <fmt/core.h>

#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>

namespace coldbay {
namespace {

/// Largest case file read [bytes]: a hundred times any wall described by hand.
constexpr std::uintmax_t largest_case = 4u << 20;

}  // namespace

SourceText read_source(const std::string& name) {
  const auto fail = [&](const std::string& why) { throw InputErrors({{{}, why, "", ""}}); };
  SourceText source{name, ""};
  std::error_code error;
  try {
    if (std::filesystem::is_directory(name, error)) fail("this is a folder, not a case file");
    std::ifstream in(name, std::ios::binary);
    if (!in) fail("cannot be opened");
    std::string text(largest_case + 1, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (in.bad()) fail("cannot be read");
    text.resize(static_cast<std::size_t>(in.gcount()));
    if (text.size() > largest_case) fail("this file is larger than any case, 4 MiB");
    source.text = std::move(text);
  } catch (const InputErrors& e) {
    for (const InputError& x : e.errors()) say(render(x, source));
    throw;
  }
  return source;
}

std::optional<SourceText> source_if_readable(const std::string& name) {
  try {
    return read_source(name);
  } catch (const InputErrors&) {
    return std::nullopt;  // said already
  }
}

int refuse(const InputErrors& e, const SourceText& source) {
  for (const InputError& x : e.errors()) say(render(x, source));
  const std::size_t n = e.errors().size();
  if (n > 1)
    say(n < most_errors ? fmt::format("{} errors\n", n) : fmt::format("{} errors, perhaps more\n", n));
  return exit_code::bad_case;
}

int refuse(const ModelError& e, const SourceText& source) {
  for (const Problem& p : e.problems()) say(render({{}, p.what, "", p.hint}, source));
  return exit_code::bad_case;
}

}  // namespace coldbay
