#include "tools/report/handout/markup.hpp"

#include "tools/report/text.hpp"

namespace coldbay {
namespace {

/// Appends one character as UTF-8: RFC 3629, section 3.
void append(std::string& bytes, char32_t code) {
  if (code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF)) code = 0xFFFD;
  const auto tail = [&](int shift) { bytes += static_cast<char>(0x80U | ((code >> shift) & 0x3FU)); };
  if (code < 0x80) {
    bytes += static_cast<char>(code);
    return;
  }
  if (code < 0x800) {
    bytes += static_cast<char>(0xC0U | (code >> 6));
  } else if (code < 0x10000) {
    bytes += static_cast<char>(0xE0U | (code >> 12));
    tail(6);
  } else {
    bytes += static_cast<char>(0xF0U | (code >> 18));
    tail(12);
    tail(6);
  }
  tail(0);
}

}  // namespace

std::string utf8(std::u32string_view characters) {
  std::string bytes;
  bytes.reserve(characters.size());
  for (const char32_t code : characters) append(bytes, code);
  return bytes;
}

std::string escaped(std::string_view text) {
  std::string safe;
  safe.reserve(text.size() + text.size() / 8);
  for (const char32_t code : characters(text)) switch (code) {
      case U'&':
        safe += "&amp;";
        break;
      case U'<':
        safe += "&lt;";
        break;
      case U'>':
        safe += "&gt;";
        break;
      case U'"':
        safe += "&quot;";
        break;
      case U'\'':
        safe += "&#39;";
        break;
      case 0xFFFE:  // XML 1.0, section 2.2: not characters
      case 0xFFFF:
        append(safe, 0xFFFD);
        break;
      default:
        append(safe, code);
    }
  return safe;
}

}  // namespace coldbay
