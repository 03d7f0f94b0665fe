#pragma once

#include <cstdint>
#include <vector>

namespace coldbay {

/// An image as pixels: 8-bit sRGB, rows from the top, rgb[3 * (x + width * y) + channel].
struct Picture {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgb;
};

}  // namespace coldbay
