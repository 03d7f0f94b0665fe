#pragma once

#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace coldbay {

/// A place in a case file. Lines and columns count from 1, columns in characters, not bytes.
struct Place {
  int line = 0;  ///< 0: the file as a whole
  int column = 0;
  int length = 1;  ///< characters to underline
};

/// One thing wrong with a case file.
struct InputError {
  Place where;
  std::string title;  ///< one line, no full stop
  std::string label;  ///< beside the caret; may be empty
  std::string hint;   ///< what to write instead; may be empty
};

/// Errors told of in one run. A file with more of them is not a case with slips but another sort of file.
inline constexpr std::size_t most_errors = 100;

/// What is wrong with one file: at least one thing, in the order of the file.
class InputErrors : public std::runtime_error {
 public:
  explicit InputErrors(std::vector<InputError> errors);
  const std::vector<InputError>& errors() const noexcept { return errors_; }

 private:
  std::vector<InputError> errors_;
};

/// Throws the one thing that is wrong with a file.
[[noreturn]] void fail(Place where, std::string title, std::string hint = {});

/// The text of a case file, kept for messages.
struct SourceText {
  std::string name;  ///< as given on the command line
  std::string text;
};

/// `FILE:LINE:COLUMN: KIND: TITLE`, the line itself with a caret, and the hint. KIND is "error" or
/// "warning". Control characters are shown as spaces and bytes that are not UTF-8 as question marks, wherever
/// they come from, so that a file cannot move the cursor.
std::string render(const InputError& error, const SourceText& source, std::string_view kind = "error");

/// Text of a file, short enough to stand inside a line of a message: its first 80 bytes, whole characters.
std::string shortened(std::string_view text);

/// The text with nothing in it that would move the cursor or give orders to a terminal.
std::string harmless(std::string_view text);

/// Replaces every `from` in a text.
void replace_all(std::string& text, std::string_view from, std::string_view to);

/// Length of the UTF-8 sequence at text[i]; 0 where it is none (the Unicode standard, table 3-7: shortest
/// form, no surrogates, nothing beyond U+10FFFF).
std::size_t utf8_length(std::string_view text, std::size_t i);

/// Number of characters (code points) in UTF-8 text.
int count_characters(std::string_view utf8);

}  // namespace coldbay
