#pragma once

#include <filesystem>
#include <optional>

#include "materials/library.hpp"
#include "tools/input/input_error.hpp"
#include "tools/report/palette.hpp"

namespace coldbay {

/// The library that a case is read with: the built-in one, or with a file of the reader's own over it.
struct MaterialsFile {
  Library library;
  std::optional<SourceText> own;
};

/// The main job: reads a case, solves its sections, prints what a person reads first, and, where a folder is
/// given, writes result.json and the pictures into it. Throws as its steps do. False where a section did not
/// reach the accuracy asked for: what was reached is written and said all the same.
bool predict(const SourceText& source, const MaterialsFile& materials,
             const std::optional<std::filesystem::path>& out, Palette palette);

}  // namespace coldbay
