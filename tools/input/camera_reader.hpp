#pragma once

#include "tools/input/case.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// Reads a case's camera. What it does not say is as Camera has it. Written values outside what makes sense
/// are errors: an emissivity not above 0 or beyond 1, more than ten million pixels, a field of view of 120
/// degrees or more, noise above 10 K, blur above 50 pixels.
Camera read_camera(const Node& node, Reading& in);

/// Reads what a case wants its pictures to show. Spots and ends of lines must lie on the face of the wall
/// (`c.wall`, empty where it could not be read); a section drawn by shapes has no face for them to lie on.
PictureWishes read_picture(const Node& node, const Case& c, Reading& in);

}  // namespace coldbay
