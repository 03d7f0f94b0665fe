#include "tools/input/input_error.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace coldbay {
namespace {

/// Longest piece of a line shown in a message [characters]; longer lines are cut round the place.
constexpr int shown = 100;

std::vector<std::string> characters_of_line(std::string_view text, int number) {
  for (int line = 1; line < number; ++line) {
    const auto end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  std::vector<std::string> characters;
  for (const char c : text.substr(0, text.find('\n'))) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xC0u) == 0x80u && !characters.empty())
      characters.back() += c;
    else
      characters.emplace_back(1, byte < 0x20u || byte == 0x7Fu ? ' ' : c);
  }
  if (!characters.empty() && characters.front() == "\uFEFF") characters.erase(characters.begin());
  while (!characters.empty() && characters.back() == " ") characters.pop_back();
  return characters;
}

}  // namespace

int count_characters(std::string_view utf8) {
  return static_cast<int>(std::count_if(
      utf8.begin(), utf8.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}

std::string render(const InputError& e, const SourceText& source, std::string_view kind) {
  std::string out;
  if (e.where.line < 1)
    out = fmt::format("{}: {}: {}\n", source.name, kind, e.title);
  else {
    out = fmt::format("{}:{}:{}: {}: {}\n", source.name, e.where.line, e.where.column, kind, e.title);
    const auto line = characters_of_line(source.text, e.where.line);
    const int n = static_cast<int>(line.size());
    const int from = e.where.column > shown - 20 ? e.where.column - 20 : 1,
              to = std::min(n, from + shown - 1);
    std::string text;
    for (int c = from; c <= to; ++c) text += line[static_cast<std::size_t>(c - 1)];
    const int length = std::max(1, std::min(e.where.length, to - e.where.column + 1));
    out += fmt::format("{:>5} | {}\n", e.where.line, text);
    out += fmt::format("      | {:{}}{:^<{}}{}{}\n", "", std::max(0, e.where.column - from), "", length,
                       e.label.empty() ? "" : " ", e.label);
  }
  if (!e.hint.empty()) out += fmt::format(" hint: {}\n", e.hint);
  return out;
}

}  // namespace coldbay
