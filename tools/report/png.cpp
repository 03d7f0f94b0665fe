#include <zlib.h>

#include <cstdlib>

namespace {

/// zlib in place of stb's own compressor, which takes five times as long; in the shape that stb wants.
unsigned char* zlib_compress(unsigned char* data, int length, int* compressed, int quality) {
  uLongf size = compressBound(static_cast<uLong>(length));
  auto* out = static_cast<unsigned char*>(std::malloc(size));
  if (out && compress2(out, &size, data, static_cast<uLong>(length), quality) != Z_OK) {
    std::free(out);
    out = nullptr;
  }
  *compressed = static_cast<int>(size);
  return out;
}

}  // namespace

#define STBIW_ZLIB_COMPRESS zlib_compress
#define STB_IMAGE_WRITE_IMPLEMENTATION
#define STB_IMAGE_WRITE_STATIC
#define STBI_WRITE_NO_STDIO
#include <stb/stb_image_write.h>

#include "tools/report/png.hpp"

#include <fmt/core.h>
#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdlib>
#include <limits>
#include <memory>
#include <new>
#include <stdexcept>

namespace coldbay {
namespace {

using Bytes = std::vector<std::uint8_t>;

constexpr std::array<std::uint8_t, 8> png_signature{0x89, 'P', 'N', 'G', '\r', '\n', 0x1A, '\n'};
constexpr std::size_t header_end = 8 + 12 + 13;  // signature and IHDR, always the first chunk

// stb counts bytes in int and doubles its buffers as they grow; a quarter of the range leaves room
// for both. No picture of ours comes near it.
constexpr std::uint64_t most_bytes = std::numeric_limits<int>::max() / 4;

bool is_ascii(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

void check_size(const Picture& picture) {
  if (picture.width <= 0 || picture.height <= 0)
    throw std::invalid_argument(fmt::format("a picture of {} x {} pixels", picture.width, picture.height));
  const std::uint64_t row = 3 * static_cast<std::uint64_t>(picture.width) + 1;
  if (row * static_cast<std::uint64_t>(picture.height) > most_bytes)
    throw std::length_error(
        fmt::format("a picture of {} x {} pixels is too large for PNG", picture.width, picture.height));
  const std::uint64_t pixels =
      static_cast<std::uint64_t>(picture.width) * static_cast<std::uint64_t>(picture.height);
  if (picture.rgb.size() != 3 * pixels)
    throw std::invalid_argument(fmt::format("{} bytes of colour for {} x {} pixels", picture.rgb.size(),
                                            picture.width, picture.height));
}

void check_text(std::string_view keyword, std::string_view value) {
  const bool printable =
      std::all_of(keyword.begin(), keyword.end(), [](char c) { return c >= ' ' && c <= '~'; });
  if (keyword.empty() || keyword.size() > 79 || !printable || keyword.front() == ' ' || keyword.back() == ' ')
    throw std::invalid_argument(fmt::format("'{}' cannot be a PNG keyword", keyword));
  if (value.find('\0') != std::string_view::npos)
    throw std::invalid_argument(fmt::format("the PNG text '{}' holds a zero byte", keyword));
  if (value.size() > most_bytes)
    throw std::length_error(fmt::format("the PNG text '{}' is too long", keyword));
}

void append(Bytes& bytes, std::string_view text) { bytes.insert(bytes.end(), text.begin(), text.end()); }

void append_big_endian(Bytes& bytes, std::uint32_t value) {
  for (const int shift : {24, 16, 8, 0}) bytes.push_back(static_cast<std::uint8_t>((value >> shift) & 0xFFU));
}

std::uint32_t checksum(std::span<const std::uint8_t> bytes) {
  return static_cast<std::uint32_t>(crc32(0, bytes.data(), static_cast<uInt>(bytes.size())));
}

void append_text_chunk(Bytes& file, std::string_view keyword, std::string_view value) {
  const bool plain = is_ascii(value);
  Bytes body;
  append(body, plain ? "tEXt" : "iTXt");
  append(body, keyword);
  body.push_back(0);
  // Not compressed, no method, no language, no translated keyword: [PNG2003], 11.3.4.5.
  if (!plain) body.insert(body.end(), 4, 0);
  append(body, value);
  append_big_endian(file, static_cast<std::uint32_t>(body.size() - 4));
  file.insert(file.end(), body.begin(), body.end());
  append_big_endian(file, checksum(body));
}

std::uint32_t big_endian(std::span<const std::uint8_t> bytes) {
  return static_cast<std::uint32_t>(bytes[0]) << 24 | static_cast<std::uint32_t>(bytes[1]) << 16 |
         static_cast<std::uint32_t>(bytes[2]) << 8 | static_cast<std::uint32_t>(bytes[3]);
}

std::string utf8_from_latin1(std::string_view text) {
  std::string utf8;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x80) {
      utf8 += c;
    } else {
      utf8 += static_cast<char>(0xC0 | (byte >> 6));
      utf8 += static_cast<char>(0x80 | (byte & 0x3F));
    }
  }
  return utf8;
}

/// The text after the language and the translated keyword of an iTXt chunk, where it is stored plain.
std::optional<std::string> plain_international_text(std::string_view rest) {
  if (rest.size() < 2 || rest[0] != 0) return std::nullopt;
  const std::size_t language_end = rest.find('\0', 2);
  if (language_end == std::string_view::npos) return std::nullopt;
  const std::size_t translated_end = rest.find('\0', language_end + 1);
  if (translated_end == std::string_view::npos) return std::nullopt;
  return std::string(rest.substr(translated_end + 1));
}

}  // namespace

std::vector<std::uint8_t> encode_png(const Picture& picture,
                                     std::span<const std::pair<std::string, std::string>> text) {
  check_size(picture);
  for (const auto& [keyword, value] : text) check_text(keyword, value);

  int length = 0;
  const std::unique_ptr<unsigned char, decltype(&std::free)> encoded(
      stbi_write_png_to_mem(picture.rgb.data(), 3 * picture.width, picture.width, picture.height, 3, &length),
      &std::free);
  if (!encoded || length < static_cast<int>(header_end)) throw std::bad_alloc();

  const std::span<const std::uint8_t> plain(encoded.get(), static_cast<std::size_t>(length));
  Bytes file(plain.begin(), plain.begin() + header_end);
  for (const auto& [keyword, value] : text) append_text_chunk(file, keyword, value);
  file.insert(file.end(), plain.begin() + header_end, plain.end());
  return file;
}

std::optional<std::string> png_text(std::span<const std::uint8_t> file, std::string_view keyword) {
  if (file.size() < png_signature.size() ||
      !std::equal(png_signature.begin(), png_signature.end(), file.begin()))
    return std::nullopt;
  std::span<const std::uint8_t> rest = file.subspan(png_signature.size());
  while (rest.size() >= 12) {
    const std::size_t length = big_endian(rest);
    if (length > rest.size() - 12) return std::nullopt;
    const std::span<const std::uint8_t> body = rest.subspan(4, 4 + length);
    const std::string_view chunk(reinterpret_cast<const char*>(body.data()), body.size());
    const std::string_view type = chunk.substr(0, 4);
    const std::string_view data = chunk.substr(4);
    if (type == "tEXt" || type == "iTXt") {
      const std::size_t name_end = data.find('\0');
      const bool sound = checksum(body) == big_endian(rest.subspan(8 + length));
      if (!sound || name_end == std::string_view::npos) return std::nullopt;
      if (data.substr(0, name_end) == keyword) {
        const std::string_view value = data.substr(name_end + 1);
        return type == "tEXt" ? utf8_from_latin1(value) : plain_international_text(value);
      }
    }
    rest = rest.subspan(12 + length);
  }
  return std::nullopt;
}

}  // namespace coldbay
