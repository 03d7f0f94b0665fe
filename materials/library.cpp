#include "materials/library.hpp"

#include <algorithm>

namespace coldbay {

bool same_name(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return lower(x) == lower(y); });
}

const LibraryEntry* find(const Library& library, std::string_view name) {
  const auto it = std::find_if(library.begin(), library.end(), [&](const LibraryEntry& e) {
    return same_name(e.material.name, name) ||
           std::any_of(e.also.begin(), e.also.end(),
                       [&](const std::string& word) { return same_name(word, name); });
  });
  return it == library.end() ? nullptr : &*it;
}

}  // namespace coldbay
