#include "tools/input/input_error.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <tuple>

namespace coldbay {
namespace {

/// Longest piece of a line shown in a message [characters]; longer lines are cut round the place.
constexpr int shown = 100;

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u; }

/// A line of the text without its end, the spaces before that, and the byte order mark.
std::string_view line_of(std::string_view text, int number) {
  for (int line = 1; line < number; ++line) {
    const auto end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  text = text.substr(0, text.find('\n'));
  constexpr std::string_view byte_order_mark = "\uFEFF";
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t' || text.back() == '\r'))
    text.remove_suffix(1);
  return text;
}

/// The text from one character on (the first is 1), as many as given.
std::string_view characters(std::string_view text, int from, int how_many) {
  const auto skip = [](std::string_view rest, int n) {
    std::size_t i = 0;
    for (; i < rest.size(); ++i)
      if (!continues(rest[i]) && n-- == 0) break;
    return i;
  };
  text.remove_prefix(skip(text, from - 1));
  return text.substr(0, skip(text, how_many));
}

}  // namespace

std::string harmless(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = utf8_length(text, i);
    const std::string_view c = text.substr(i, std::max<std::size_t>(1, length));
    const auto first = static_cast<unsigned char>(c[0]);
    const bool control = first < 0x20u || first == 0x7Fu || (c >= "\xC2\x80" && c <= "\xC2\x9F");
    out += length == 0 ? "?" : control ? " " : c;
    i += c.size();
  }
  return out;
}

InputErrors::InputErrors(std::vector<InputError> errors)
    : std::runtime_error("the case has errors"), errors_(std::move(errors)) {
  std::stable_sort(errors_.begin(), errors_.end(), [](const InputError& a, const InputError& b) {
    return std::tie(a.where.line, a.where.column) < std::tie(b.where.line, b.where.column);
  });
}

std::string shortened(std::string_view text) {
  constexpr std::size_t most = 80;
  if (text.size() <= most) return std::string(text);
  std::size_t n = most;
  while (n > 0 && continues(text[n])) --n;
  return std::string(text.substr(0, n)) + "...";
}

std::size_t utf8_length(std::string_view text, std::size_t i) {
  const auto byte = [&](std::size_t k) { return k < text.size() ? static_cast<unsigned char>(text[k]) : 0u; };
  const auto tail = [&](std::size_t k) { return (byte(k) & 0xC0u) == 0x80u; };
  const unsigned a = byte(i), b = byte(i + 1);
  if (a < 0x80u) return 1;
  if (a >= 0xC2u && a <= 0xDFu) return tail(i + 1) ? 2 : 0;
  if (a >= 0xE0u && a <= 0xEFu) {
    if ((a == 0xE0u && b < 0xA0u) || (a == 0xEDu && b > 0x9Fu)) return 0;
    return tail(i + 1) && tail(i + 2) ? 3 : 0;
  }
  if (a >= 0xF0u && a <= 0xF4u) {
    if ((a == 0xF0u && b < 0x90u) || (a == 0xF4u && b > 0x8Fu)) return 0;
    return tail(i + 1) && tail(i + 2) && tail(i + 3) ? 4 : 0;
  }
  return 0;
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size())
    text.replace(at, from.size(), to);
}

void fail(Place where, std::string title, std::string hint) {
  throw InputErrors({{where, std::move(title), "", std::move(hint)}});
}

int count_characters(std::string_view utf8) {
  return static_cast<int>(std::count_if(utf8.begin(), utf8.end(), [](char c) { return !continues(c); }));
}

std::string render(const InputError& e, const SourceText& source, std::string_view kind) {
  const std::string name = harmless(source.name), title = harmless(e.title);
  std::string out;
  if (e.where.line < 1)
    out = fmt::format("{}: {}: {}\n", name, kind, title);
  else {
    out = fmt::format("{}:{}:{}: {}: {}\n", name, e.where.line, e.where.column, kind, title);
    const std::string_view line = line_of(source.text, e.where.line);
    const int from = e.where.column > shown - 20 ? e.where.column - 20 : 1;
    const int to = std::min(count_characters(line), from + shown - 1);
    const int length = std::max(1, std::min(e.where.length, to - e.where.column + 1));
    out += fmt::format("{:>5} | {}\n", e.where.line, harmless(characters(line, from, shown)));
    out += fmt::format("      | {:{}}{:^<{}}{}{}\n", "", std::max(0, e.where.column - from), "", length,
                       e.label.empty() ? "" : " ", harmless(e.label));
  }
  if (!e.hint.empty()) out += fmt::format(" hint: {}\n", harmless(e.hint));
  return out;
}

}  // namespace coldbay
