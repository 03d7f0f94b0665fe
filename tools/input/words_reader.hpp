#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tools/input/input_error.hpp"

namespace coldbay {

/// The sentences of a handout in one language.
struct Words {
  std::string language;   ///< its name in itself: "Español"
  std::string code;       ///< for a page's lang: "es", "pt-BR"
  std::string direction;  ///< "ltr" or "rtl"
  /// By path, "faults.missing.name". A {name} in a sentence stands for what said() puts there
  /// (tools/report/handout/words.hpp). Plain text: who writes a page escapes it.
  std::map<std::string, std::string, std::less<>> text;
};

/// Codes of the languages that come with coldbay, the first of them English.
std::vector<std::string> built_in_languages();

/// The words that come with coldbay, tools/report/handout/words, built into the program; read when first
/// asked for. Throws std::logic_error for a code that is not among built_in_languages().
const Words& built_in_words(std::string_view code);

/// The same as a file, for those who reword or translate it.
SourceText built_in_words_file(std::string_view code);

/// A file of words over others: what it does not hold stays as it is in `base`, which also says which keys
/// there are and what may stand in braces. A sentence may leave out what stands in braces.
///
/// Throws InputErrors, all at once, for keys that `base` has not, braces it has not or that are not closed,
/// sentences that are empty (a fault's note may be) or no text, a code that is none, a direction that is
/// none.
Words words_with(const SourceText& own, const Words& base);

/// A stretch of a sentence: as it stands, or the name of what stands in braces.
struct SentencePart {
  bool in_braces = false;
  std::string text;
};

/// "Studs read {studs} {{colder}}" in parts, doubled braces made single; nothing where a brace has no fellow.
std::optional<std::vector<SentencePart>> sentence_parts(std::string_view sentence);

}  // namespace coldbay
