#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "tools/input/case.hpp"
#include "tools/input/case_document.hpp"
#include "tools/outputs.hpp"
#include "tools/study/study.hpp"
#include "tools/study/table.hpp"
#include "tools/study/variants.hpp"

namespace coldbay {

/// A study with all that it names, ready to be solved.
struct OpenStudy {
  Study study;
  Node base;  ///< the document of the base case
  Library library;
  std::vector<std::string> sections;      ///< the names of what is solved
  UnitSystem units = UnitSystem::metric;  ///< in which answers are given: the base case's
  std::vector<StudyColumn> varied, kept;
  std::uint64_t n = 0;  ///< variants
  std::string inputs;   ///< SHA-256 of everything that the results come from, this program's version included
};

/// Reads a study, its base case and its tables. What is wrong is said on stderr, all at once, with its place
/// in the file where it stands; then nothing is returned. What looks wrong and may yet be right in other
/// variants is said as a warning.
std::optional<OpenStudy> open_study(const std::filesystem::path& file, const MaterialsFile& materials);

/// The case of a variant. Throws InputErrors; places of the study file are marked
/// (tools/input/case_path.hpp).
Case case_of(const OpenStudy& study, const Variant& variant, const CaseParts& wanted = {});

}  // namespace coldbay
