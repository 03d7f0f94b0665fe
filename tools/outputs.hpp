#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "materials/library.hpp"
#include "tools/input/case.hpp"
#include "tools/input/input_error.hpp"
#include "tools/report/map_files.hpp"
#include "tools/report/result_json.hpp"
#include "tools/report/section_picture.hpp"

namespace coldbay {

/// The library that a case is read with: the built-in one, or with a file of the reader's own over it.
struct MaterialsFile {
  Library library;
  std::optional<SourceText> own;
};

/// Where the numbers of a case come from.
Provenance provenance_of(const SourceText& source, const MaterialsFile& materials);

/// The texts that every picture carries.
std::vector<std::pair<std::string, std::string>> picture_texts(const Case& c, const Provenance& provenance);

/// The same for maps and grids; `shown` says what they hold.
MapOrigin map_origin(const Case& c, const Provenance& provenance, std::string shown);

/// Units and title of the case, the palette asked for.
PictureStyle style_of(const Case& c, Palette palette);

/// The reader's level and span; what he leaves open stays, or reaches as far as `scale` does. Stamped so.
TemperatureScale as_asked(const PictureWishes& wish, TemperatureScale scale);

/// Files that coldbay wrote say so: only these are ever replaced.
bool is_ours(const std::vector<std::uint8_t>& bytes);

/// Progress, for a person who waits at a terminal; nothing where nobody does. An empty text wipes it away.
void show_progress(const std::string& text);

}  // namespace coldbay
