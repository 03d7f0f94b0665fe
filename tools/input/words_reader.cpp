#include "tools/input/words_reader.hpp"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <stdexcept>
#include <utility>

#include "tools/input/nearest_word.hpp"
#include "tools/input/reading.hpp"

// tools/report/handout/words/*.yaml, put into the program by the build (CMakeLists.txt, coldbay_embed).
extern "C" const char coldbay_words_english_begin[];
extern "C" const char coldbay_words_english_end[];
extern "C" const char coldbay_words_spanish_begin[];
extern "C" const char coldbay_words_spanish_end[];

namespace coldbay {
namespace {

/// Keys of a file's head, which are no sentences.
constexpr std::array<std::string_view, 3> head{"language", "code", "direction"};

/// More keys than this are not listed in a message.
constexpr std::size_t most_listed = 24;

bool is_head(std::string_view path) { return std::find(head.begin(), head.end(), path) != head.end(); }

std::string below(const std::string& path, const std::string& key) {
  return path.empty() ? key : fmt::format("{}.{}", path, key);
}

/// Only a fault's note has nothing to say where there is nothing to be said.
bool may_be_empty(std::string_view path) { return path.starts_with("faults.") && path.ends_with(".note"); }

bool is_blank(std::string_view text) { return text.find_first_not_of(' ') == std::string_view::npos; }

/// The keys right below a path, each once.
std::vector<std::string> keys_below(const Words& base, const std::string& path) {
  std::vector<std::string> keys;
  if (path.empty()) keys.assign(head.begin(), head.end());
  const std::string before = path.empty() ? "" : path + ".";
  for (auto it = base.text.lower_bound(before); it != base.text.end() && it->first.starts_with(before);
       ++it) {
    const std::string key =
        it->first.substr(before.size(), it->first.find('.', before.size()) - before.size());
    if (keys.empty() || keys.back() != key) keys.push_back(key);
  }
  return keys;
}

std::vector<std::string> braces_of(const std::string& sentence) {
  std::vector<std::string> names;
  const auto parts = sentence_parts(sentence);
  if (!parts) return names;
  for (const SentencePart& part : *parts)
    if (part.in_braces && std::find(names.begin(), names.end(), part.text) == names.end())
      names.push_back(part.text);
  return names;
}

std::string in_braces(const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& name : names) out += fmt::format("{}{{{}}}", out.empty() ? "" : ", ", name);
  return out;
}

/// What may stand in the braces of a sentence, and the nearest to what does.
std::string braces_hint(const std::string& name, const std::vector<std::string>& known) {
  if (known.empty())
    return "in this sentence the program puts in nothing; write {{ and }} for braces themselves";
  const std::string near = nearest_word(name, known);
  return fmt::format("{}this sentence may hold {}",
                     near.empty() ? "" : fmt::format("did you mean {{{}}}? ", near), in_braces(known));
}

void read_sentence(const Node::Entry& entry, const std::string& path, const Words& base, Words& out,
                   Reading& in) {
  const Node& node = entry.value;
  const bool is_text = node.kind == Node::Kind::scalar, is_nothing = node.kind == Node::Kind::null;
  if (!is_text && !is_nothing)
    return in.error(node.where, fmt::format("'{}' is a sentence", path),
                    "put it in quotes: what begins with a bracket or a brace is no text without them");
  const std::string sentence = harmless(node.text);
  if (is_blank(sentence) && !may_be_empty(path))
    return in.error(is_text ? node.where : entry.where, fmt::format("'{}' is empty", path),
                    "leave the key out to keep the sentence that there is");
  const auto parts = sentence_parts(sentence);
  if (!parts)
    return in.error(node.where, "a brace here has no fellow",
                    "a name in braces is {so}; write {{ and }} for braces themselves");
  const std::vector<std::string> known = braces_of(base.text.at(path));
  bool sound = true;
  for (const std::string& name : braces_of(sentence)) {
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    in.error(node.where, fmt::format("nothing stands for {{{}}} in this sentence", shortened(name)),
             braces_hint(name, known));
    sound = false;
  }
  if (sound) out.text[path] = is_blank(sentence) ? "" : sentence;
}

/// Two or three letters, and parts of up to eight letters or digits after hyphens (as in HTML's lang).
bool is_language_code(std::string_view text) {
  const std::size_t first = std::min(text.find('-'), text.size());
  if (first < 2 || first > 3) return false;
  std::size_t length = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const unsigned char c = static_cast<unsigned char>(text[i]);
    if (c == '-') {
      if (length == 0) return false;
      length = 0;
    } else if (c >= 0x80u || !(i < first ? std::isalpha(c) : std::isalnum(c)) || ++length > 8) {
      return false;
    }
  }
  return length > 0;
}

void read_head(const Node& node, const std::string& key, Words& out, Reading& in) {
  if (key == "direction") {
    if (const auto at = read_choice(node, "a direction", {"ltr", "rtl"}, in))
      out.direction = *at == 0 ? "ltr" : "rtl";
    return;
  }
  const auto text = read_text(node, key == "code" ? "a code of a language" : "the name of a language", in);
  if (!text) return;
  if (key == "language")
    out.language = *text;
  else if (is_language_code(*text))
    out.code = *text;
  else
    in.error(node.where, fmt::format("'{}' is not a code of a language", shortened(*text)),
             "such as en, es or pt-BR");
}

void unknown_key(const Node::Entry& entry, const std::string& path, const std::vector<std::string>& known,
                 Reading& in) {
  const std::string near = nearest_word(entry.key, known);
  const std::string where = path.empty() ? "the file of words" : fmt::format("'{}'", path);
  const std::string takes = known.size() <= most_listed
                                ? fmt::format("{} takes: {}", where, fmt::join(known, ", "))
                                : fmt::format("{} takes the keys that the file you copied has", where);
  in.error(entry.where, fmt::format("unknown key '{}'", shortened(entry.key)),
           near.empty() ? takes : fmt::format("did you mean '{}'? {}", near, takes),
           fmt::format("not a key of {}", where));
}

void read_over(const Node& node, const std::string& path, const Words& base, Words& out, Reading& in) {
  if (node.kind == Node::Kind::null) return;
  const std::vector<std::string> known = keys_below(base, path);
  if (node.kind != Node::Kind::map)
    return in.error(
        node.where,
        path.empty() ? "a file of words begins with keys" : fmt::format("'{}' holds sentences by name", path),
        "write a key, a colon, and the sentence in quotes");
  for (const auto& entry : node.entries) {
    const std::string here = below(path, entry.key);
    if (std::find(known.begin(), known.end(), entry.key) == known.end())
      unknown_key(entry, path, known, in);
    else if (is_head(here))
      read_head(entry.value, here, out, in);
    else if (base.text.contains(here))
      read_sentence(entry, here, base, out, in);
    else
      read_over(entry.value, here, base, out, in);
  }
}

Words words_over(const Node& root, const Words& base) {
  const Library none;
  Reading in{UnitSystem::metric, none, {}, {}};
  Words out = base;
  read_over(root, "", base, out, in);
  if (!in.errors.empty()) throw InputErrors(std::move(in.errors));
  return out;
}

/// Every sentence of a file that says itself which there are.
void gather(const Node& node, const std::string& path, Words& out) {
  for (const auto& entry : node.entries) {
    const std::string here = below(path, entry.key);
    if (entry.value.kind == Node::Kind::map)
      gather(entry.value, here, out);
    else if (!is_head(here))
      out.text[here] = entry.value.text;
  }
}

/// Reads one of our own files: what it holds is what may be held, so each sentence is checked against itself.
Words read_whole(const SourceText& source) {
  const Node root = read_document(source);
  Words all;
  gather(root, "", all);
  return words_over(root, all);
}

}  // namespace

std::vector<std::string> built_in_languages() { return {"en", "es"}; }

SourceText built_in_words_file(std::string_view code) {
  if (code == "en")
    return {"english.yaml", std::string(coldbay_words_english_begin, coldbay_words_english_end)};
  if (code == "es")
    return {"spanish.yaml", std::string(coldbay_words_spanish_begin, coldbay_words_spanish_end)};
  throw std::logic_error(fmt::format("no words are built in for the language '{}'", code));
}

const Words& built_in_words(std::string_view code) {
  if (code == "es") {
    static const Words spanish = read_whole(built_in_words_file("es"));
    return spanish;
  }
  if (code != "en") throw std::logic_error(fmt::format("no words are built in for the language '{}'", code));
  static const Words english = read_whole(built_in_words_file("en"));
  return english;
}

Words words_with(const SourceText& own, const Words& base) { return words_over(read_document(own), base); }

std::optional<std::vector<SentencePart>> sentence_parts(std::string_view sentence) {
  std::vector<SentencePart> parts;
  std::string plain;
  for (std::size_t i = 0; i < sentence.size(); ++i) {
    const char c = sentence[i];
    if (c != '{' && c != '}') {
      plain += c;
    } else if (i + 1 < sentence.size() && sentence[i + 1] == c) {
      plain += c;
      ++i;
    } else {
      const std::size_t end = sentence.find_first_of("{}", i + 1);
      if (c == '}' || end == std::string_view::npos || sentence[end] == '{') return std::nullopt;
      if (!plain.empty()) parts.push_back({false, std::exchange(plain, {})});
      parts.push_back({true, std::string(sentence.substr(i + 1, end - i - 1))});
      i = end;
    }
  }
  if (!plain.empty()) parts.push_back({false, std::move(plain)});
  return parts;
}

}  // namespace coldbay
