#pragma once

#include <string>

namespace coldbay {

/// What a piece of wall is made of, as far as steady heat flow cares.
struct Material {
  std::string name;           ///< as the reader knows it: "gypsum board", "batt R-13"
  double conductivity = 0.0;  ///< [W/(m K)]; not used where is_air_space
  double emissivity = 0.9;    ///< hemispherical, of its surface [-]
  /// A still air space: its conductivity follows from the size of the connected region it fills
  /// (materials/air_space.hpp), so the rasteriser sets it per region.
  bool is_air_space = false;
  std::string source;  ///< standard, handbook or table; "common practice, no source"; "from memory"
};

}  // namespace coldbay
