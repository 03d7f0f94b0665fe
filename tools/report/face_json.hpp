#pragma once

#include <optional>
#include <string>

#include "tools/report/result_json.hpp"
#include "tools/wall_faces.hpp"

namespace coldbay {

/// face.json: the face of a wall in numbers, SI; what has no value is null.
std::string face_json(const Case& c, const WallFaces& faces, const std::optional<WholeWall>& sections,
                      const Provenance& provenance);

}  // namespace coldbay
