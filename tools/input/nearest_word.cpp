#include "tools/input/nearest_word.hpp"

#include <algorithm>
#include <cctype>

namespace coldbay {
namespace {

/// Letters to insert, delete, change or swap with their neighbour to turn a into b ([Damerau1964],
/// optimal string alignment).
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  const auto same = [&](std::size_t i, std::size_t j) {
    return std::tolower(static_cast<unsigned char>(a[i])) == std::tolower(static_cast<unsigned char>(b[j]));
  };
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i)
    for (std::size_t j = 1; j <= b.size(); ++j) {
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (same(i - 1, j - 1) ? 0 : 1)});
      if (i > 1 && j > 1 && same(i - 1, j - 2) && same(i - 2, j - 1))
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  return d[a.size()][b.size()];
}

}  // namespace

std::string nearest_word(std::string_view word, const std::vector<std::string>& words) {
  constexpr std::size_t longest = 60;  // a word is short; what is longer is not worth comparing
  if (word.size() > longest) return {};
  std::string best;
  std::size_t least = std::max<std::size_t>(2, word.size() / 3) + 1;
  for (const std::string& candidate : words) {
    if (candidate.size() > longest) continue;
    const std::size_t changes = distance(word, candidate);
    if (changes < least && changes < candidate.size()) {
      least = changes;
      best = candidate;
    }
  }
  return best;
}

}  // namespace coldbay
