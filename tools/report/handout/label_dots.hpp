#pragma once

#include <vector>

#include "tools/report/handout/label_places.hpp"

namespace coldbay {

/// For each wish one of its places: well clear of lines, and as far as can be from the dots of the others
/// along the axis that the labels stand along (`down`: y, else x). Dots closer than `apart` are a last
/// resort.
std::vector<DotPlace> chosen_dots(const std::vector<LabelWish>& wishes, bool down, double apart,
                                  PaperBox across);

}  // namespace coldbay
