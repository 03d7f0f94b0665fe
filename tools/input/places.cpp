#include "tools/input/places.hpp"

#include <algorithm>

namespace coldbay {
namespace {

std::size_t column_in(std::string_view line, const YAML::Mark& mark) {
  return std::min(static_cast<std::size_t>(std::max(0, mark.column)), line.size());
}

}  // namespace

Places::Places(std::string_view text) : text_(text) {
  starts_.push_back(0);
  for (std::size_t i = 0; i < text.size(); ++i)
    if (text[i] == '\n') starts_.push_back(i + 1);
  characters_.push_back(0);
  for (std::size_t i = stride; i <= text.size(); i += stride)
    characters_.push_back(characters_.back() + count_characters(text.substr(i - stride, stride)));
}

Place Places::at(const YAML::Mark& mark, std::string_view value) const {
  if (mark.is_null()) return {};
  const std::size_t index = index_of(mark), start = starts_[index];
  const std::size_t byte = start + column_in(line_of(mark), mark);
  return {static_cast<int>(index) + 1, characters_before(byte) - characters_before(start) + 1,
          std::max(1, count_characters(value.substr(0, value.find('\n'))))};
}

int Places::brackets_at(const YAML::Mark& mark) const {
  const std::string_view line = line_of(mark);
  int n = 0;
  for (std::size_t i = column_in(line, mark); i < line.size() && (line[i] == '[' || line[i] == '{'); ++i) ++n;
  return n;
}

bool Places::tab_indents(const YAML::Mark& mark) const {
  if (mark.is_null()) return false;
  const std::string_view line = line_of(mark);
  const std::size_t text = std::min(line.find_first_not_of(" \t"), line.size());
  return line.substr(0, text).find('\t') != std::string_view::npos;
}

std::size_t Places::index_of(const YAML::Mark& mark) const {
  return std::min(static_cast<std::size_t>(std::max(0, mark.line)), starts_.size() - 1);
}

std::string_view Places::line_of(const YAML::Mark& mark) const {
  const std::size_t i = index_of(mark), end = i + 1 < starts_.size() ? starts_[i + 1] : text_.size();
  return text_.substr(starts_[i], end - starts_[i]);
}

/// Counts from the nearest count taken beforehand: a file may be one line with thousands of values.
int Places::characters_before(std::size_t byte) const {
  const std::size_t known = byte / stride;
  return characters_[known] + count_characters(text_.substr(known * stride, byte - known * stride));
}

}  // namespace coldbay
