#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace coldbay {

/// The word most like `word`, whatever the case of its letters; empty where none is near: more
/// than two letters and more than a third of them would have to change.
std::string nearest_word(std::string_view word, const std::vector<std::string>& words);

}  // namespace coldbay
