#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "materials/batt.hpp"
#include "materials/material.hpp"

namespace coldbay {

/// A material of the library, with the words it is found by.
struct LibraryEntry {
  Material material;
  std::vector<std::string> also;    ///< other words for it
  std::optional<double> thickness;  ///< the usual one, taken where a layer names none [m]
  std::optional<Batt> batt;         ///< the label, where it is a batt: it conducts by its thickness then
};

using Library = std::vector<LibraryEntry>;

/// The entry of this name or other word, whatever the case of its letters; null where there is none.
const LibraryEntry* find(const Library& library, std::string_view name);

/// True where two names differ at most in the case of their ASCII letters.
bool same_name(std::string_view a, std::string_view b);

}  // namespace coldbay
