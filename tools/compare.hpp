#pragma once

#include <filesystem>
#include <optional>
#include <vector>

#include "tools/input/input_error.hpp"
#include "tools/outputs.hpp"
#include "tools/report/palette.hpp"

namespace coldbay {

/// Solves cases as `predict` does and holds them side by side: prints the table, and into a folder, where one
/// is named, writes compare.json and compare.png. True where every accuracy was reached.
///
/// Throws InputErrors where there are fewer than two cases, or one of them has no section or is itself wrong
/// (read each before, to say which); ModelError, SolverError and OutputError as `predict` does.
bool compare(const std::vector<SourceText>& sources, const MaterialsFile& materials,
             const std::optional<std::filesystem::path>& out, Palette palette);

}  // namespace coldbay
