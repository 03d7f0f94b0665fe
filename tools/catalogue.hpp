#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "materials/library.hpp"
#include "tools/input/input_error.hpp"

namespace coldbay {

/// One fault, as its case shows it: wrong beside right.
struct CatalogueEntry {
  std::string name;                 ///< of its file: "inset-staples"
  std::string title;                ///< of the case
  std::string wrong, right;         ///< the lines of YAML of the two bays; right may be empty
  std::string costs;                ///< a sentence
  std::string share, of;            ///< "+15 %" of the heat of "its bay", or of a low wall in a vertical cut
  std::string surface;              ///< "3.5 °F colder"
  std::vector<std::string> advice;  ///< the right ways, then the notes
  std::vector<std::uint8_t> picture;  ///< PNG: the section, drawn
};

/// Solves a case and tells what its first faulty bay costs.
///
/// Throws InputErrors where the case is wrong, and where it shows no fault.
CatalogueEntry catalogue_entry(const SourceText& source, const Library& library);

/// The page of all entries, in Markdown; pictures are looked for in pictures/, cases where `cases` says for
/// each.
std::string catalogue_page(const std::vector<CatalogueEntry>& entries, const std::vector<std::string>& cases);

/// Writes README.md, and the pictures into pictures/, in a folder. Throws OutputError.
void write_catalogue(const std::vector<SourceText>& sources, const Library& library,
                     const std::filesystem::path& folder);

}  // namespace coldbay
