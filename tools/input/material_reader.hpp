#pragma once

#include <optional>

#include "materials/library.hpp"
#include "tools/input/reading.hpp"

namespace coldbay {

/// A material: its name in the library, or a map with its own conductivity.
std::optional<LibraryEntry> read_material(const Node& node, Reading& in);

/// The library entry of this name; an error at `where` with the nearest name where there is none.
const LibraryEntry* find_material(std::string_view name, Place where, Reading& in);

/// A material and a thickness in one line, `gypsum board 1/2 in`, or as a map of both.
struct MaterialPiece {
  Material material;
  std::optional<double> thickness;  ///< written, or else the usual one of the library
};
std::optional<MaterialPiece> read_piece(const Node& node, std::string_view what, Reading& in);

}  // namespace coldbay
