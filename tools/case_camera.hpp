#pragma once

#include <string>

#include "solver/results/camera.hpp"
#include "solver/results/face_map.hpp"
#include "solver/results/visibility.hpp"
#include "tools/input/case.hpp"

namespace coldbay {

/// The case's camera; where it has none, a usual one, as far off as it takes to see the whole wall.
Camera camera_of(const Case& c, const FaceMap& face);

/// What that camera can tell apart on the face.
Sight sight_of(const Case& c, const FaceMap& face);

/// "2.5 m away, a pixel 6.5 mm, noise 0.05 K, emissivity 0.90".
std::string camera_words(const Camera& camera, UnitSystem units);

}  // namespace coldbay
