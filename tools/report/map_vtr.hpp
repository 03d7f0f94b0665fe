#pragma once

#include <cstdint>
#include <vector>

namespace coldbay {

/// True for what section_as_vtr writes (map_files.hpp).
bool is_our_vtr(const std::vector<std::uint8_t>& bytes);

}  // namespace coldbay
