#pragma once

#include <string>

#include "geometry/section.hpp"
#include "tools/report/section_picture.hpp"

namespace coldbay {

/// A place along a section, from its length in words: "412 mm across"; in a vertical cut "412 mm above the
/// floor".
std::string place_text(const Section& section, const std::string& length);

/// What the two ends of a section are called, and the way between them; all empty but for a vertical cut,
/// which is drawn lying down.
struct EndWords {
  std::string left, along, right;
  bool any() const { return !left.empty(); }
};
EndWords end_words(const Section& section);

/// Which part of the wall a cut stands for: "14 to 18 in and 40 to 44 in above the floor"; empty where that
/// is not known. At most three stretches are named.
std::string stretches_text(const Section& section, LengthUnit unit);

/// The same as a sentence, with the share of the wall and what follows for the numbers; empty where it is not
/// known.
std::string stands_for_text(const Section& section, LengthUnit unit);

}  // namespace coldbay
