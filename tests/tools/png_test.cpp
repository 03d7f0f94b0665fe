#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_ONLY_PNG
#define STBI_NO_STDIO
#include <stb/stb_image.h>

#include "tools/report/png.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cstring>
#include <random>
#include <stdexcept>

namespace coldbay::png_test {
namespace {

using Texts = std::vector<std::pair<std::string, std::string>>;
using Bytes = std::vector<std::uint8_t>;

Picture noise(int width, int height) {
  std::mt19937 random(20250301);
  Picture picture{width, height,
                  Bytes(3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height))};
  for (std::uint8_t& channel : picture.rgb) channel = static_cast<std::uint8_t>(random() & 0xFFU);
  return picture;
}

const Texts texts{{"Software", "coldbay 1.0"}, {"Title", "Übungswand, −9 °C"}, {"Comment", ""}};

TEST(Png, AnotherDecoderGetsTheSamePixels) {
  for (const auto& [width, height] : {std::pair{1, 1}, {37, 23}, {256, 3}}) {
    const Picture picture = noise(width, height);
    const Bytes file = encode_png(picture, texts);
    int w = 0, h = 0, channels = 0;
    unsigned char* pixels =
        stbi_load_from_memory(file.data(), static_cast<int>(file.size()), &w, &h, &channels, 0);
    ASSERT_NE(pixels, nullptr) << stbi_failure_reason();
    EXPECT_EQ(w, width);
    EXPECT_EQ(h, height);
    EXPECT_EQ(channels, 3);
    EXPECT_EQ(std::memcmp(pixels, picture.rgb.data(), picture.rgb.size()), 0);
    stbi_image_free(pixels);
  }
}

TEST(Png, SamePictureSameBytes) {
  EXPECT_EQ(encode_png(noise(64, 48), texts), encode_png(noise(64, 48), texts));
}

TEST(Png, TextsComeBack) {
  const Bytes file = encode_png(noise(5, 4), texts);
  for (const auto& [keyword, value] : texts) EXPECT_EQ(png_text(file, keyword), value);
  EXPECT_EQ(png_text(file, "Author"), std::nullopt);
  EXPECT_EQ(png_text(file, ""), std::nullopt);
  EXPECT_EQ(png_text(encode_png(noise(5, 4)), "Software"), std::nullopt);
}

TEST(Png, TooLargeIsSaidBeforeMemoryIsTaken) {
  // No pixels are given: had their number been looked at first, or memory been taken, this would end
  // in another exception.
  EXPECT_THROW(encode_png(Picture{30000, 30000, {}}), std::length_error);
  EXPECT_THROW(encode_png(Picture{2147483647, 2147483647, {}}), std::length_error);
}

TEST(Png, RefusesWhatIsNoPicture) {
  EXPECT_THROW(encode_png(Picture{0, 4, {}}), std::invalid_argument);
  EXPECT_THROW(encode_png(Picture{4, -4, {}}), std::invalid_argument);
  EXPECT_THROW(encode_png(Picture{4, 4, Bytes(47)}), std::invalid_argument);
}

TEST(Png, RefusesKeywordsThatAreNone) {
  const Picture picture = noise(2, 2);
  for (const std::string& keyword : {std::string(), std::string(80, 'k'), std::string("né"),
                                     std::string(" k"), std::string("k\n"), std::string("k\0k", 3)})
    EXPECT_THROW(encode_png(picture, Texts{{keyword, "value"}}), std::invalid_argument);
  EXPECT_THROW(encode_png(picture, Texts{{"Title", std::string("a\0b", 3)}}), std::invalid_argument);
}

// In these the vectors are exactly as long as what is read, so that a build with the address
// sanitizer notices a single byte too many.
TEST(PngText, EveryTruncationIsSafe) {
  const Bytes file = encode_png(noise(3, 3), texts);
  for (std::size_t length = 0; length < file.size(); ++length) {
    const Bytes part(file.begin(), file.begin() + static_cast<std::ptrdiff_t>(length));
    const auto title = png_text(part, "Title");
    ASSERT_TRUE(!title || *title == "Übungswand, −9 °C") << length;
  }
}

TEST(PngText, AFlippedBitGivesTheTextOrNothing) {
  const Bytes file = encode_png(noise(3, 3), texts);
  for (std::size_t at = 0; at < file.size(); ++at)
    for (int bit = 0; bit < 8; ++bit) {
      Bytes damaged = file;
      damaged[at] = static_cast<std::uint8_t>(damaged[at] ^ (1U << bit));
      const auto title = png_text(damaged, "Title");
      ASSERT_TRUE(!title || *title == "Übungswand, −9 °C") << "byte " << at << ", bit " << bit;
    }
}

TEST(PngText, LyingLengthsAndNoiseAreSafe) {
  const Bytes file = encode_png(noise(3, 3), texts);
  for (const std::array<std::uint8_t, 4> length : {std::array<std::uint8_t, 4>{0xFF, 0xFF, 0xFF, 0xFF},
                                                   {0x7F, 0xFF, 0xFF, 0xFF},
                                                   {0x00, 0x00, 0x00, 0x00},
                                                   {0xFF, 0xFF, 0xFF, 0xF4}}) {
    Bytes lying = file;
    std::copy(length.begin(), length.end(), lying.begin() + 33);  // of the first text chunk
    EXPECT_EQ(png_text(lying, "Software"), std::nullopt);
  }
  std::mt19937 random(7);
  for (int trial = 0; trial < 2000; ++trial) {
    Bytes bytes(file.begin(), file.begin() + 8);
    bytes.resize(8 + random() % 60);
    for (std::size_t i = 8; i < bytes.size(); ++i) bytes[i] = static_cast<std::uint8_t>(random() & 0x3FU);
    EXPECT_EQ(png_text(bytes, "Title"), std::nullopt);
  }
  EXPECT_EQ(png_text({}, "Title"), std::nullopt);
}

}  // namespace
}  // namespace coldbay::png_test
