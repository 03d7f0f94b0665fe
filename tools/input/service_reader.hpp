#pragma once

#include <optional>

#include "geometry/wall/wall.hpp"
#include "tools/input/bay_reader.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// What stands in a bay: boxes, cabinets, ducts; what runs through it: cables, pipes, conduits. Each key
/// holds one or a list of them.
void read_services(const Node& bay_node, const BaySpace& space, Bay& bay, Reading& in);

/// A window or a door, in the frame around it.
std::optional<Opening> read_opening(const Node& node, Reading& in);

}  // namespace coldbay
