#pragma once

#include <filesystem>
#include <optional>
#include <vector>

#include "tools/outputs.hpp"
#include "tools/report/handout/handout.hpp"
#include "tools/report/handout/words.hpp"

namespace coldbay {

/// Solves the walls of the cases and writes one page a fault, wrong beside right, as one HTML file; where a
/// name is given for it, as PDF too, printed by a browser that is installed (tools/print_pdf.hpp). Files of
/// those names that coldbay made are replaced, anything else is left alone. Returns whether every face
/// reached the accuracy asked for. Throws InputErrors for a case without a wall, OutputError where nothing
/// can be written.
bool handout(const std::vector<SourceText>& sources, const MaterialsFile& materials, const Words& words,
             const HandoutStyle& style, const std::filesystem::path& out,
             const std::optional<std::filesystem::path>& pdf);

}  // namespace coldbay
