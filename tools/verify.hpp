#pragma once

#include <string>
#include <vector>

#include "tools/input/case.hpp"

namespace coldbay {

/// One published number beside ours.
struct Comparison {
  PublishedValue published;
  double ours = 0.0;
  bool agrees = false;
};

/// The check cases built into the program, cases/published/*.yaml.
std::vector<SourceText> published_cases();

/// Solves one case and compares every published number in it. Throws as reading and solving do.
std::vector<Comparison> compare_with_published(const SourceText& source);

/// The table of number, ours, tolerance, source.
std::string comparison_table(const std::string& name, const std::vector<Comparison>& comparisons);

}  // namespace coldbay
