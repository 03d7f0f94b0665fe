#pragma once

#include <yaml-cpp/mark.h>

#include <cstddef>
#include <string_view>
#include <vector>

#include "tools/input/input_error.hpp"

namespace coldbay {

/// Turns the parser's places (from 0, columns in bytes) into ours, for one text, which must outlive it.
class Places {
 public:
  /// `text` without a byte order mark, which the parser does not count.
  explicit Places(std::string_view text);

  /// The place of a value that begins at the mark; its first line is underlined.
  Place at(const YAML::Mark& mark, std::string_view value = {}) const;

  /// How many brackets are opened from this place on, one straight after another.
  int brackets_at(const YAML::Mark& mark) const;

  /// True where a tab stands before the text of this line.
  bool tab_indents(const YAML::Mark& mark) const;

 private:
  std::size_t index_of(const YAML::Mark& mark) const;
  std::string_view line_of(const YAML::Mark& mark) const;
  int characters_before(std::size_t byte) const;

  static constexpr std::size_t stride = 256;
  std::string_view text_;
  std::vector<std::size_t> starts_;  ///< of the lines
  std::vector<int> characters_;      ///< before every stride-th byte
};

}  // namespace coldbay
