#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tools/outputs.hpp"
#include "tools/report/handout/handout.hpp"
#include "tools/report/handout/words.hpp"

namespace coldbay {

/// Reads the cases, all of them before one is solved, and writes a page a fault, wrong beside right, as one
/// HTML file; where a name is given for it, as PDF too, printed by a browser that is installed
/// (tools/print_pdf.hpp). Files of those names that coldbay made are replaced, anything else is left alone.
/// Tells what is wrong with a case and returns the exit code; not_reached where a face did not reach the
/// accuracy asked for. Throws OutputError where nothing can be written.
int handout(const std::vector<std::string>& files, const MaterialsFile& materials, const Words& words,
            const HandoutStyle& style, const std::filesystem::path& out,
            const std::optional<std::filesystem::path>& pdf);

}  // namespace coldbay
