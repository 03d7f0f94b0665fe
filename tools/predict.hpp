#pragma once

#include <filesystem>
#include <optional>

#include "tools/input/input_error.hpp"
#include "tools/report/palette.hpp"

namespace coldbay {

/// The main job: reads a case, solves its sections, prints what a person reads first, and, where a folder is
/// given, writes result.json and the pictures into it. Throws as its steps do.
void predict(const SourceText& source, const std::optional<std::filesystem::path>& out, Palette palette);

}  // namespace coldbay
