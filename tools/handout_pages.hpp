#pragma once

#include <functional>
#include <string>

#include "tools/report/handout/handout.hpp"

namespace coldbay {

/// Solves the face of a case's wall, as built and built right, and gathers what each page of a handout tells:
/// a page for each kind of faulty bay, bays that are described alike on one. The case must have a wall.
HandoutWall handout_wall(Case c, Provenance provenance, std::size_t number, const FaceAccuracy& accuracy,
                         const std::function<void(const std::string&)>& progress);

}  // namespace coldbay
