#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace coldbay {

/// A field of a line of separated values, without the blanks and the quotes round it. A quote written twice
/// inside quotes is left as it is: no number and no word of ours holds one.
struct Field {
  std::string_view text;
  std::size_t at = 0;  ///< of the text in the line [bytes]
  bool quoted = false;
};

/// Splits one line after RFC 4180, but that a field ends with its line: a quote that is not closed, or text
/// behind a closed one, is told of. `fields` is filled anew. Returns in words what is wrong, and where
/// [bytes].
struct SplitFault {
  std::string what;
  std::size_t at;
};
std::optional<SplitFault> split_fields(std::string_view line, char separator, std::vector<Field>& fields);

/// True where this character stands outside quotes.
bool stands_outside_quotes(std::string_view line, char character);

}  // namespace coldbay
