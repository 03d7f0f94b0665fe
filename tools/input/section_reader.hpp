#pragma once

#include "geometry/section.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// The direct form: `section` with its size and shapes, and `probes` beside it. What is wrong with the
/// drawing as a whole is left to geometry/section_checks.hpp.
Section read_section(const Node& node, const Node* probes, Reading& in);

/// The outline of a shape or a void: a rectangle by `first` (across or up) and depth, a polygon or a circle.
std::optional<Outline> read_outline(const Node& node, const Fields& fields, const std::string& first,
                                    Reading& in);

}  // namespace coldbay
