#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tools/report/picture.hpp"

namespace coldbay {

/// The picture as a PNG file, 8-bit RGB, with the texts (keyword, value) stored in it in the order
/// given: plain ASCII as tEXt, anything else as uncompressed iTXt, which is UTF-8 ([PNG2003], 11.3.4).
///
/// Throws std::length_error for a picture too large to encode, before memory is taken for it;
/// std::invalid_argument where the pixels do not match the size or a keyword is not 1 to 79 letters
/// of printable ASCII; std::bad_alloc where memory ran out.
std::vector<std::uint8_t> encode_png(const Picture& picture,
                                     std::span<const std::pair<std::string, std::string>> text = {});

/// The value of the first text chunk with that keyword, as UTF-8. Empty where there is none, where
/// it is compressed, and where the bytes up to it are not a sound PNG file. Any bytes are safe.
std::optional<std::string> png_text(std::span<const std::uint8_t> file, std::string_view keyword);

}  // namespace coldbay
