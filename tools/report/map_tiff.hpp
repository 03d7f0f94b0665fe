#pragma once

#include <cstdint>
#include <vector>

namespace coldbay {

/// True for what map_as_tiff writes (map_files.hpp). Any bytes are safe.
bool is_our_tiff(const std::vector<std::uint8_t>& bytes);

}  // namespace coldbay
