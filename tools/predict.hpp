#pragma once

#include <filesystem>
#include <optional>

#include "tools/input/input_error.hpp"
#include "tools/outputs.hpp"
#include "tools/report/palette.hpp"

namespace coldbay {

/// The main job: reads a case, solves its sections, prints what a person reads first, and, where a folder is
/// given, writes result.json and the pictures into it, and with `vtk` each section's grid and temperatures.
/// Throws as its steps do. False where a section did not reach the accuracy asked for: what was reached is
/// written and said all the same.
bool predict(const SourceText& source, const MaterialsFile& materials,
             const std::optional<std::filesystem::path>& out, Palette palette, bool vtk);

}  // namespace coldbay
