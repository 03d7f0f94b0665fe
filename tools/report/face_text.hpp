#pragma once

#include <optional>
#include <string>

#include "tools/outcome.hpp"
#include "tools/wall_faces.hpp"

namespace coldbay {

/// The face of a wall as a person reads it: heat and U as built and built right, what is normal, the coldest
/// place, what of it is damp, what each faulty bay costs, with the figure of the sections beside it where
/// they have one (`sections`), and how sure all of it is.
std::string face_text(const Case& c, const WallFaces& faces, const std::optional<WholeWall>& sections);

}  // namespace coldbay
