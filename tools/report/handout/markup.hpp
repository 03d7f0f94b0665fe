#pragma once

#include <string>
#include <string_view>

namespace coldbay {

/// Words made safe to stand between the tags of HTML and of SVG, or between the quotes of an attribute. Bytes
/// that are not UTF-8, and the two codes XML knows no character for, become the replacement character;
/// control characters, tabs and line breaks with them, become spaces. The direction marks of a text stay:
/// isolate it (`<bdi>`, `unicode-bidi: isolate`) where something follows it in the same line.
std::string escaped(std::string_view text);

/// A text of those characters in UTF-8. Codes above 0x10FFFF and surrogates become the replacement character.
std::string utf8(std::u32string_view characters);

}  // namespace coldbay
