#include "tools/input/separated.hpp"

namespace coldbay {
namespace {

bool blank(char c, char separator) { return c != separator && (c == ' ' || c == '\t'); }

}  // namespace

std::optional<SplitFault> split_fields(std::string_view line, char separator, std::vector<Field>& fields) {
  fields.clear();
  std::size_t i = 0;
  const auto skip = [&] {
    while (i < line.size() && blank(line[i], separator)) ++i;
  };
  while (true) {
    skip();
    Field field;
    if (i < line.size() && line[i] == '"') {
      const std::size_t open = i++;
      field.quoted = true;
      field.at = i;
      while (i < line.size() && (line[i] != '"' || line.substr(i, 2) == "\"\"")) i += line[i] == '"' ? 2 : 1;
      if (i >= line.size()) return SplitFault{"this quote is not closed on its line", open};
      field.text = line.substr(field.at, i++ - field.at);
      skip();
      if (i < line.size() && line[i] != separator)
        return SplitFault{"text stands between a closed quote and the end of its field", i};
    } else {
      field.at = i;
      while (i < line.size() && line[i] != separator) ++i;
      std::size_t end = i;
      while (end > field.at && blank(line[end - 1], separator)) --end;
      field.text = line.substr(field.at, end - field.at);
    }
    fields.push_back(field);
    if (i == line.size()) return std::nullopt;
    ++i;  // the separator
  }
}

bool stands_outside_quotes(std::string_view line, char character) {
  bool inside = false;
  for (const char c : line) {
    if (c == '"') inside = !inside;
    if (c == character && !inside) return true;
  }
  return false;
}

}  // namespace coldbay
