#pragma once

#include <string>
#include <utility>
#include <vector>

#include "tools/report/colour_scale.hpp"
#include "tools/report/thermal_map.hpp"

namespace coldbay {

using PictureTexts = std::vector<std::pair<std::string, std::string>>;

/// Part of a face in pixels as near to `pixel` [m] as fit into it whole.
ThermalMap part_of(const FaceMap& face, Span across, Span up, double pixel);

/// A map on a scale, as a PNG that stands in the page itself: "data:image/png;base64,...". A difference has
/// signs on it, so that it can be told without its colours.
std::string picture_url(const ThermalMap& map, const ColourScale& scale, const PictureTexts& texts);

/// The scale as a bar with its ticks below, 45 by 8 mm, as SVG; `name` says what it is of. The words beside
/// its ends are the caller's.
std::string scale_bar(const ColourScale& scale, const std::string& name);

/// Bytes in base64 ([RFC4648], 4), as a data URL has them.
std::string base64(const void* bytes, std::size_t size);

}  // namespace coldbay
