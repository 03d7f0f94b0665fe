#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/wall/faults.hpp"

namespace coldbay {

/// How a fault is spoken of in the program's own reports: the English words of the handout
/// (tools/report/handout/words/english.yaml), the one place where they stand.
struct FaultWords {
  std::string_view name;   ///< what is wrong
  std::string_view right;  ///< the right way, as a trainer says it
  /// Why the figure may be small, or on the wrong side of nothing, though the work is bad.
  std::string_view note;
};

const FaultWords& words_of(Fault fault);

/// The notes of the faults of several bays, each once, in the order of the bays.
std::vector<std::string_view> notes_of(const std::vector<std::vector<Fault>>& bays);

/// The names of several: "a gap beside the fill; a box with nothing behind it".
std::string names_of(const std::vector<Fault>& faults);

}  // namespace coldbay
